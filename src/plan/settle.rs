//! The last touch to a plan that leaves something undone: what matters less makes room for what matters more.
//!
//! The search gives up a room's tasks from the least important one on, never one out of the middle; the checker looks closer.
//! Each exchange it names is made, until it names none. That ends: every exchange trades an undone task for a less
//! important one, or for several.

use super::ReadWalks;
use super::check::{Checker, Rule, Violation};
use super::model::{Plan, Reason, Undone, UndoneWork};
use crate::site::{Site, WorkerId};
use crate::work::DueTask;

/// Makes all exchanges in runs of those who `may` take the work over, and tells what the checker still finds: nothing, in a sound plan.
///
/// # Complexity
/// A few looks at the plan: each finds all exchanges that can be made one after the other, up to one for each undone task.
pub(crate) fn settle(
    site: &Site,
    plan: &mut Plan,
    present: &[WorkerId],
    may: &dyn Fn(WorkerId, DueTask) -> bool,
    walks: &mut ReadWalks,
) -> Vec<Violation> {
    let mut checker = Checker::new(site, present, may, walks);
    loop {
        let found = checker.look(plan);
        let better = found.iter().any(|v| v.exchange.is_some());
        if !better || found.iter().any(|v| v.rule != Rule::Priority) {
            return found;
        }
        *plan = exchanged(plan, &found);
    }
}

fn exchanged(plan: &Plan, better: &[Violation]) -> Plan {
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
