//! Which jobs are near which: the granular neighbourhood of the search.

use super::instance::{Instance, NO_WAY};
use super::run::refill;
use super::solution::Solution;
use itertools::Itertools;
use rand::{Rng, RngExt};
use rayon::prelude::*;

/// How many near jobs are remembered for each.
const NEAR: usize = 60;

/// Which near job tells how far apart jobs usually are.
const NEIGHBOUR: usize = 10;

/// With up to so many runs all are tried for every job.
const FEW_RUNS: usize = 8;

/// How many of a job's nearest jobs point to runs worth trying.
const POINTERS: usize = 24;

/// Near jobs, nearest first.
#[derive(Clone, Debug)]
pub(super) struct Near {
    jobs: Vec<Vec<u32>>,
    /// The usual walk to the tenth nearest other job.
    pub(super) reach: f64,
}

impl Near {
    /// By walking time on the first walking table that reaches, the job itself first.
    ///
    /// # Complexity
    /// `jobs² log jobs`, in parallel.
    pub(super) fn new(instance: &Instance) -> Near {
        let table = |a: u32, b: u32| {
            let times = instance.walks.iter().map(|w| w.walk(a, b));
            times.min().unwrap_or(NO_WAY)
        };
        let nearest = |job: usize| {
            let here = instance.jobs[job].place;
            let all = 0..instance.jobs.len() as u32;
            let far = |other: &u32| {
                (
                    *other != job as u32,
                    table(here, instance.jobs[*other as usize].place),
                    *other,
                )
            };
            all.k_smallest_by_key(NEAR, far).collect_vec()
        };
        let jobs: Vec<Vec<u32>> = (0..instance.jobs.len())
            .into_par_iter()
            .map(nearest)
            .collect();
        let place = |job: u32| instance.jobs[job as usize].place;
        let tenth = jobs.iter().filter_map(|near| {
            let walk = table(place(near[0]), place(*near.get(NEIGHBOUR).or(near.last())?));
            (walk < NO_WAY).then_some(f64::from(walk))
        });
        let (count, sum) = tenth.fold((0.0, 0.0), |(n, sum), walk| (n + 1.0, sum + walk));
        Near {
            reach: sum / f64::max(count, 1.0),
            jobs,
        }
    }

    /// Nearest first, the job itself included.
    pub(super) fn of(&self, job: u32) -> &[u32] {
        &self.jobs[job as usize]
    }

    /// Runs in which a job may fit well: those of near jobs, and a few others by chance.
    pub(super) fn runs_worth_trying<R: Rng>(
        &self,
        solution: &Solution,
        job: u32,
        rng: &mut R,
        runs: &mut Vec<u16>,
    ) {
        let eligible = &solution.instance.jobs[job as usize].eligible;
        let all = 0..eligible.len() as u16;
        if eligible.len() > FEW_RUNS {
            let near = self.of(job).iter().take(POINTERS);
            refill(runs, near.filter_map(|j| solution.run_of[*j as usize]));
            runs.extend((0..4).map(|_| rng.random_range(all.clone())));
            let mut seen = [false; 512];
            runs.retain(|w| {
                // In crews beyond that size one run may hide another, which is then left to another time.
                let before = std::mem::replace(&mut seen[usize::from(*w) % 512], true);
                !before && eligible[usize::from(*w)]
            });
            if runs.len() >= 3 {
                return;
            }
        }
        refill(runs, all.filter(|w| eligible[usize::from(*w)]));
    }
}
