//! The walking that no set of runs avoids, by how many runs there are and how long they may be.

use super::distances::Distances;
use super::far::Far;
use super::tours::least_walking;
use crate::route::{Instance, Stop};

/// How often the number of runs that gives the lowest bound is looked at closely; after that a weaker bound has to do.
const CLOSELY: usize = 4;

/// Least walking, in seconds.
pub(super) struct Walking<'a> {
    distances: Distances,
    far: Far,
    /// What each job takes at least.
    work: Vec<i64>,
    /// By number of runs, from one on, and whether it was worked out for just that number.
    tours: Vec<(i64, bool)>,
    stop: Stop<'a>,
}

impl<'a> Walking<'a> {
    /// Of jobs that take at least `work` each.
    ///
    /// # Complexity
    /// `places²`, 240 times.
    pub(super) fn new(
        instance: &Instance,
        jobs: &[u32],
        scope: &[u8],
        work: Vec<i64>,
        way: &impl Fn(u32, u32) -> i64,
        stop: Stop<'a>,
    ) -> Walking<'a> {
        let distances = Distances::of(instance, jobs, scope, way);
        // More runs never walk less: two of them can be walked as one by way of the start.
        let one = least_walking(&distances, 1, stop);
        let most = instance.workers.len().min(jobs.len());
        let mut tours = vec![(one, false); most];
        tours[0].1 = true;
        let mut walking = Walking {
            far: Far::new(&distances),
            distances,
            work,
            tours,
            stop,
        };
        walking.look_closely(most);
        walking
    }

    /// How many runs there are at most.
    pub(super) fn most_runs(&self) -> usize {
        self.tours.len()
    }

    /// Of exactly so many runs.
    pub(super) fn of_runs(&self, runs: usize) -> i64 {
        self.tours[runs - 1].0
    }

    /// Of runs whose workers have so much time for work each.
    pub(super) fn within(&self, time: Vec<i64>) -> i64 {
        self.far.least_walking(&self.work, time)
    }

    fn look_closely(&mut self, runs: usize) {
        let (known, close) = self.tours[runs - 1];
        if !close {
            let closer = least_walking(&self.distances, runs, self.stop);
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
            self.look_closely(runs);
        }
    }
}
