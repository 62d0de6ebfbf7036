//! What would become of a plan if a job were done by somebody else, or in full: the same exact timing as in the search, asked about one job.

use super::guess::guess_positions;
use super::insert::Position;
use super::instance::{Instance, Secs};
use super::order::Visit;
use super::search::Start;
use super::solution::Solution;
use itertools::Itertools;
use std::cmp::Ordering;

/// One worker and one job.
#[derive(Clone, Debug, PartialEq)]
pub struct Elsewhere {
    /// Who would do it.
    pub worker: usize,
    /// What would become of that.
    pub could: Could,
}

/// Whether a job can be put into a run that is otherwise kept in its order.
#[derive(Clone, Debug, PartialEq)]
pub enum Could {
    /// This worker may not do it.
    NotAllowed,
    /// No place for it was found in that run.
    NoPlace {
        /// Seconds of work it takes this worker.
        takes: Secs,
        /// Seconds of the shift that are neither load nor break.
        left: Secs,
        /// Whether it would fit if the worker did nothing else.
        alone: bool,
    },
    /// It fits.
    Fits {
        /// Whether the plan would be better, as good, or worse, by the order of goals.
        than_now: Ordering,
        /// The worker's share now and then.
        share: (f64, f64),
        /// The highest share now and then.
        highest: (f64, f64),
        /// Seconds not spent cleaning that this would add over all runs; negative if it saves some.
        not_cleaning: Secs,
    },
}

/// A plan to ask about.
#[derive(Clone, Copy, Debug)]
pub struct AsPlanned<'a> {
    /// Its orders, by worker.
    pub orders: &'a Start,
    /// When each job begins, if it is done.
    pub begins: &'a [Option<Secs>],
    /// How many tasks of each job are done.
    pub scope: &'a [u8],
}

/// For every worker: what becomes of a plan if they do the first `wanted` tasks of a job. `None` if the runs cannot be timed again as they are.
///
/// # Complexity
/// One exact timing for each promising position in each run.
pub fn elsewhere(
    instance: &Instance,
    plan: AsPlanned,
    job: u32,
    wanted: u8,
) -> Option<Vec<Elsewhere>> {
    // Without the job, what comes after it may begin earlier, and so get in the way of others; then it has to stay where it is.
    let mut pinned = pinned(instance, plan);
    pinned.jobs[job as usize].not_before = instance.jobs[job as usize].not_before;
    [instance, &pinned].into_iter().find_map(|within| {
        let now = timed(within, plan)?;
        let without = removed(&now, job, wanted)?;
        let ask = |worker| Elsewhere {
            worker,
            could: could(&now, &without, worker, job),
        };
        Some((0..plan.orders.len()).map(ask).collect())
    })
}

/// No job begins earlier than planned.
fn pinned(instance: &Instance, plan: AsPlanned) -> Instance {
    let mut pinned = instance.clone();
    for (job, begins) in pinned.jobs.iter_mut().zip(plan.begins) {
        job.not_before = begins.map_or(job.not_before, |at| job.not_before.max(at));
    }
    pinned
}

/// The plan as it was. Runs are timed one after another, each stop as early as it may, and may so get in each other's way: if no job
/// begins earlier than planned, or another run comes first, they may not.
fn timed<'a>(instance: &'a Instance, plan: AsPlanned) -> Option<Solution<'a>> {
    let pinned = pinned(instance, plan);
    let runs = plan.orders.len();
    let tries = [&pinned, instance]
        .into_iter()
        .cartesian_product(0..runs.max(1));
    let mut timed = tries.filter_map(|(within, first)| {
        let mut now = idle(within, plan);
        for run in (0..runs).map(|index| (first + index) % runs) {
            let order = as_scoped(instance, run, &plan.orders[run], plan.scope);
            if !now.set_order(run, &order) {
                return None;
            }
        }
        let mut solution = idle(instance, plan);
        (0..runs).for_each(|run| solution.copy_run(run, &now));
        solution.commit();
        Some(solution)
    });
    timed.next()
}

/// Nobody does anything yet.
fn idle<'a>(instance: &'a Instance, plan: AsPlanned) -> Solution<'a> {
    let mut solution = Solution::idle(instance);
    solution.be_thorough();
    for (job, tasks) in plan.scope.iter().enumerate().filter(|(_, t)| **t > 0) {
        solution.set_scope(job as u32, *tasks);
    }
    solution
}

/// The visits of an order with as many parts of each job as its scope has: missing ones follow the last, others are left out.
fn as_scoped(instance: &Instance, run: usize, visits: &[Visit], scope: &[u8]) -> Vec<Visit> {
    let parts = |job: u32| instance.scope(run, job, scope[job as usize]).parts.len();
    let mut order = Vec::with_capacity(visits.len());
    for (index, visit) in visits.iter().enumerate() {
        let parts = if scope[visit.job as usize] == 0 {
            0
        } else {
            parts(visit.job)
        };
        if usize::from(visit.part) < parts {
            order.push(*visit);
        }
        let is_last = !visits[index + 1..].iter().any(|v| v.job == visit.job);
        if is_last {
            let missing = usize::from(visit.part) + 1..parts;
            order.extend(missing.map(|part| Visit {
                job: visit.job,
                part: part as u8,
            }));
        }
    }
    order
}

/// The plan without a job, which is then to be done with `wanted` tasks.
fn removed<'a>(now: &Solution<'a>, job: u32, wanted: u8) -> Option<Solution<'a>> {
    let mut without = now.clone();
    let others = |s: &Solution| {
        s.runs
            .iter()
            .flat_map(|r| &r.visits)
            .filter(|v| v.job != job)
            .count()
    };
    // A run that cannot be timed without the job is taken apart, or stays.
    if !without.take_out(job) || others(&without) != others(now) {
        return None;
    }
    without.set_scope(job, wanted);
    without.commit();
    Some(without)
}

fn could(now: &Solution, without: &Solution, worker: usize, job: u32) -> Could {
    if !now.instance.jobs[job as usize].eligible[worker] {
        return Could::NotAllowed;
    }
    let mut then = without.clone();
    let mut positions: Vec<Position> = Vec::new();
    if then.plain {
        // Every job has one part there, and each place is timed in no time.
        let places = 0..=then.runs[worker].visits.len() as u16;
        positions.extend(places.map(|at| Position {
            guess: 0,
            run: worker,
            at: [at; 3],
        }));
    } else {
        guess_positions(&then, worker, job, &mut positions);
        positions.sort_unstable();
    }
    let mut best: Option<(i64, Vec<Visit>)> = None;
    for position in positions {
        let order = with(&then, worker, job, position);
        if let Some(price) = then.try_order(worker, &order)
            && best.as_ref().is_none_or(|(least, _)| price < *least)
        {
            best = Some((price, order));
        }
    }
    if !best.is_some_and(|(_, order)| then.set_order(worker, &order)) {
        return no_place(without, worker, job);
    }
    Could::Fits {
        than_now: now.standing().cmp(&then.standing()),
        share: (share(now, worker), share(&then, worker)),
        highest: (now.highest_share(), then.highest_share()),
        not_cleaning: not_cleaning(&then) - not_cleaning(now),
    }
}

fn no_place(without: &Solution, worker: usize, job: u32) -> Could {
    let who = &without.instance.workers[worker];
    let scope = without.scope[job as usize];
    let parts = without.instance.scope(worker, job, scope).parts.len() as u8;
    let visits: Vec<Visit> = (0..parts).map(|part| Visit { job, part }).collect();
    let mut idle = Solution::idle(without.instance);
    idle.set_scope(job, scope);
    let breaks: Secs = who.breaks.iter().map(|b| b.length).sum();
    Could::NoPlace {
        takes: without.instance.work(worker, job, scope),
        left: who.latest - who.from - breaks - without.runs[worker].ending.load,
        alone: idle.try_order(worker, &visits).is_some(),
    }
}

/// The order of a run with a job put in.
fn with(solution: &Solution, run: usize, job: u32, position: Position) -> Vec<Visit> {
    let visits = &solution.runs[run].visits;
    let parts = solution
        .instance
        .scope(run, job, solution.scope[job as usize])
        .parts
        .len();
    let mut order = Vec::with_capacity(visits.len() + parts);
    let mut next = 0;
    for index in 0..=visits.len() {
        while next < parts && usize::from(position.at[next]) == index {
            order.push(Visit {
                job,
                part: next as u8,
            });
            next += 1;
        }
        order.extend(visits.get(index));
    }
    order
}

fn share(solution: &Solution, worker: usize) -> f64 {
    let available = solution.instance.workers[worker].available.max(1);
    f64::from(solution.runs[worker].ending.load) / f64::from(available)
}

fn not_cleaning(solution: &Solution) -> Secs {
    solution
        .runs
        .iter()
        .map(|r| r.ending.load - r.costs.work + r.ending.idle)
        .sum()
}
