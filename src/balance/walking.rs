//! What no set of runs avoids besides work, by how many runs there are and how long they may be: walking, fills and dumps.

use super::distances::Distances;
use super::family::Family;
use super::far::Far;
use super::needs::{Holds, Need, needs};
use super::tours::least_time;
use super::tree::{Prices, Tours, Trips};
use crate::route::{Instance, Stop};
use itertools::Itertools;
use std::ops::RangeInclusive;

/// How often the number of runs that gives the lowest bound is looked at closely; after that a weaker bound has to do.
const CLOSELY: usize = 4;

/// Steps towards good prices: fewer where there are many places, for each takes the square of their number. Another number of runs has nearly the same
/// prices and needs only a part of the steps.
const STEPS: RangeInclusive<usize> = 120..=400;
const EDGES: usize = 160_000_000;
const FURTHER: u32 = 6;

/// Least walking, fills and dumps, in seconds.
pub(super) struct Walking<'a> {
    distances: Distances,
    family: Family,
    far: Far,
    /// What each stop takes at least.
    work: Vec<i64>,
    /// Fills and dumps, at least, and what each of them takes.
    least: Trips,
    each: Trips,
    prices: Prices,
    steps: u32,
    /// By number of runs, from one on, and whether it was worked out for just that number.
    tours: Vec<(i64, bool)>,
    stop: Stop<'a>,
}

impl<'a> Walking<'a> {
    /// Of jobs that take at least `work` each.
    ///
    /// # Complexity
    /// `places²`, some 500 times.
    pub(super) fn new(
        instance: &Instance,
        jobs: &[u32],
        scope: &[u8],
        work: Vec<i64>,
        way: &impl Fn(u32, u32) -> i64,
        stop: Stop<'a>,
    ) -> Walking<'a> {
        let most = instance.workers.len().min(jobs.len());
        // A job is there once for each stop with needs; its work is done at the first.
        let stops = jobs.iter().zip(work).flat_map(|(job, work)| {
            let needs = needs(instance, *job, scope[*job as usize]);
            let stop = move |(at, need)| (*job, need, if at == 0 { work } else { 0 });
            needs.into_iter().enumerate().map(stop)
        });
        let (jobs, needs, work): (Vec<u32>, Vec<Need>, Vec<i64>) = stops.multiunzip();
        let distances = Distances::of(instance, &jobs, scope, way);
        let holds = Holds::of(instance);
        let family = Family::new(&distances, &needs, holds);
        let least = holds.map_or(Trips::default(), |holds| Trips {
            fill: holds.fills(&needs),
            dump: holds.dumps(&needs),
        });
        let each = Trips {
            fill: i64::from(instance.fill),
            dump: i64::from(instance.dump),
        };
        let affordable = EDGES / jobs.len().pow(2).max(1);
        let mut walking = Walking {
            far: Far::new(&distances),
            steps: affordable.clamp(*STEPS.start(), *STEPS.end()) as u32,
            prices: Prices::new(distances.places(), &family, each),
            distances,
            family,
            work,
            least,
            each,
            tours: vec![(each.total(least), false); most],
            stop,
        };
        walking.look_closely(most, walking.steps);
        // More runs never walk less: two of them can be walked as one by way of the start.
        walking.look_closely(1, walking.steps / FURTHER);
        let one = walking.tours[0].0;
        walking
            .tours
            .iter_mut()
            .for_each(|(least, _)| *least = one.max(*least));
        walking
    }

    /// How many runs there are at most.
    pub(super) fn most_runs(&self) -> usize {
        self.tours.len()
    }

    /// Fills and dumps alone.
    pub(super) fn trips(&self) -> i64 {
        self.each.total(self.least)
    }

    /// Of exactly so many runs.
    pub(super) fn of_runs(&self, runs: usize) -> i64 {
        self.tours[runs - 1].0
    }

    /// Of so many runs or more, no matter how long they are: more runs never walk less.
    pub(super) fn of_at_least(&mut self, runs: usize) -> i64 {
        let runs = runs.clamp(1, self.most_runs());
        self.look_closely(runs, self.steps / FURTHER);
        self.of_runs(runs)
    }

    /// Of runs whose workers have so much time for work each.
    pub(super) fn within(&self, time: Vec<i64>) -> i64 {
        self.far.least_walking(&self.work, time) + self.trips()
    }

    fn look_closely(&mut self, runs: usize, steps: u32) {
        let (known, close) = self.tours[runs - 1];
        if !close {
            let tours = Tours {
                distances: &self.distances,
                family: &self.family,
                least: self.least,
                each: self.each,
            };
            let closer = least_time(&tours, runs, &mut self.prices, steps, self.stop);
            self.tours[runs - 1] = (known.max(closer), true);
        }
    }

    /// Works out the walking for that number of runs for which `bound` is lowest, until it is that for which it was worked out.
    pub(super) fn sharpen(&mut self, lowest: impl Fn(&Walking) -> usize) {
        for _ in 0..CLOSELY {
            let runs = lowest(self);
            if self.tours[runs - 1].1 {
                return;
            }
            self.look_closely(runs, self.steps / FURTHER);
        }
    }
}
