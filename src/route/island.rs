//! One searcher: ruins and recreates its plan again and again, accepting worse plans less and less (simulated annealing).

use super::near::Near;
use super::prices::Standing;
use super::recreate::{Bar, give_to_owners, raise, recreate, wanting};
use super::ruin;
use super::solution::Solution;
use super::stop::Stop;
use rand::seq::SliceRandom;
use rand::{Rng, RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// One step in so many exchanges two whole runs instead.
const EXCHANGES: f64 = 0.01;

/// Where people know a plan, so many jobs that were left out are tried again in one step, besides those just taken out: a night that is too
/// short leaves the same ones out again and again.
const RETRIED: usize = 4;

/// So much hotter is searched from a plan that people know while something is left undone: it has to give way first.
const SHORT_OF_TIME: f64 = 8.0;

/// From this part of the prices on a plan is searched that people know.
const KNOWN_FROM: f64 = 0.3;

/// A searcher with its present and its best plan.
#[derive(Clone, Debug)]
pub(super) struct Island<'a> {
    pub(super) best: Solution<'a>,
    pub(super) standing: Standing,
    now: Solution<'a>,
    rng: Pcg64Mcg,
}

impl<'a> Island<'a> {
    /// Starts from a plan, with its own stream of chance.
    pub(super) fn new(start: &Solution<'a>, seed: u64, index: u64) -> Island<'a> {
        let rng =
            Pcg64Mcg::seed_from_u64(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15).wrapping_add(index));
        Island {
            best: start.clone(),
            standing: start.standing(),
            now: start.clone(),
            rng,
        }
    }

    /// Puts in everything that is not done yet, into its owner's run where that fits.
    pub(super) fn complete(&mut self, near: &Near, split: &[Option<u16>]) {
        let mut jobs = wanting(&self.now);
        jobs.retain(|j| self.now.run_of[*j as usize].is_none());
        give_to_owners(&mut self.now, &mut jobs, split, &mut self.rng);
        recreate(&mut self.now, &mut jobs, Bar::NONE, near, &mut self.rng);
        self.now.commit();
        self.adopt(self.now.clone());
    }

    /// Its best plan, with whatever still fits of what is left undone, most important first, until it is time to stop.
    pub(super) fn finish(mut self, near: &Near, stop: Stop) -> Solution<'a> {
        self.now = self.best.clone();
        for priority in 0..3 {
            for job in wanting(&self.now) {
                if stop.has_ended() {
                    return self.best;
                }
                raise(&mut self.now, job, priority, near, &mut self.rng);
                self.settle(true, i64::MIN);
            }
        }
        self.best
    }

    /// Takes over a plan as its own.
    pub(super) fn adopt(&mut self, plan: Solution<'a>) {
        self.standing = plan.standing();
        self.best = plan.clone();
        self.now = plan;
    }

    /// Prices from here on as fits how far a cooling is, from 0 to 1.
    pub(super) fn reprice(&mut self, progress: f64) {
        // A plan that people know is short already.
        let progress = if self.now.instance.before.is_known() {
            KNOWN_FROM + (1.0 - KNOWN_FROM) * progress
        } else {
            progress
        };
        let prices = self.now.prices.at(progress, self.best.highest_share());
        self.now.reprice(prices);
        self.best.reprice(prices);
    }

    /// One ruin and recreation at a temperature, in prices.
    pub(super) fn iterate(&mut self, near: &Near, temperature: f64) {
        let Island { now, rng, .. } = self;
        if rng.random_bool(EXCHANGES) {
            self.exchange_runs(temperature);
            return;
        }
        let complete = now.is_complete();
        let temperature = if now.instance.before.is_known() && !complete {
            SHORT_OF_TIME * temperature
        } else {
            temperature
        };
        let most = most(now.price(), temperature, rng);
        let bar = Bar {
            price: most,
            share: self.standing.shares.first().copied().unwrap_or(0),
        };
        let out = ruin::choose(now, near, rng);
        now.remove(&out);
        let mut absent = if complete {
            out
        } else {
            to_put_in(now, &out, rng)
        };
        absent.retain(|j| now.run_of[*j as usize].is_none());
        let hopeful = recreate(now, &mut absent, bar, near, rng);
        if hopeful && !complete {
            let partly = wanting(now);
            for _ in 0..partly.len().min(4) {
                let one = partly[rng.random_range(0..partly.len())];
                raise(now, one, 2, near, rng);
            }
        }
        self.settle(hopeful, most);
    }

    /// Two workers exchange their whole runs.
    fn exchange_runs(&mut self, temperature: f64) {
        let runs = self.now.runs.len();
        let most = most(self.now.price(), temperature, &mut self.rng);
        let (a, b) = (
            self.rng.random_range(0..runs),
            self.rng.random_range(0..runs),
        );
        let fits = self.now.exchange(a, b);
        self.settle(fits, most);
    }

    /// Keeps the present plan if its price is at most `most`, or if it is the best so far; else goes back.
    fn settle(&mut self, hopeful: bool, most: i64) {
        let standing = self.now.standing();
        let best = hopeful && standing < self.standing;
        if !best && (!hopeful || self.now.price() > most) {
            self.now.roll_back();
            return;
        }
        self.now.commit();
        if best {
            self.standing = standing;
            self.now.save(&mut self.best);
        }
    }
}

/// Whatever is left undone; where people know a plan, what was just taken out and a few jobs more.
fn to_put_in<R: Rng>(solution: &Solution, out: &[u32], rng: &mut R) -> Vec<u32> {
    let undone = wanting(solution);
    if !solution.instance.before.is_known() {
        return undone;
    }
    let (mut jobs, mut others): (Vec<u32>, Vec<u32>) =
        undone.into_iter().partition(|j| out.contains(j));
    others.shuffle(rng);
    jobs.extend(others.into_iter().take(RETRIED));
    jobs
}

/// The highest price that is accepted at a temperature.
fn most(price: i64, temperature: f64, rng: &mut Pcg64Mcg) -> i64 {
    let chance: f64 = rng.random();
    price.saturating_add((-temperature * chance.max(1e-12).ln()) as i64)
}
