//! Before any rule: whether every id of the plan is one of the site's, and every time within reach of the plan's date.
//!
//! A plan read from a file has passed this already. One put together by hand in code may not have, and then none of the rules
//! could be looked at safely.

use super::findings::{Findings, Violation};
use super::rule::Rule;
use crate::plan::{Plan, Run, UndoneWork, What};
use crate::site::{RoomId, Site, WorkerId};
use crate::units::Clock;
use crate::work::DueTask;

/// The furthest that any time of a plan may lie from its date's midnight.
const REACH: Clock = Clock::at(10 * 24, 0);

/// What the site does not know; as violations of the first rule.
pub(super) fn strangers(site: &Site, plan: &Plan, present: &[WorkerId]) -> Vec<Violation> {
    let mut found = Findings::default();
    let mut missing = |what: String| {
        found.in_plan(Rule::Work, format!("{what} is none of the site's"));
    };
    for worker in present.iter().filter(|w| w.index() >= site.crew.len()) {
        missing(format!("worker {} among those present", worker.index()));
    }
    for (index, run) in plan.runs.iter().enumerate() {
        in_run(site, run, &mut |what| {
            missing(format!("{what} of run {}", index + 1));
        });
    }
    for (index, undone) in plan.undone.iter().enumerate() {
        let known = match undone.what {
            UndoneWork::Task(task) => is_known(site, task),
            UndoneWork::Duty(duty) => duty < site.duties.len(),
        };
        if !known {
            missing(format!("the work of entry {} of what is undone", index + 1));
        }
    }
    found.in_order()
}

fn in_run(site: &Site, run: &Run, missing: &mut dyn FnMut(String)) {
    let Some(worker) = site.crew.get(run.worker.index()) else {
        return missing("the worker".to_string());
    };
    for (index, stop) in run.stops.iter().enumerate() {
        let mut missing = |what: &str| missing(format!("{what} of stop {}", index + 1));
        if stop.place.index() >= site.places.len() {
            missing("the place");
        }
        let within = |moment: Clock| moment.0.abs() <= REACH.0;
        if !within(stop.span.from) || !within(stop.span.to) {
            missing("the time");
        }
        match &stop.what {
            What::Duty(duty) if *duty >= site.duties.len() => missing("the duty"),
            What::Break(taken) if *taken >= worker.breaks.len() => missing("the break"),
            What::Fetch(machine) | What::Return(machine)
                if machine.index() >= site.machines.len() =>
            {
                missing("the machine");
            }
            what if what.room().is_some_and(|room| !has_room(site, room)) => missing("the room"),
            what if what.tasks().iter().any(|t| !is_known(site, *t)) => missing("a task"),
            _ => {}
        }
    }
}

fn has_room(site: &Site, room: RoomId) -> bool {
    room.index() < site.rooms.len()
}

fn is_known(site: &Site, task: DueTask) -> bool {
    let room = site.rooms.get(task.room.index());
    let kind = site.kinds.get(task.kind.index());
    room.is_some_and(|r| r.kind == task.kind) && kind.is_some_and(|k| task.index < k.tasks.len())
}
