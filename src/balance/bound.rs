//! A lower bound on the highest share of any plan doing the same work, computed apart from the search.
//!
//! Counted is only what no plan can avoid: every job at its length for the worker who does it, walking
//! ([`super::tours`]), fills and dumps by volume, set-up and tear-down. Dwell and drying can be left and returned to, so they
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

use super::tours::least_walking;
use crate::route::{Instance, Secs};
use crate::site::PlaceId;
use crate::walk::Times;
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
}

/// A proven lower bound on the highest share.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bound {
    /// No plan doing the same work has a lower highest share.
    pub share: f64,
    /// What it is made of.
    pub certificate: Certificate,
}

/// The bound for doing the first `scope[j]` tasks of every job `j`; `ideal` are walking times that no worker beats.
///
/// # Complexity
/// Jobs × workers, and places² for walking.
pub fn bound(instance: &Instance, scope: &[u8], ideal: &Times) -> Bound {
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
        let may = instance.jobs[job as usize].eligible[worker] && how.possible;
        may.then(|| i64::from(instance.work(worker, job, scope[job as usize])))
    };
    let workers = 0..instance.workers.len();
    let shared = Shared {
        walking: walking(instance, &jobs, ideal),
        fills: fills(instance, &jobs, scope),
    };
    let prices = prices(instance, &jobs, &seconds, shared);
    let all = evaluate(instance, &jobs, &seconds, &prices, shared, None);
    // A plan in which somebody does nothing at all saves that set-up, but has one worker less.
    let without = workers
        .clone()
        .map(|idle| evaluate(instance, &jobs, &seconds, &prices, shared, Some(idle)));
    let share = without.fold(all, f64::min);
    let fastest = |job: &u32| {
        workers
            .clone()
            .filter_map(|w| seconds(*job, w))
            .min()
            .unwrap_or(0)
    };
    let certificate = Certificate {
        work: jobs.iter().map(fastest).sum(),
        walking: shared.walking,
        fills: shared.fills,
        set_up: workers.clone().map(|w| set_up(instance, w)).sum(),
        available: workers
            .clone()
            .map(|w| i64::from(instance.workers[w].available))
            .sum(),
    };
    Bound { share, certificate }
}

/// What somebody has to do, no matter who.
#[derive(Clone, Copy)]
struct Shared {
    walking: i64,
    fills: i64,
}

fn set_up(instance: &Instance, worker: usize) -> i64 {
    i64::from(instance.workers[worker].set_up + instance.workers[worker].tear_down)
}

/// Prices per worker in whole numbers, from the linear program; all alike if the solver fails.
fn prices(
    instance: &Instance,
    jobs: &[u32],
    seconds: &impl Fn(u32, usize) -> Option<i64>,
    shared: Shared,
) -> Vec<i64> {
    /// Prices are cut to so many parts, which is far finer than any share that matters.
    const PARTS: f64 = 1e6;
    let uniform = vec![1; instance.workers.len()];
    let Some(duals) = solve(instance, jobs, seconds, shared) else {
        return uniform;
    };
    let highest = duals.iter().copied().fold(0.0, f64::max);
    if !highest.is_finite() || highest <= 0.0 {
        return uniform;
    }
    let cut = |dual: &f64| (dual / highest * PARTS).round().clamp(0.0, PARTS) as i64;
    // Prices that differ only by the solver's inexactness are made alike.
    let prices = duals
        .iter()
        .map(cut)
        .map(|p| if p > 999_000 { 1_000_000 } else { p })
        .collect_vec();
    let candidates = [prices, uniform];
    let value = |p: &Vec<i64>| evaluate(instance, jobs, seconds, p, shared, None);
    candidates
        .into_iter()
        .max_by(|a, b| value(a).total_cmp(&value(b)))
        .unwrap_or_default()
}

/// The dual prices of the workers' rows.
fn solve(
    instance: &Instance,
    jobs: &[u32],
    seconds: &impl Fn(u32, usize) -> Option<i64>,
    shared: Shared,
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
    let extra = (shared.walking + shared.fills) as f64;
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

/// The bound that prices prove, leaving out one worker or none. In whole numbers but for the last division.
fn evaluate(
    instance: &Instance,
    jobs: &[u32],
    seconds: &impl Fn(u32, usize) -> Option<i64>,
    prices: &[i64],
    shared: Shared,
    idle: Option<usize>,
) -> f64 {
    let workers = (0..instance.workers.len())
        .filter(|w| Some(*w) != idle)
        .collect_vec();
    let able = |job: &u32| {
        workers
            .iter()
            .filter_map(|w| Some(seconds(*job, *w)? * prices[*w]))
            .min()
    };
    let mut work = 0i64;
    for job in jobs {
        match able(job) {
            Some(least) => work += least,
            // Nobody else can do it: such a plan does not exist.
            None => return f64::INFINITY,
        }
    }
    let least = workers.iter().map(|w| prices[*w]).min().unwrap_or(0);
    work += least * (shared.walking + shared.fills);
    if idle.is_none() {
        work += workers
            .iter()
            .map(|w| prices[*w] * set_up(instance, *w))
            .sum::<i64>();
    }
    let available: i64 = workers
        .iter()
        .map(|w| prices[*w] * i64::from(instance.workers[*w].available))
        .sum();
    if available == 0 {
        return f64::INFINITY;
    }
    // One part in a billion less than computed, which is more than the division can be off.
    work as f64 / available as f64 * (1.0 - 1e-9)
}

/// Walking over all places with work, at times that no worker beats.
fn walking(instance: &Instance, jobs: &[u32], ideal: &Times) -> i64 {
    let places = jobs
        .iter()
        .map(|j| instance.jobs[*j as usize].place)
        .sorted()
        .dedup()
        .collect_vec();
    let starts = instance
        .workers
        .iter()
        .map(|w| w.start)
        .sorted()
        .dedup()
        .collect_vec();
    let way = |a: u32, b: u32| ideal.get(PlaceId(a), PlaceId(b)).map_or(0, |t| t.0);
    let near = places
        .iter()
        .map(|p| starts.iter().map(|s| way(*p, *s)).min().unwrap_or(0))
        .collect_vec();
    // All starts are one node, so through it a walk may be shorter.
    let walk = |a: usize, b: usize| way(places[a], places[b]).min(near[a] + near[b]);
    least_walking(places.len(), walk, |a| near[a])
}

/// Seconds of filling and dumping that no plan avoids: by rooms per bucket for each kind of water, and by volume of waste.
fn fills(instance: &Instance, jobs: &[u32], scope: &[u8]) -> i64 {
    let with_cart = instance
        .workers
        .iter()
        .enumerate()
        .filter(|(_, w)| w.with_cart.is_some())
        .collect_vec();
    let Some(rooms_per_fill) = with_cart
        .iter()
        .map(|(_, w)| i64::from(w.bucket_rooms))
        .max()
    else {
        return 0;
    };
    let cart = with_cart
        .iter()
        .map(|(_, w)| i64::from(w.cart))
        .max()
        .unwrap_or(1)
        .max(1);
    let mut mopped = [0i64; 2];
    let mut waste = 0i64;
    for job in jobs {
        let parts = |w: usize| instance.scope(w, *job, scope[*job as usize]).parts.iter();
        let mops = with_cart.iter().all(|(w, _)| parts(*w).any(|p| p.mop > 0));
        mopped[usize::from(instance.jobs[*job as usize].restroom)] += i64::from(mops);
        // Waste that leaves in trips of its own stop is not counted again.
        let left = |w: usize| -> i64 {
            parts(w)
                .map(|p| i64::from(p.waste_left.unwrap_or(p.waste)))
                .sum()
        };
        waste += with_cart.iter().map(|(w, _)| left(*w)).min().unwrap_or(0);
    }
    let up = |amount: i64, per: i64| if per > 0 { (amount + per - 1) / per } else { 0 };
    let fills: i64 = mopped.iter().map(|rooms| up(*rooms, rooms_per_fill)).sum();
    fills * i64::from(instance.fill) + up(waste, cart) * secs(instance.dump)
}

fn secs(time: Secs) -> i64 {
    i64::from(time)
}
