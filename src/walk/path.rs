//! One walk spelled out as legs.

use super::Walker;
use super::graph::WalkGraph;
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

impl Leg {
    fn is_same_way(&self, other: &Leg) -> bool {
        match (self, other) {
            (Leg::Hall { hall, .. }, Leg::Hall { hall: other, .. }) => hall == other,
            (Leg::Way { way, .. }, Leg::Way { way: other, .. }) => way == other,
            _ => false,
        }
    }

    /// Ends where `next`, along the same hall or by the same way, ends.
    fn go_on(&mut self, next: Leg) {
        match (self, next) {
            (Leg::Hall { to, .. }, Leg::Hall { to: end, .. }) => *to = end,
            (Leg::Way { to, .. }, Leg::Way { to: end, .. }) => *to = end,
            _ => {}
        }
    }
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
            let (time, distance) = (Seconds::ZERO, Metres(0.0));
            return Some(Path {
                from,
                to,
                legs: vec![],
                time,
                distance,
            });
        }
        let [start, end] = [from, to].map(|place| self.graph.gate(place));
        let reach = Reach::towards(&self.graph, start.point, end.point);
        let time = self
            .graph
            .rounded_up(whole_walk(&reach.millis, start, end)?);
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
        for next in edges.iter().filter_map(|edge| self.leg(*edge)) {
            match legs.last_mut() {
                Some(last) if last.is_same_way(&next) => last.go_on(next),
                _ => legs.push(next),
            }
        }
        legs.retain(|leg| self.leads_on(leg));
        legs
    }

    fn leg(&self, edge: EdgeIndex) -> Option<Leg> {
        if let Some([way, from, to]) = self.graph.points[edge].way {
            return Some(Leg::Way { way, from, to });
        }
        let (from, to) = self.graph.points.edge_endpoints(edge)?;
        let [from, to] = [from, to].map(|node| self.graph.points[node]);
        Some(Leg::Hall {
            hall: from.hall,
            from: from.along,
            to: to.along,
        })
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
