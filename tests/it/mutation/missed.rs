//! Rule 14 misses nothing of a real plan: whatever is taken out of it while less important work is done would fit where it was.

use crate::common::demo;
use crate::support::planner::{date_of, planned};
use evenrun::plan::{Plan, PlannedStop, Reason, Rule, Undone, UndoneWork, What, check};
use evenrun::site::{Method, Site};
use evenrun::units::Seconds;
use evenrun::work::DueTask;

/// One in so many tasks is taken out: a check of the whole plan each.
const ONE_IN: usize = 4;

fn has_dwell(site: &Site, task: DueTask) -> bool {
    matches!(task.task(site).method, Method::Spray { dwell } if dwell > Seconds::ZERO)
}

/// Tasks that the rule looks at.
fn is_plain(site: &Site, task: DueTask) -> bool {
    task.task(site).machine.is_none() && !task.is_mopping(site) && !has_dwell(site, task)
}

fn tasks_of_plain_stops(stop: &PlannedStop) -> &[DueTask] {
    match &stop.what {
        What::Clean(_, tasks) => tasks,
        _ => &[],
    }
}

/// The plan without a task of one stop, which ends sooner, or is gone.
fn without(site: &Site, plan: &Plan, run: usize, at: usize, task: DueTask) -> Plan {
    let mut plan = plan.clone();
    let worker = &site.crew[plan.runs[run].worker.index()];
    let stop = &mut plan.runs[run].stops[at];
    if let What::Clean(_, tasks) = &mut stop.what {
        tasks.retain(|t| *t != task);
    }
    let seconds = Seconds::of_work(task.minutes(site) + task.wipe_minutes(site), worker.pace);
    stop.span.to = stop.span.to - seconds;
    if stop.what.tasks().is_empty() {
        plan.runs[run].stops.remove(at);
    }
    plan.undone.push(Undone {
        what: UndoneWork::Task(task),
        reason: Reason::NoTime,
    });
    plan
}

#[test]
fn whatever_is_taken_out_of_a_full_plan_is_missed() {
    let site = demo();
    let plan = planned(&site, 300, 1).plan;
    assert!(plan.undone.is_empty());
    let present = site.present(date_of(&site), &[]);
    let (mut in_its_stop, mut alone) = (0, 0);
    for (index, run) in plan.runs.iter().enumerate() {
        let done = || run.stops.iter().flat_map(tasks_of_plain_stops);
        let is_last = |task: DueTask| {
            let less = |t: &DueTask| t.priority(&site) > task.priority(&site);
            !done().any(|t| less(t) && !has_dwell(&site, *t))
        };
        let stops = run.stops.iter().enumerate();
        let all = stops.flat_map(|(at, s)| tasks_of_plain_stops(s).iter().map(move |t| (at, *t)));
        let wanted = all.filter(|(_, task)| is_plain(&site, *task) && !is_last(*task));
        for (at, task) in wanted.step_by(ONE_IN) {
            let is_only = run.stops[at].what.tasks().len() == 1;
            if is_only && site.kinds[task.kind.index()].reopen.is_some() {
                continue;
            }
            let found = check(&site, &without(&site, &plan, index, at, task), &present);
            let name = format!(
                "{} in {}",
                task.task(&site).name,
                site.rooms[task.room.index()].id
            );
            let is_it = |v: &evenrun::plan::Violation| {
                v.rule == Rule::Priority && v.exchange.as_ref().is_some_and(|e| e.add == task)
            };
            assert!(found.len() == 1 && is_it(&found[0]), "{name}: {found:?}");
            *(if is_only {
                &mut alone
            } else {
                &mut in_its_stop
            }) += 1;
        }
    }
    assert!(in_its_stop > 20 && alone > 0, "{in_its_stop} and {alone}");
}
