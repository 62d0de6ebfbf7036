//! All-pairs walking times between the places of a site, for one walker or for many.

use super::Walker;
use super::graph::{Gate, WalkGraph};
use super::junctions::Junctions;
use super::shortest::FAR;
use crate::site::{Calendar, PlaceId, Site};
use crate::units::Seconds;
use rayon::prelude::{IntoParallelRefIterator, ParallelIterator};
use std::sync::Arc;

/// Shortest walking times between all places for one walker, in whole seconds, each rounded up once.
///
/// Because they are rounded *up*, a detour is never quicker: `get(a, c) <= get(a, b) + get(b, c)` in whole seconds too.
/// Times there and back may differ: stairs up are slower than down. Staying takes no time, even behind a door that does
/// not open.
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
    /// One search of the halls for each of the `j` points where a way leads off a hall, and a look at each of the `p` places'
    /// points from there, in parallel: `O(j × n log n + p × n)` for `n` points in all.
    pub fn between_places(site: &Site, walker: &Walker, calendar: &Calendar) -> Times {
        Times::over(&WalkGraph::of(site, walker, calendar))
    }

    /// Times for each of many walkers, in order. Walkers whom the site treats alike share theirs: it matters only which doors
    /// open, whether stairs may be used, and how fast they are.
    pub fn of_walkers(site: &Site, walkers: &[Walker], calendar: &Calendar) -> Vec<Arc<Times>> {
        let mut known: Vec<(WalkGraph, Arc<Times>)> = Vec::new();
        let times = walkers.iter().map(|walker| {
            let graph = WalkGraph::of(site, walker, calendar);
            if let Some((_, times)) = known.iter().find(|(other, _)| other.is_like(&graph)) {
                return Arc::clone(times);
            }
            let times = Arc::new(Times::over(&graph));
            known.push((graph, Arc::clone(&times)));
            times
        });
        times.collect()
    }

    fn over(graph: &WalkGraph) -> Times {
        let places = graph.gates().len();
        let mut by_point: Vec<usize> = (0..places).collect();
        by_point.sort_by_key(|place| graph.gates()[*place].point);
        let neighbours: Vec<&[usize]> = by_point
            .chunk_by(|a, b| graph.gates()[*a].point == graph.gates()[*b].point)
            .collect();
        let junctions = Junctions::of(graph);
        let rows: Vec<Vec<(usize, Vec<u32>)>> = neighbours
            .par_iter()
            .map(|doors| rows_from(graph, &junctions, doors))
            .collect();
        let mut seconds = vec![Times::NO_WAY; places * places];
        for (from, row) in rows.into_iter().flatten() {
            seconds[from * places..][..places].copy_from_slice(&row);
        }
        Times { places, seconds }
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

/// The rows of places whose doors are at one point.
fn rows_from(graph: &WalkGraph, junctions: &Junctions, doors: &[usize]) -> Vec<(usize, Vec<u32>)> {
    let Some(first) = doors.first() else {
        return Vec::new();
    };
    let millis = junctions.millis_from(graph.gates()[*first].point);
    let row = |from: usize| {
        (0..graph.gates().len())
            .map(|to| entry(graph, &millis, from, to))
            .collect()
    };
    doors.iter().map(|from| (*from, row(*from))).collect()
}

fn entry(graph: &WalkGraph, millis: &[u64], from: usize, to: usize) -> u32 {
    if from == to {
        return 0;
    }
    let millis = whole_walk(millis, graph.gates()[from], graph.gates()[to]);
    let seconds = millis.map(|millis| graph.rounded_up(millis).0);
    seconds
        .and_then(|seconds| u32::try_from(seconds).ok())
        .unwrap_or(Times::NO_WAY)
}

/// Milliseconds out of one door, along, and in at the other; `millis` are those from the first door's point to every point.
pub(super) fn whole_walk(millis: &[u64], from: Gate, to: Gate) -> Option<u64> {
    let along = millis[to.point.index()];
    (along != FAR)
        .then_some(along)?
        .checked_add(from.door?)?
        .checked_add(to.door?)
}
