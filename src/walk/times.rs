//! All-pairs walking times between the places of a site, for one walker.

use super::Walker;
use super::graph::{Gate, WalkGraph};
use super::shortest::{FAR, Reach};
use crate::site::{Calendar, PlaceId, Site};
use crate::units::Seconds;
use petgraph::graph::NodeIndex;
use rayon::prelude::{IntoParallelIterator, IntoParallelRefIterator, ParallelIterator};

/// Shortest walking times between all places for one walker, in whole seconds, each rounded up once.
///
/// Because they are rounded *up*, a detour is never quicker: `get(a, c) <= get(a, b) + get(b, c)` in whole seconds too.
/// Times there and back may differ: stairs up are slower than down.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Times {
    places: usize,
    seconds: Vec<u32>,
}

impl Times {
    /// No way.
    pub const NO_WAY: u32 = u32::MAX;

    /// Times between all places of the site on the calendar's date.
    ///
    /// # Complexity
    /// One search of the halls per distinct point with a door, in parallel: `O(p × n log n)` for `p` places and `n` points.
    pub fn between_places(site: &Site, walker: &Walker, calendar: &Calendar) -> Times {
        let graph = WalkGraph::of(site, walker, calendar);
        let mut starts: Vec<NodeIndex> = graph.gates().iter().map(|gate| gate.point).collect();
        starts.sort_unstable();
        starts.dedup();
        let reaches: Vec<Reach> = starts
            .par_iter()
            .map(|start| Reach::from(&graph, *start))
            .collect();
        let row = |from: usize| -> Vec<u32> {
            let point = graph.gates()[from].point;
            let reach = &reaches[starts.partition_point(|start| *start < point)];
            (0..graph.gates().len())
                .map(|to| between(&graph, reach, from, to))
                .collect()
        };
        let rows: Vec<Vec<u32>> = (0..graph.gates().len()).into_par_iter().map(row).collect();
        Times {
            places: graph.gates().len(),
            seconds: rows.concat(),
        }
    }

    /// From one place to another; `None` if this walker cannot get there.
    pub fn get(&self, from: PlaceId, to: PlaceId) -> Option<Seconds> {
        let seconds = self.seconds[from.index() * self.places + to.index()];
        (seconds != Times::NO_WAY).then_some(Seconds(i64::from(seconds)))
    }

    /// All times from one place, by place; [`Times::NO_WAY`] where there is none.
    pub fn row(&self, from: PlaceId) -> &[u32] {
        &self.seconds[from.index() * self.places..][..self.places]
    }
}

/// One entry, in seconds. Staying costs nothing, even behind a door that does not open.
fn between(graph: &WalkGraph, reach: &Reach, from: usize, to: usize) -> u32 {
    if from == to {
        return 0;
    }
    let millis = whole_walk(reach, graph.gates()[from], graph.gates()[to]);
    let seconds = millis.map(|millis| graph.rounded_up(millis).0);
    seconds
        .and_then(|seconds| u32::try_from(seconds).ok())
        .unwrap_or(Times::NO_WAY)
}

/// Milliseconds out of one door, along, and in at the other; `reach` is from the first door's point.
pub(super) fn whole_walk(reach: &Reach, from: Gate, to: Gate) -> Option<u64> {
    let along = reach.millis[to.point.index()];
    (along != FAR)
        .then_some(along)?
        .checked_add(from.door?)?
        .checked_add(to.door?)
}
