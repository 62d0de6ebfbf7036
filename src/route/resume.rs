//! Takes up the plan that people know, as they know it: the same orders at the same times, as far as these still fit.
//!
//! Runs are timed one at a time around those that stand already, each stop as early as it may. Timed in another sequence the same
//! orders may get in each other's way. So no stop starts earlier than it did; only runs that do not fit like that are timed afresh.

use super::order::Visit;
use super::search::Start;
use super::solution::Solution;
use itertools::Itertools;

/// Takes over earlier orders. What does not fit any more is dropped, from the back of its run.
pub(super) fn resume(solution: &mut Solution, start: &Start) {
    let mut pinned = solution.instance.clone();
    if let Some(known) = &solution.instance.before.known {
        for (job, was) in pinned.jobs.iter_mut().zip(&known.jobs) {
            let start = was.as_ref().and_then(|w| w.starts.first());
            job.not_before = start.map_or(job.not_before, |s| job.not_before.max(*s));
        }
    }
    let mut as_known = Solution::idle(&pinned);
    let fits = |(run, order): (usize, &Vec<Visit>)| take_over(&mut as_known, run, order);
    let fitting = start.iter().enumerate().map(fits).collect_vec();
    for (run, _) in fitting.iter().enumerate().filter(|(_, fits)| **fits) {
        solution.copy_run(run, &as_known);
    }
    for (run, _) in fitting.iter().enumerate().filter(|(_, fits)| !**fits) {
        let mut order = start[run].clone();
        while !take_over(solution, run, &order) {
            let open = &solution.instance.before;
            let last = order.iter().rev().find(|v| !open.is_open(v.job));
            let Some(last) = last.map(|v| v.job) else {
                break;
            };
            order.retain(|v| v.job != last);
        }
    }
    solution.commit();
}

/// How many tasks of a job were planned before.
fn known_scope(solution: &Solution, job: u32) -> u8 {
    let full = solution.instance.jobs[job as usize].full();
    let known = solution.instance.before.known.as_ref();
    let was = known.and_then(|k| k.jobs[job as usize].as_ref());
    was.map_or(full, |w| w.scope.clamp(1, full))
}

/// Gives a run an order, with as much of each job as before. False, and nothing is changed, if it does not fit.
fn take_over(solution: &mut Solution, run: usize, order: &[Visit]) -> bool {
    let jobs = order
        .iter()
        .filter(|v| v.part == 0)
        .map(|v| v.job)
        .collect_vec();
    for job in &jobs {
        solution.set_scope(*job, known_scope(solution, *job));
    }
    let fits = solution.set_order(run, order) || solution.set_order_thoroughly(run, order);
    if !fits {
        for job in &jobs {
            solution.set_scope(*job, 0);
        }
    }
    fits
}
