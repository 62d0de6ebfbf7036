//! Puts jobs back, each where it costs least, in an order drawn by chance; gives up tasks by priority where time is short.

use super::insert::{insert, insert_into};
use super::near::Near;
use super::prices::Prices;
use super::solution::Solution;
use itertools::Itertools;
use rand::seq::SliceRandom;
use rand::{Rng, RngExt};

/// What a plan must stay below to be of use.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bar {
    /// A price up to which it is accepted,
    pub(super) price: i64,
    /// or a highest share, in bands, below which it is accepted at any price.
    pub(super) share: i64,
}

impl Bar {
    /// Everything is of use.
    pub(super) const NONE: Bar = Bar {
        price: i64::MAX,
        share: i64::MAX,
    };
}

/// Puts back every job that is not done, and tries to raise those done in part.
///
/// Gives up, with false, as soon as the plan is sure not to pass the bar; it is then in the middle of it.
pub(super) fn recreate<R: Rng>(
    solution: &mut Solution,
    jobs: &mut [u32],
    bar: Bar,
    near: &Near,
    rng: &mut R,
) -> bool {
    sort_by_chance(solution, jobs, rng);
    let mut short = Vec::new();
    let mut lost = 0i64;
    // Whole jobs are put in sooner than task after task: where people know a plan, and time is short, that is tried as often.
    let whole = solution.instance.before.is_known() && rng.random_bool(0.5);
    let scarce = !whole && !solution.is_complete_without(jobs);
    for job in jobs.iter().copied() {
        if scarce {
            short.push(job);
            continue;
        }
        solution.set_scope(job, solution.instance.jobs[job as usize].full());
        if !insert(solution, job, near, rng) {
            solution.set_scope(job, 0);
            short.push(job);
            lost = lost.saturating_add(least_left_out(solution, job));
        }
        // What is still to come only makes the runs longer and dearer. With something left out, even shares are no excuse.
        let runs = solution.price_of_runs();
        if runs.saturating_add(lost) > bar.price
            && (lost > 0 || solution.highest_band() >= bar.share)
        {
            return false;
        }
    }
    if short.is_empty() {
        return true;
    }
    // Not all of it fits: most important work of every job first, then the next, each as far as it goes.
    short.sort_by_key(|job| std::cmp::Reverse(health(solution, *job)));
    for priority in 0..3 {
        for job in &short {
            raise(solution, *job, priority, near, rng);
        }
    }
    true
}

/// Puts jobs into their owners' runs, and keeps in `jobs` those that have no owner or do not fit there.
pub(super) fn give_to_owners<R: Rng>(
    solution: &mut Solution,
    jobs: &mut Vec<u32>,
    split: &[Option<u16>],
    rng: &mut R,
) {
    sort_by_chance(solution, jobs, rng);
    jobs.retain(|job| {
        let Some(owner) = split.get(*job as usize).copied().flatten() else {
            return true;
        };
        solution.set_scope(*job, solution.instance.jobs[*job as usize].full());
        let fits = insert_into(solution, *job, &[owner], rng);
        if !fits {
            solution.set_scope(*job, 0);
        }
        !fits
    });
}

/// Price of leaving out as little as possible of a job.
fn least_left_out(solution: &Solution, job: u32) -> i64 {
    let undone = &solution.instance.jobs[job as usize].undone;
    undone
        .iter()
        .rev()
        .nth(1)
        .map_or(0, |left| Prices::undone(*left))
}

fn health(solution: &Solution, job: u32) -> i64 {
    solution.instance.jobs[job as usize].undone[0][0]
}

/// Does as many tasks of a job as belong to priorities up to `priority`, or as many of those as fit.
pub(super) fn raise<R: Rng>(
    solution: &mut Solution,
    job: u32,
    priority: usize,
    near: &Near,
    rng: &mut R,
) {
    let undone = &solution.instance.jobs[job as usize].undone;
    let before = solution.scope[job as usize];
    let goal = (0..undone.len()).find(|s| undone[*s][..=priority].iter().all(|left| *left == 0));
    let goal = goal.unwrap_or(undone.len() - 1) as u8;
    if goal <= before {
        return;
    }
    let old = solution.run_of[job as usize].map(|run| {
        (
            usize::from(run),
            solution.runs[usize::from(run)].visits.clone(),
        )
    });
    if before > 0 && !solution.take_out(job) {
        return;
    }
    for scope in (before + 1..=goal).rev() {
        solution.set_scope(job, scope);
        if insert(solution, job, near, rng) {
            return;
        }
    }
    solution.set_scope(job, before);
    let back = old.is_some_and(|(run, visits)| solution.set_order(run, &visits));
    if !back && solution.scope[job as usize] > 0 {
        solution.set_scope(job, 0);
    }
}

fn sort_by_chance<R: Rng>(solution: &Solution, jobs: &mut [u32], rng: &mut R) {
    let instance = solution.instance;
    let window = |job: u32| -> i64 {
        let job = &instance.jobs[job as usize];
        job.windows
            .iter()
            .map(|(from, to)| i64::from(*to) - i64::from(*from))
            .sum()
    };
    let length = |job: u32| {
        let first = instance
            .scopes
            .first()
            .and_then(|jobs| jobs[job as usize].last());
        first.map_or(0, |s| s.closed)
    };
    jobs.shuffle(rng);
    match rng.random_range(0..8) {
        0..3 => {}
        3..6 => jobs.sort_by_cached_key(|j| -length(*j)),
        6 => jobs.sort_by_cached_key(|j| window(*j)),
        _ => {
            let start = instance.workers.first().map_or(0, |w| w.start);
            if let Some(table) = instance.walks.first() {
                jobs.sort_by_cached_key(|j| -table.walk(start, instance.jobs[*j as usize].place));
            }
        }
    }
    // Whoever locks up needs the end of the run free: that is settled before it fills.
    jobs.sort_by_key(|j| !instance.jobs[*j as usize].last);
}

/// Jobs not done, or not done in full.
pub(super) fn wanting(solution: &Solution) -> Vec<u32> {
    let short =
        |job: &u32| solution.scope[*job as usize] < solution.instance.jobs[*job as usize].full();
    (0..solution.scope.len() as u32).filter(short).collect_vec()
}
