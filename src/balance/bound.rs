//! A lower bound on the highest share of any plan doing the same work, computed apart from the search.
//!
//! Counted is only what no plan can avoid: every job at its length for the worker who does it, walking, fills and dumps
//! ([`super::tours`], [`super::far`], [`super::needs`]), set-up and tear-down. Dwell and drying can be left and returned to, so they
//! are not in it.
//!
//! ```text
//! minimise z
//! subject to  Σw x[j][w] = 1                                        for every job j, and for j = walking and fills
//!             Σj seconds[j][w] x[j][w] + set-up[w] <= z available[w]  for every worker w
//!             x >= 0,  x[j][w] = 0 where w may not do j
//! ```
//!
//! The solver (clarabel) is asked only for the dual prices `p[w]` of the second kind of rows. For *any* prices
//!
//! ```text
//! z >= ( Σj minw p[w] seconds[j][w] + Σw p[w] set-up[w] ) / Σw p[w] available[w]
//! ```
//!
//! and this is what the bound is worked out from, in whole numbers: a wrong or inexact solver can only make it weaker,
//! never false. Jobs that the same workers may do are one row for the solver, and each by itself in the final sum.
//!
//! That inequality takes everybody to set up. Who is idle does not, so the two sums over `w` are taken over those who work, and
//! since nobody knows who that will be, over the set of workers that makes the fraction smallest ([`least_ratio`]), for every number of them:
//! more runs walk more.
//!
//! The less time everybody has, the more of them must walk to where there is much work. So if a highest share of `z` were possible, the walking
//! that it forces must be, too; the bound is the largest `z` found for which it is not.

use super::walking::Walking;
use crate::route::{Instance, Stop};
use good_lp::solvers::DualValues;
use good_lp::{
    ProblemVariables, Solution, SolutionWithDual, SolverModel, clarabel, constraint, variable,
};
use itertools::Itertools;
use std::collections::BTreeMap;

/// What a bound is made of, in seconds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Certificate {
    /// All jobs, each at the pace of the fastest worker who may do it.
    pub work: i64,
    /// Walking that no set of runs avoids.
    pub walking: i64,
    /// Fills and dumps that no plan avoids, without the way there.
    pub fills: i64,
    /// Set-up and tear-down of everybody.
    pub set_up: i64,
    /// Available time of everybody.
    pub available: i64,
    /// Walking, fills and dumps of any plan of the same work, no matter how uneven it is: nobody spends less time not cleaning.
    pub not_cleaning: i64,
}

/// A proven lower bound on the highest share.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bound {
    /// No plan doing the same work has a lower highest share.
    pub share: f64,
    /// What it is made of.
    pub certificate: Certificate,
}

/// The bound for doing the first `scope[j]` tasks of every job `j`; `way` gives the seconds from one place to another that no worker
/// beats, the same there and back, and nothing where there is no way. When it is time to stop, less walking is found, and the bound is lower.
///
/// # Complexity
/// Jobs × workers, and places² for walking.
pub fn bound(
    instance: &Instance,
    scope: &[u8],
    way: &impl Fn(u32, u32) -> i64,
    stop: Stop,
) -> Bound {
    let jobs = (0..instance.jobs.len() as u32)
        .filter(|j| scope[*j as usize] > 0)
        .collect_vec();
    if jobs.is_empty() || instance.workers.is_empty() {
        return Bound {
            share: 0.0,
            certificate: Certificate::default(),
        };
    }
    let seconds = |job: u32, worker: usize| -> Option<i64> {
        let how = instance.scope(worker, job, scope[job as usize]);
        let job_asked = &instance.jobs[job as usize];
        // The search settles beforehand who goes last; the rules leave it open.
        let may = (job_asked.eligible[worker] || job_asked.last) && how.possible;
        may.then(|| i64::from(instance.work(worker, job, scope[job as usize])))
    };
    let workers = 0..instance.workers.len();
    let fastest = |job: &u32| workers.clone().filter_map(|w| seconds(*job, w)).min();
    let fastest = jobs
        .iter()
        .map(|job| fastest(job).unwrap_or(0))
        .collect_vec();
    let mut walking = Walking::new(instance, &jobs, scope, fastest.clone(), way, stop);
    let shared = walking.of_runs(walking.most_runs());
    let priced = prices(instance, &jobs, &seconds, shared);
    walking.sharpen(|walking| {
        priced
            .lowest(walking.most_runs(), |runs| walking.of_runs(runs))
            .1
    });
    let of_runs = |runs: usize| walking.of_runs(runs);
    let (plain, runs) = priced.lowest(walking.most_runs(), of_runs);
    let within = |share: f64| {
        let time = |w: usize| {
            let available = f64::from(instance.workers[w].available);
            (share * available).floor() as i64 + 1 - set_up(instance, w)
        };
        walking.within(workers.clone().map(time).collect())
    };
    let forced = |share: f64| {
        let far = within(share);
        priced
            .lowest(walking.most_runs(), |runs| of_runs(runs).max(far))
            .0
    };
    let share =
        largest_impossible(plain, forced).max(longest_alone(instance, &jobs, &seconds, way));
    let work = fastest.iter().sum();
    let fewest = fewest_runs(instance, work + of_runs(1));
    let certificate = Certificate {
        work,
        walking: walking.of_runs(runs).max(within(share)) - walking.trips(),
        fills: walking.trips(),
        set_up: workers.clone().map(|w| set_up(instance, w)).sum(),
        available: workers
            .clone()
            .map(|w| i64::from(instance.workers[w].available))
            .sum(),
        not_cleaning: walking.of_at_least(fewest),
    };
    Bound { share, certificate }
}

/// How many people it takes at least for so many seconds: those who are there longest.
fn fewest_runs(instance: &Instance, seconds: i64) -> usize {
    let time = instance
        .workers
        .iter()
        .map(|w| i64::from(w.latest - w.from));
    let time = time.sorted_unstable_by(|a, b| b.cmp(a));
    let together = time.scan(0, |sum, time| {
        *sum += time;
        Some(*sum)
    });
    together.take_while(|sum| *sum < seconds).count() + 1
}

/// The highest share that a job alone causes: whoever does it gets ready, walks there and back, and puts away.
fn longest_alone(
    instance: &Instance,
    jobs: &[u32],
    seconds: &impl Fn(u32, usize) -> Option<i64>,
    way: &impl Fn(u32, u32) -> i64,
) -> f64 {
    let share = |job: &u32| {
        let place = instance.jobs[*job as usize].place;
        let of = |worker: usize| {
            let who = &instance.workers[worker];
            let load =
                set_up(instance, worker) + seconds(*job, worker)? + 2 * way(who.start, place);
            Some(load as f64 / f64::from(who.available))
        };
        let all = (0..instance.workers.len()).filter_map(of);
        all.min_by(f64::total_cmp).unwrap_or(0.0)
    };
    let longest = jobs.iter().map(share).fold(0.0, f64::max);
    longest * (1.0 - 1e-9)
}

/// The largest share, from one on that is known to be impossible or the least possible one, that `least` shows to be impossible: everyone who
/// keeps within it would have a higher one.
fn largest_impossible(known: f64, least: impl Fn(f64) -> f64) -> f64 {
    /// Halvings, to a ten-thousandth of a point.
    const STEPS: u32 = 20;
    let (mut low, mut high) = (known, 1.5 * known);
    for _ in 0..STEPS {
        let middle = f64::midpoint(low, high);
        if least(middle) > middle {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

fn set_up(instance: &Instance, worker: usize) -> i64 {
    i64::from(instance.workers[worker].set_up + instance.workers[worker].tear_down)
}

/// Prices per worker in whole numbers, from the linear program; all alike if the solver fails. `shared` is what somebody has to do, no matter
/// who.
fn prices(
    instance: &Instance,
    jobs: &[u32],
    seconds: &impl Fn(u32, usize) -> Option<i64>,
    shared: i64,
) -> Priced {
    /// Prices are cut to so many parts, which is far finer than any share that matters.
    const PARTS: f64 = 1e6;
    let uniform = Priced::new(instance, jobs, seconds, &vec![1; instance.workers.len()]);
    let Some(duals) = solve(instance, jobs, seconds, shared) else {
        return uniform;
    };
    let highest = duals.iter().copied().fold(0.0, f64::max);
    if !highest.is_finite() || highest <= 0.0 {
        return uniform;
    }
    // No price is nothing: prices would say nothing of a plan in which only those workers work.
    let cut = |dual: &f64| (dual / highest * PARTS).round().clamp(1.0, PARTS) as i64;
    // Prices that differ only by the solver's inexactness are made alike.
    let prices = duals
        .iter()
        .map(cut)
        .map(|p| if p > 999_000 { 1_000_000 } else { p })
        .collect_vec();
    let dual = Priced::new(instance, jobs, seconds, &prices);
    let value = |p: &Priced| p.lowest(instance.workers.len(), |_| shared).0;
    if value(&dual) > value(&uniform) {
        dual
    } else {
        uniform
    }
}

/// The dual prices of the workers' rows.
fn solve(
    instance: &Instance,
    jobs: &[u32],
    seconds: &impl Fn(u32, usize) -> Option<i64>,
    shared: i64,
) -> Option<Vec<f64>> {
    let workers = instance.workers.len();
    let mut classes: BTreeMap<Vec<bool>, Vec<f64>> = BTreeMap::new();
    for job in jobs {
        let able = (0..workers)
            .map(|w| seconds(*job, w).is_some())
            .collect_vec();
        let sums = classes.entry(able).or_insert_with(|| vec![0.0; workers]);
        (0..workers).for_each(|w| sums[w] += seconds(*job, w).unwrap_or(0) as f64);
    }
    let extra = shared as f64;
    let rows = classes
        .into_iter()
        .chain([(vec![true; workers], vec![extra; workers])])
        .collect_vec();
    let mut variables = ProblemVariables::new();
    let z = variables.add(variable().min(0));
    let x = rows
        .iter()
        .map(|_| variables.add_vector(variable().min(0), workers))
        .collect_vec();
    let mut model = variables.minimise(z).using(clarabel);
    for (row, (able, _)) in rows.iter().enumerate() {
        let all: good_lp::Expression = (0..workers).filter(|w| able[*w]).map(|w| x[row][w]).sum();
        model.add_constraint(constraint!(all == 1));
    }
    let mut constraints = Vec::new();
    for worker in 0..workers {
        let available = f64::from(instance.workers[worker].available);
        let able = rows
            .iter()
            .enumerate()
            .filter(|(_, (able, _))| able[worker]);
        // In shares rather than seconds: well scaled for the solver.
        let load: good_lp::Expression = able
            .map(|(r, (_, sums))| sums[worker] / available * x[r][worker])
            .sum();
        let ready = set_up(instance, worker) as f64 / available;
        constraints.push(model.add_constraint(constraint!(load + ready <= z)));
    }
    let mut solution = model.solve().ok()?;
    let _ = solution.value(z);
    let duals = solution.compute_dual();
    let price = |w: usize| {
        duals.dual(constraints[w].clone()).abs() / f64::from(instance.workers[w].available)
    };
    Some((0..workers).map(price).collect())
}

/// What prices make of a plan. In whole numbers but for the last division.
struct Priced {
    /// All jobs, each at the worker for whom it is cheapest.
    work: i64,
    /// The lowest price of a second.
    least: i64,
    /// By worker, set-up and available time.
    runs: Vec<(i64, i64)>,
}

impl Priced {
    fn new(
        instance: &Instance,
        jobs: &[u32],
        seconds: &impl Fn(u32, usize) -> Option<i64>,
        prices: &[i64],
    ) -> Priced {
        let workers = 0..instance.workers.len();
        let cheapest = |job: &u32| {
            let able = workers.clone();
            able.filter_map(|w| Some(seconds(*job, w)? * prices[w]))
                .min()
        };
        let run = |w: usize| {
            let available = i64::from(instance.workers[w].available);
            (prices[w] * set_up(instance, w), prices[w] * available)
        };
        Priced {
            work: jobs.iter().filter_map(cheapest).sum(),
            least: prices.iter().min().copied().unwrap_or(0),
            runs: workers.clone().map(run).collect(),
        }
    }

    /// The lowest highest share of up to so many runs, and of how many, if somebody has `shared(runs)` seconds to do besides.
    fn lowest(&self, most: usize, shared: impl Fn(usize) -> i64) -> (f64, usize) {
        let share = |runs: usize| {
            let (above, below) =
                least_ratio(self.work + self.least * shared(runs), &self.runs, runs);
            // One part in a billion less than computed, which is more than the division can be off.
            above as f64 / below.max(1) as f64 * (1.0 - 1e-9)
        };
        let all = (1..=most).map(|runs| (share(runs), runs));
        all.min_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or((0.0, 1))
    }
}

/// The smallest `(fixed + Σ a) / Σ b` over the sets of so many pairs `(a, b)`, as its two whole numbers.
///
/// For a fraction `λ`, the set with the smallest `Σ (a − λ b)` has a smaller fraction if any has. So that set is taken for the fraction of the
/// set before, again and again, until the fraction falls no more: Dinkelbach's method (Management Science 13(7), 1967, doi:10.1287/mnsc.13.7.492).
fn least_ratio(fixed: i64, pairs: &[(i64, i64)], count: usize) -> (i64, i64) {
    let sum = |set: &mut dyn Iterator<Item = &(i64, i64)>| {
        set.fold((fixed, 0), |(above, below), (a, b)| (above + a, below + b))
    };
    let mut ratio = sum(&mut pairs.iter().take(count));
    loop {
        let (above, below) = (i128::from(ratio.0), i128::from(ratio.1));
        let over = |(a, b): &&(i64, i64)| i128::from(*a) * below - above * i128::from(*b);
        let next = sum(&mut pairs.iter().k_smallest_by_key(count, over));
        if i128::from(next.0) * below >= above * i128::from(next.1) {
            return ratio;
        }
        ratio = next;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use rand::{RngExt, SeedableRng};
    use rand_pcg::Pcg64Mcg;

    #[test]
    fn the_least_ratio_is_that_of_the_best_of_all_sets() {
        let rng = &mut Pcg64Mcg::seed_from_u64(7);
        for _ in 0..2_000 {
            let fixed = rng.random_range(0..500);
            let pair = |_| (rng.random_range(0..100), rng.random_range(1..400));
            let pairs: Vec<(i64, i64)> = (0..6).map(pair).collect();
            let count = rng.random_range(1..=6);
            let of_set = |set: u32| {
                let chosen = pairs.iter().enumerate().filter(|(i, _)| set >> i & 1 == 1);
                let (a, b) = chosen.fold((fixed, 0), |(a, b), (_, p)| (a + p.0, b + p.1));
                a as f64 / b as f64
            };
            let sets = (1..1u32 << 6).filter(|set| set.count_ones() as usize == count);
            let best = sets.map(of_set).fold(f64::INFINITY, f64::min);
            let (above, below) = least_ratio(fixed, &pairs, count);
            assert!(
                (above as f64 / below as f64 - best).abs() < 1e-12,
                "{fixed} {pairs:?} {count}"
            );
        }
    }
}
