//! The points of each hall where something is, from its start to its end.

use super::graph::{Point, Stretch};
use crate::site::{HallId, Site, Spot};
use crate::units::Metres;
use petgraph::graph::{DiGraph, NodeIndex};

/// The nodes of each hall, from its start to its end.
pub(super) struct Halls {
    nodes: Vec<Vec<NodeIndex>>,
}

impl Halls {
    /// Adds a point for every place, landing and door of every hall.
    pub(super) fn build(site: &Site, points: &mut DiGraph<Point, Stretch>) -> Halls {
        let mut marks: Vec<Vec<(f64, bool)>> = vec![Vec::new(); site.halls.len()];
        let landings = site.ways.iter().flat_map(|way| &way.landings);
        for spot in site.places.iter().map(|place| &place.spot).chain(landings) {
            marks[spot.hall.index()].push((spot.along.0, false));
        }
        for (marks, hall) in marks.iter_mut().zip(&site.halls) {
            let both = |along: &Metres| [(along.0, false), (along.0, true)];
            marks.extend(hall.doors.iter().flat_map(|(along, _)| both(along)));
            marks.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
            marks.dedup();
        }
        let nodes = marks.into_iter().enumerate().map(|(hall, marks)| {
            let hall = HallId::from(hall);
            let point = |(along, behind)| Point {
                hall,
                along: Metres(along),
                behind,
            };
            marks
                .into_iter()
                .map(|mark| points.add_node(point(mark)))
                .collect()
        });
        Halls {
            nodes: nodes.collect(),
        }
    }

    /// Of one hall, from its start to its end.
    pub(super) fn nodes(&self, hall: HallId) -> &[NodeIndex] {
        &self.nodes[hall.index()]
    }

    /// The node of a spot, which was among those the halls were built from.
    pub(super) fn node(
        &self,
        site: &Site,
        points: &DiGraph<Point, Stretch>,
        spot: Spot,
    ) -> NodeIndex {
        let nodes = self.nodes(spot.hall);
        let nearer = |node: &NodeIndex| points[*node].along < spot.along;
        let first = nodes.partition_point(nearer);
        let at_end = spot.along >= site.halls[spot.hall.index()].length;
        let is_behind = |node: NodeIndex| points[node].behind && points[node].along == spot.along;
        let behind = nodes
            .get(first + 1)
            .copied()
            .filter(|node| at_end && is_behind(*node));
        behind.unwrap_or(nodes[first])
    }
}
