//! How much time was missing: for work that a plan leaves undone, by how little its best run would have to be longer.

use super::guess::guess_positions;
use super::insert::place;
use super::instance::{Instance, NO_WAY, Secs};
use super::order::Visit;
use super::search::Found;
use super::solution::Solution;
use super::stop::Stop;
use itertools::Itertools;

/// Runs may be longer by so much while work is tried; who would need more is not saved by a little more time.
const STRETCH: Secs = 4 * 3600;

/// How many positions are timed in each run.
const TIMED: usize = 30;

/// A run that would hold more work if it were longer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Overrun {
    /// By how many seconds it would end too late.
    pub seconds: Secs,
    /// Whose.
    pub worker: usize,
}

/// Whether those who have begun get home in time with nothing but what they have begun.
pub fn can_end(instance: &Instance, worker: usize) -> bool {
    let least = |w: usize| instance.before.begun(w).map_or(&[][..], |b| &b.visits);
    least(worker).is_empty() && instance.before.begun(worker).is_none()
        || Solution::idle(instance)
            .try_order(worker, least(worker))
            .is_some()
}

/// For each job and scope wanted, the run that would hold it with the least more time, all other runs standing still; `None` if more time
/// does not help. When it is time to stop, the answers so far.
///
/// # Complexity
/// Wants × workers × 30 timings of a run.
pub fn overruns(
    instance: &Instance,
    found: &Found,
    wants: &[(u32, u8)],
    stop: Stop,
) -> Vec<Option<Overrun>> {
    let mut relaxed = instance.clone();
    for worker in &mut relaxed.workers {
        worker.latest += STRETCH;
        worker.latest_unless_last += STRETCH;
    }
    let mut solution = Solution::idle(&relaxed);
    for (job, scope) in (0..).zip(&found.scope) {
        if !relaxed.before.is_open(job) {
            solution.set_scope(job, *scope);
        }
    }
    for (run, order) in found.runs.iter().enumerate() {
        solution.set_order(run, &order.visits);
    }
    solution.commit();
    let mut one = |(job, scope): &(u32, u8)| overrun(instance, &mut solution, *job, *scope);
    wants
        .iter()
        .map_while(|want| (!stop.has_ended()).then(|| one(want)))
        .collect()
}

fn overrun(instance: &Instance, solution: &mut Solution, job: u32, scope: u8) -> Option<Overrun> {
    if instance.before.is_open(job) {
        return None;
    }
    // A room that is done in part is its worker's.
    let by = solution.run_of[job as usize].map(usize::from);
    let workers = by.map_or_else(|| (0..instance.workers.len()).collect_vec(), |w| vec![w]);
    if by.is_some() && !solution.take_out(job) {
        return None;
    }
    solution.set_scope(job, scope);
    let each = workers.into_iter().filter_map(|worker| {
        let end = earliest_end(solution, worker, job)?;
        let who = &instance.workers[worker];
        let latest = who.latest.min(who.latest_unless_last);
        Some(Overrun {
            seconds: end - latest,
            worker,
        })
    });
    let best = each.min();
    solution.roll_back();
    best
}

/// When a run ends at the earliest with a job put in.
fn earliest_end(solution: &mut Solution, run: usize, job: u32) -> Option<Secs> {
    let mut positions = Vec::new();
    guess_positions(solution, run, job, &mut positions);
    positions.sort_unstable();
    let before: Vec<Visit> = solution.runs[run].visits.clone();
    let mut order = Vec::new();
    let mut best: Option<Secs> = None;
    for position in positions.iter().take(TIMED) {
        place(solution, job, *position, &mut order);
        if solution.set_order(run, &order) {
            let end = solution.runs[run].ending.end;
            best = Some(best.map_or(end, |least| least.min(end)));
            if !solution.set_order(run, &before) {
                break;
            }
        }
    }
    best.filter(|end| *end < NO_WAY)
}
