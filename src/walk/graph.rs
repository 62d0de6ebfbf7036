//! The walking graph of one walker.
//!
//! Nodes are the points of halls where something is: a place's door, a landing, either side of a door across the hall. Edges
//! are the stretches of hall between neighbours, the doors across halls, and every use of a way.
//!
//! ```text
//!        place a          place b      landing of stairs
//!           |                |            |
//!   hall ---o----------o|o---o------------o--- ...      o|o  a door across the hall: one point before, one behind
//! ```
//!
//! A place is no node but a [`Gate`]: the point before its door and the cost of passing it. So nobody ever walks *through* a
//! room. Costs are whole milliseconds; along a hall they are differences of rounded positions, so that roundings do
//! not add up. What this walker cannot use has no edge. Something exactly at a door across a hall lies on the side of the
//! hall's start; at the very end of the hall it lies behind the door.

use super::halls::Halls;
use super::means::{Means, walking};
use super::{Walker, ways};
use crate::site::{Calendar, HallId, Place, PlaceId, Site};
use crate::units::{Metres, Seconds};
use petgraph::graph::{DiGraph, NodeIndex};
use petgraph::visit::EdgeRef;

/// A node: a point of a hall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Point {
    /// The hall.
    pub(super) hall: HallId,
    /// Distance from its start.
    pub(super) along: Metres,
    /// Whether it is behind a door across the hall at this very distance.
    pub(super) behind: bool,
}

/// An edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Stretch {
    /// What it costs.
    pub(super) millis: u64,
    /// The way used, with the landings entered and left; `None` is along a hall.
    pub(super) way: Option<[usize; 3]>,
}

/// Where a place joins the graph.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Gate {
    /// The point before its door.
    pub(super) point: NodeIndex,
    /// Milliseconds to pass the door one way; `None` if this walker cannot.
    pub(super) door: Option<u64>,
}

/// What one walker can use of a site.
pub(super) struct WalkGraph {
    /// The points of halls and what joins them.
    pub(super) points: DiGraph<Point, Stretch>,
    gates: Vec<Gate>,
    takes_time: bool,
}

impl WalkGraph {
    /// Of this walker on the calendar's date.
    pub(super) fn of(site: &Site, walker: &Walker, calendar: &Calendar) -> WalkGraph {
        let mut graph = WalkGraph {
            points: DiGraph::new(),
            gates: Vec::with_capacity(site.places.len()),
            takes_time: site.policy.speeds.walking,
        };
        let means = Means::of(site, walker, calendar);
        let halls = Halls::build(site, &mut graph.points);
        for hall in 0..site.halls.len() {
            graph.join_along(site, &means, halls.nodes(HallId::from(hall)));
        }
        for way in 0..site.ways.len() {
            graph.join_by_way(site, &means, &halls, way);
        }
        let gate = |place: &Place| Gate {
            point: halls.node(site, &graph.points, place.spot),
            door: means.pass(place.door.as_ref()),
        };
        graph.gates = site.places.iter().map(gate).collect();
        graph
    }

    /// Where each place joins, by place.
    pub(super) fn gates(&self) -> &[Gate] {
        &self.gates
    }

    /// Where a place joins.
    pub(super) fn gate(&self, place: PlaceId) -> Gate {
        self.gates[place.index()]
    }

    /// Whether the other graph, of the same site, has the same edges and doors.
    pub(super) fn is_like(&self, other: &WalkGraph) -> bool {
        let edges = |graph: &WalkGraph| -> Vec<_> {
            let edges = graph.points.edge_references();
            edges
                .map(|edge| (edge.source(), edge.target(), *edge.weight()))
                .collect()
        };
        self.gates == other.gates && edges(self) == edges(other)
    }

    /// A whole walk's time, rounded up once; nothing where the site takes walking as free.
    pub(super) fn rounded_up(&self, millis: u64) -> Seconds {
        if self.takes_time {
            Seconds(millis.div_ceil(1000) as i64)
        } else {
            Seconds::ZERO
        }
    }

    /// Joins the points of a hall, in order, with their neighbours.
    fn join_along(&mut self, site: &Site, means: &Means, nodes: &[NodeIndex]) {
        for (near, far) in nodes.iter().zip(nodes.iter().skip(1)) {
            let [before, after] = [near, far].map(|node| self.points[*node]);
            let cost = if after.behind {
                through_doors(site, means, after)
            } else {
                along_hall(means, before, after)
            };
            if let Some(millis) = cost {
                let stretch = Stretch { millis, way: None };
                self.points.add_edge(*near, *far, stretch);
                self.points.add_edge(*far, *near, stretch);
            }
        }
    }

    /// Joins every landing of a way with every other it leads to.
    fn join_by_way(&mut self, site: &Site, means: &Means, halls: &Halls, index: usize) {
        let way = &site.ways[index];
        let Some(door) = means.pass(way.door.as_ref()) else {
            return;
        };
        let landings: Vec<_> = way
            .landings
            .iter()
            .map(|spot| halls.node(site, &self.points, *spot))
            .collect();
        for (from, entered) in landings.iter().enumerate() {
            for (to, left) in landings.iter().enumerate().filter(|(to, _)| *to != from) {
                if let Some(ride) = ways::ride(site, means, way, from, to) {
                    let stretch = Stretch {
                        millis: ride + door,
                        way: Some([index, from, to]),
                    };
                    self.points.add_edge(*entered, *left, stretch);
                }
            }
        }
    }
}

/// Past the doors across a hall at the distance of `point`.
fn through_doors(site: &Site, means: &Means, point: Point) -> Option<u64> {
    let doors = site.halls[point.hall.index()].doors.iter();
    let here = doors.filter(|(along, _)| *along == point.along);
    here.map(|(_, door)| means.pass(Some(door))).sum()
}

fn along_hall(means: &Means, before: Point, after: Point) -> Option<u64> {
    let position = |point: Point| walking(point.along, means.level());
    position(after)?.checked_sub(position(before)?)
}
