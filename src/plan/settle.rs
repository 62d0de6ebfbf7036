//! The last touch to a plan that leaves something undone: what matters less makes room for what matters more.
//!
//! The search gives up a room's tasks from the least important one on, never one out of the middle; the checker looks closer.
//! Each exchange it names is made, until it names none. That ends: every exchange trades an undone task for a less
//! important one, or for several.

use super::check::{Rule, Violation, check};
use super::model::{Plan, Reason, Undone, UndoneWork};
use crate::site::{Site, WorkerId};
use crate::work::DueTask;
use itertools::Itertools;

/// Makes all exchanges in runs of those who `may` take the work over, and tells what the checker still finds: nothing, in a sound plan.
///
/// # Complexity
/// At most one check for each task left undone and priority.
pub(crate) fn settle(
    site: &Site,
    plan: &mut Plan,
    present: &[WorkerId],
    may: &dyn Fn(WorkerId, DueTask) -> bool,
) -> Vec<Violation> {
    let mut cautious: Option<Plan> = None;
    loop {
        let mut found = check(site, plan, present);
        found.retain(|v| is_for(v, may));
        if found.iter().any(|v| v.rule != Rule::Priority) {
            // Exchanges in several runs at once may get in each other's way; one alone was tried by the checker.
            match cautious.take() {
                Some(one) => *plan = one,
                None => return found,
            }
            continue;
        }
        let better = found.iter().filter(|v| v.exchange.is_some());
        let better = better.unique_by(|v| v.worker).collect_vec();
        if better.is_empty() {
            return found;
        }
        cautious = (better.len() > 1).then(|| exchanged(plan, &better[..1]));
        *plan = exchanged(plan, &better);
    }
}

/// Whether a violation counts: an exchange only in the run of somebody who may take the work over.
fn is_for(violation: &Violation, may: &dyn Fn(WorkerId, DueTask) -> bool) -> bool {
    match (&violation.exchange, violation.worker) {
        (Some(exchange), Some(worker)) => may(worker, exchange.add),
        _ => true,
    }
}

fn exchanged(plan: &Plan, better: &[&Violation]) -> Plan {
    let mut plan = plan.clone();
    for violation in better {
        let Some(exchange) = &violation.exchange else {
            continue;
        };
        if let Some(run) = plan
            .runs
            .iter_mut()
            .find(|r| Some(r.worker) == violation.worker)
        {
            run.stops.clone_from(&exchange.stops);
            replace_undone(&mut plan, exchange.add, &exchange.drops);
        }
    }
    plan
}

fn replace_undone(plan: &mut Plan, done: DueTask, left: &[DueTask]) {
    plan.undone.retain(|u| u.what != UndoneWork::Task(done));
    plan.undone.extend(left.iter().map(|task| Undone {
        what: UndoneWork::Task(*task),
        reason: Reason::NoTime,
    }));
    plan.undone.sort_by_key(|u| u.what);
}
