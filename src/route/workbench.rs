//! The steps of the search one at a time, to be measured by themselves.

use super::instance::Instance;
use super::island::Island;
use super::near::Near;
use super::recreate::{Bar, recreate};
use super::ruin;
use super::solution::Solution;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// A plan to try single steps on. Every step leaves it as it was.
#[derive(Debug)]
pub struct Workbench<'a> {
    plan: Solution<'a>,
    near: Near,
    rng: Pcg64Mcg,
}

impl<'a> Workbench<'a> {
    /// With a plan in which everything is done that finds a place, one job after another.
    pub fn new(instance: &'a Instance, seed: u64) -> Workbench<'a> {
        let near = Near::new(instance);
        let mut island = Island::new(&Solution::idle(instance), seed, 0);
        island.complete(&near, &[]);
        Workbench {
            plan: island.best,
            near,
            rng: Pcg64Mcg::seed_from_u64(seed),
        }
    }

    /// Times some worker's run as it is. Whether it is still possible.
    pub fn time_a_run(&mut self) -> bool {
        let run = self.rng.random_range(0..self.plan.runs.len());
        let order = self.plan.runs[run].visits.clone();
        self.plan.try_order(run, &order).is_some()
    }

    /// Takes some job out and puts it back where it costs least. Whether it fits.
    pub fn insert_a_job(&mut self) -> bool {
        let job = self.rng.random_range(0..self.plan.scope.len() as u32);
        self.plan.remove(&[job]);
        let fits = recreate(
            &mut self.plan,
            &mut [job],
            Bar::NONE,
            &self.near,
            &mut self.rng,
        );
        self.plan.roll_back();
        fits
    }

    /// Takes out as many jobs as a step of the search does. How many.
    pub fn ruin(&mut self) -> usize {
        let out = ruin::choose(&self.plan, &self.near, &mut self.rng);
        self.plan.remove(&out);
        self.plan.roll_back();
        out.len()
    }

    /// Takes jobs out and puts them back: one whole step of the search. Whether all fit.
    pub fn ruin_and_recreate(&mut self) -> bool {
        let mut out = ruin::choose(&self.plan, &self.near, &mut self.rng);
        self.plan.remove(&out);
        let (plan, near) = (&mut self.plan, &self.near);
        let fits = recreate(plan, &mut out, Bar::NONE, near, &mut self.rng);
        self.plan.roll_back();
        fits
    }

    /// Two workers exchange their whole runs. Whether they can.
    pub fn exchange_runs(&mut self) -> bool {
        let runs = self.plan.runs.len();
        let (a, b) = (
            self.rng.random_range(0..runs),
            self.rng.random_range(0..runs),
        );
        let fits = self.plan.exchange(a, b);
        self.plan.roll_back();
        fits
    }
}
