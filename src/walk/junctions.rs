//! Shortest walks from any point, by way of the junctions next to it.
//!
//! Most points of a hall are only doors of rooms: from there one can but walk along the hall, one way or the other, to the next
//! junction, where a way leads off it. So searches from the junctions alone, which are few, give the walks from every point.

use super::graph::WalkGraph;
use super::shortest::{FAR, Reach};
use petgraph::graph::NodeIndex;
use petgraph::visit::EdgeRef;
use rayon::prelude::{IntoParallelIterator, ParallelIterator};

/// The shortest walks from all junctions.
pub(super) struct Junctions<'a> {
    graph: &'a WalkGraph,
    /// Milliseconds to every point, by the point of a junction.
    millis: Vec<Option<Vec<u64>>>,
}

impl<'a> Junctions<'a> {
    /// Of this graph.
    ///
    /// # Complexity
    /// `O(j × n log n)` for `j` junctions among `n` points, in parallel.
    pub(super) fn of(graph: &'a WalkGraph) -> Junctions<'a> {
        let millis = (0..graph.points.node_count()).into_par_iter().map(|node| {
            let node = NodeIndex::new(node);
            leads_off(graph, node).then(|| Reach::from(graph, node).millis)
        });
        Junctions {
            graph,
            millis: millis.collect(),
        }
    }

    /// Milliseconds from a point to every point, [`FAR`] where there is no way.
    ///
    /// # Complexity
    /// `O(n)`.
    pub(super) fn millis_from(&self, start: NodeIndex) -> Vec<u64> {
        if let Some(millis) = &self.millis[start.index()] {
            return millis.clone();
        }
        let mut shortest = vec![FAR; self.millis.len()];
        shortest[start.index()] = 0;
        for edge in self.graph.points.edges(start) {
            self.walk_on(start, edge.target(), edge.weight().millis, &mut shortest);
        }
        shortest
    }

    /// Along the hall from `before` to `here` and on to the next junction, and from there to everywhere.
    fn walk_on(
        &self,
        mut before: NodeIndex,
        mut here: NodeIndex,
        mut so_far: u64,
        shortest: &mut [u64],
    ) {
        loop {
            if let Some(from_here) = &self.millis[here.index()] {
                for (shortest, millis) in shortest.iter_mut().zip(from_here) {
                    *shortest = (*shortest).min(millis.saturating_add(so_far));
                }
                return;
            }
            let shortest = &mut shortest[here.index()];
            *shortest = (*shortest).min(so_far);
            let mut edges = self.graph.points.edges(here);
            let Some(edge) = edges.find(|edge| edge.target() != before) else {
                return;
            };
            so_far += edge.weight().millis;
            (before, here) = (here, edge.target());
        }
    }
}

/// Whether a way leads off the hall here.
fn leads_off(graph: &WalkGraph, node: NodeIndex) -> bool {
    graph
        .points
        .edges(node)
        .any(|edge| edge.weight().way.is_some())
}
