//! One walk spelled out as legs.

use super::Walker;
use super::graph::{Point, WalkGraph};
use super::shortest::Reach;
use super::times::whole_walk;
use super::ways::level_length;
use crate::site::{Calendar, HallId, PlaceId, Site, WayKind};
use crate::units::{Metres, Seconds};
use petgraph::graph::EdgeIndex;

/// One leg of a walk.
#[derive(Clone, Debug, PartialEq)]
pub enum Leg {
    /// Along a hall, from one distance to another.
    Hall {
        /// Which hall.
        hall: HallId,
        /// From this distance along it.
        from: Metres,
        /// To this one.
        to: Metres,
    },
    /// By stairs, lift, ramp, link or outdoors, between two of its landings.
    Way {
        /// Index of the way in the site's list.
        way: usize,
        /// Index of the landing entered.
        from: usize,
        /// Index of the landing left.
        to: usize,
    },
}

/// A walk from one place to another.
#[derive(Clone, Debug, PartialEq)]
pub struct Path {
    /// Where it starts.
    pub from: PlaceId,
    /// Where it ends.
    pub to: PlaceId,
    /// Its legs in order; legs of no length are left out.
    pub legs: Vec<Leg>,
    /// Its time, rounded up once.
    pub time: Seconds,
    /// How far on the level, stairs and lifts not counted.
    pub distance: Metres,
}

/// The walks of one walker, for spelling out many of them.
pub struct Paths<'a> {
    site: &'a Site,
    graph: WalkGraph,
}

impl<'a> Paths<'a> {
    /// Of this walker on the calendar's date.
    pub fn of(site: &'a Site, walker: &Walker, calendar: &Calendar) -> Paths<'a> {
        Paths {
            site,
            graph: WalkGraph::of(site, walker, calendar),
        }
    }

    /// The shortest walk; `None` if this walker cannot get there.
    pub fn between(&self, from: PlaceId, to: PlaceId) -> Option<Path> {
        if from == to {
            return Some(Path {
                from,
                to,
                legs: vec![],
                time: Seconds::ZERO,
                distance: Metres(0.0),
            });
        }
        let [start, end] = [from, to].map(|place| self.graph.gate(place));
        let reach = Reach::from(&self.graph, start.point);
        let time = self.graph.rounded_up(whole_walk(&reach, start, end)?);
        let legs = self.legs(&reach.edges_to(&self.graph, end.point));
        let distance = Metres(legs.iter().map(|leg| self.level(leg).0).sum());
        Some(Path {
            from,
            to,
            legs,
            time,
            distance,
        })
    }

    /// Edges joined to legs: one for each hall walked along and each way used.
    fn legs(&self, edges: &[EdgeIndex]) -> Vec<Leg> {
        let mut legs: Vec<Leg> = Vec::new();
        for edge in edges {
            let next = self.leg(*edge);
            match (legs.last_mut(), &next) {
                (
                    Some(Leg::Hall { hall, to, .. }),
                    Leg::Hall {
                        hall: same, to: on, ..
                    },
                ) if hall == same => {
                    *to = *on;
                }
                (
                    Some(Leg::Way { way, to, .. }),
                    Leg::Way {
                        way: same, to: on, ..
                    },
                ) if way == same => {
                    *to = *on;
                }
                _ => legs.push(next),
            }
        }
        legs.retain(|leg| self.leads_on(leg));
        legs
    }

    fn leg(&self, edge: EdgeIndex) -> Leg {
        if let Some([way, from, to]) = self.graph.points[edge].way {
            return Leg::Way { way, from, to };
        }
        let point = |end: usize| -> Option<Point> {
            let ends = self.graph.points.edge_endpoints(edge)?;
            Some(self.graph.points[[ends.0, ends.1][end]])
        };
        let (from, to) = (point(0), point(1));
        let along = |point: Option<Point>| point.map_or(Metres(0.0), |point| point.along);
        let hall = from.map_or(HallId(0), |point| point.hall);
        Leg::Hall {
            hall,
            from: along(from),
            to: along(to),
        }
    }

    fn leads_on(&self, leg: &Leg) -> bool {
        match leg {
            Leg::Hall { from, to, .. } => from != to,
            Leg::Way { way, .. } => {
                let lifts = matches!(
                    self.site.ways[*way].kind,
                    WayKind::Stairs { .. } | WayKind::Lift { .. }
                );
                lifts || self.level(leg).0 > 0.0
            }
        }
    }

    fn level(&self, leg: &Leg) -> Metres {
        match leg {
            Leg::Hall { from, to, .. } => Metres((to.0 - from.0).abs()),
            Leg::Way { way, from, to } => level_length(&self.site.ways[*way], *from, *to),
        }
    }
}

/// The shortest walk; `None` if this walker cannot get there. For many walks of one walker, see [`Paths`].
pub fn path(
    site: &Site,
    walker: &Walker,
    calendar: &Calendar,
    from: PlaceId,
    to: PlaceId,
) -> Option<Path> {
    Paths::of(site, walker, calendar).between(from, to)
}
