//! Shortest walks from one point (Dijkstra, *A note on two problems in connexion with graphs*, 1959,
//! doi:10.1007/BF01386390).
//!
//! petgraph's own function keeps its distances in a hash map; here they are wanted for every node at once, many
//! thousand times over, and with the edges that lead there.

use super::graph::WalkGraph;
use petgraph::graph::{EdgeIndex, NodeIndex};
use petgraph::visit::EdgeRef;
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// No way there.
pub(super) const FAR: u64 = u64::MAX;

/// Shortest walks from one point to others.
pub(super) struct Reach {
    /// Milliseconds to each point, [`FAR`] where no way was found.
    pub(super) millis: Vec<u64>,
    last: Vec<Option<EdgeIndex>>,
}

impl Reach {
    /// From this point to all others. Among equal walks the one found first is kept, which depends on nothing but the site.
    pub(super) fn from(graph: &WalkGraph, start: NodeIndex) -> Reach {
        Reach::until(graph, start, None)
    }

    /// From this point to that one, and to no more than what is nearer: the same walk as among all.
    pub(super) fn towards(graph: &WalkGraph, start: NodeIndex, end: NodeIndex) -> Reach {
        Reach::until(graph, start, Some(end))
    }

    fn until(graph: &WalkGraph, start: NodeIndex, end: Option<NodeIndex>) -> Reach {
        let points = &graph.points;
        let mut reach = Reach {
            millis: vec![FAR; points.node_count()],
            last: vec![None; points.node_count()],
        };
        reach.millis[start.index()] = 0;
        let mut ahead = BinaryHeap::from([Reverse((0, start))]);
        while let Some(Reverse((so_far, here))) = ahead.pop() {
            if so_far > reach.millis[here.index()] {
                continue;
            }
            if end == Some(here) {
                break;
            }
            for edge in points.edges(here) {
                let (next, millis) = (edge.target(), so_far + edge.weight().millis);
                if millis < reach.millis[next.index()] {
                    reach.millis[next.index()] = millis;
                    reach.last[next.index()] = Some(edge.id());
                    ahead.push(Reverse((millis, next)));
                }
            }
        }
        reach
    }

    /// The edges to a point, in walking order; none if it is the start or cannot be reached.
    pub(super) fn edges_to(&self, graph: &WalkGraph, end: NodeIndex) -> Vec<EdgeIndex> {
        let mut edges = Vec::new();
        let mut here = end;
        while let Some(edge) = self.last[here.index()] {
            edges.push(edge);
            let Some((before, _)) = graph.points.edge_endpoints(edge) else {
                break;
            };
            here = before;
        }
        edges.reverse();
        edges
    }
}
