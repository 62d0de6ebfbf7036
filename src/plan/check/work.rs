//! Rule 1: everything due is done once, where it is and in its own time, or is listed undone; nothing else is done.
//!
//! A stop of work is exactly as long as its tasks and the trips it needs. A room is one worker's in one visit, unless its tasks
//! need what no one person has.

use super::findings::{Findings, exact};
use super::rule::Rule;
use super::skills;
use crate::plan::reading::{ReadRun, Reading, Visit};
use crate::plan::{UndoneWork, What};
use crate::site::{RoomId, WorkerId};
use crate::units::Seconds;
use crate::work::{DueTask, due_on};
use itertools::Itertools;
use std::collections::{BTreeMap, BTreeSet};

/// Places, tasks and lengths of one run's stops of work.
pub(super) fn of_run(_: &Reading, run: &ReadRun, found: &mut Findings) {
    for at in 0..run.stops.len() {
        stands_where_it_is(run, at, found);
        has_its_tasks(run, at, found);
        takes_its_time(run, at, found);
    }
}

fn stands_where_it_is(run: &ReadRun, at: usize, found: &mut Findings) {
    let stop = &run.stops[at];
    let place = match stop.what {
        What::Duty(duty) => run.site.duties[duty].place,
        _ => match stop.what.room() {
            Some(room) => run.site.place_of_room(room),
            None => return,
        },
    };
    if stop.place != place {
        let right = &run.site.places[place.index()].id;
        found.at_stop(Rule::Work, run, at, &format!("this work is at `{right}`"));
    }
}

fn has_its_tasks(run: &ReadRun, at: usize, found: &mut Findings) {
    let what = &run.stops[at].what;
    let (Some(room), tasks) = (what.room(), what.tasks()) else {
        return;
    };
    if tasks.is_empty() && !matches!(what, What::Reopen(_)) {
        found.at_stop(Rule::Work, run, at, "there is nothing to do");
    }
    for task in tasks.iter().filter(|t| t.room != room) {
        let (name, own) = (
            &task.task(run.site).name,
            &run.site.rooms[task.room.index()].id,
        );
        found.at_stop(Rule::Work, run, at, &format!("`{name}` belongs to `{own}`"));
    }
    for task in tasks.iter().duplicates() {
        let name = &task.task(run.site).name;
        found.at_stop(Rule::Work, run, at, &format!("`{name}` is listed twice"));
    }
}

fn takes_its_time(run: &ReadRun, at: usize, found: &mut Findings) {
    let stop = &run.stops[at];
    if stop.what.tasks().is_empty() && !matches!(stop.what, What::Duty(_)) {
        return;
    }
    // Where a trip is impossible, the rules on water and waste say so.
    let Some(needed) = run.length(stop) else {
        return;
    };
    let planned = stop.span.to - stop.span.from;
    if planned != needed {
        let trips = needed - run.work_time(stop);
        let with = match trips {
            Seconds::ZERO => String::new(),
            _ => format!(" with {} of trips", exact(trips)),
        };
        let problem = format!(
            "takes {}{with}, planned are {}",
            exact(needed),
            exact(planned)
        );
        found.at_stop(Rule::Work, run, at, &problem);
    }
}

/// What is due against what is done and what is listed undone.
pub(super) fn across(reading: &Reading, found: &mut Findings) {
    let done = done_by(reading);
    let mut undone: BTreeMap<UndoneWork, usize> = BTreeMap::new();
    for entry in &reading.plan.undone {
        *undone.entry(entry.what).or_default() += 1;
    }
    let due = due(reading);
    let all: BTreeSet<UndoneWork> = due
        .iter()
        .chain(done.keys())
        .chain(undone.keys())
        .copied()
        .collect();
    for work in all {
        let by = done.get(&work).map_or(&[][..], Vec::as_slice);
        let listed = undone.get(&work).copied().unwrap_or(0);
        if let Some(problem) = problem_of(reading, due.contains(&work), by, listed) {
            found.in_plan(Rule::Work, format!("{} {problem}", name(reading, work)));
        }
    }
    one_room_one_worker(reading, found);
}

fn problem_of(reading: &Reading, due: bool, by: &[WorkerId], listed: usize) -> Option<String> {
    let names = || {
        by.iter()
            .map(|w| reading.site.crew[w.index()].name.as_str())
            .join(" and ")
    };
    match (due, by.len(), listed) {
        (false, 0, _) => Some(format!(
            "is listed undone, though not due on {}",
            reading.plan.date
        )),
        (false, _, _) => Some(format!(
            "is done by {}, though not due on {}",
            names(),
            reading.plan.date
        )),
        (true, 0, 0) => Some("is due, but neither done nor listed undone".to_string()),
        (true, 0, 1) | (true, 1, 0) => None,
        (true, 0, _) => Some(format!("is listed undone {listed} times")),
        (true, 1, _) => Some(format!("is done by {} and listed undone", names())),
        (true, _, _) => Some(format!("is done more than once: by {}", names())),
    }
}

/// Who does what; a visit counts once, whatever the number of its stops.
fn done_by(reading: &Reading) -> BTreeMap<UndoneWork, Vec<WorkerId>> {
    let mut done: BTreeMap<UndoneWork, Vec<WorkerId>> = BTreeMap::new();
    for run in &reading.runs {
        let tasks = run
            .visits()
            .into_iter()
            .flat_map(|v| run.tasks_of(v))
            .map(UndoneWork::Task);
        let duties = run.stops.iter().filter_map(|stop| match stop.what {
            What::Duty(duty) => Some(UndoneWork::Duty(duty)),
            _ => None,
        });
        for work in tasks.chain(duties) {
            done.entry(work).or_default().push(run.id);
        }
    }
    done
}

fn due(reading: &Reading) -> BTreeSet<UndoneWork> {
    let today = reading.plan.date.weekday();
    let tasks = due_on(reading.site, reading.plan.date)
        .into_iter()
        .map(UndoneWork::Task);
    let duties = reading
        .site
        .duties
        .iter()
        .enumerate()
        .filter(|(_, d)| d.days.contains(today));
    tasks
        .chain(duties.map(|(index, _)| UndoneWork::Duty(index)))
        .collect()
}

fn name(reading: &Reading, work: UndoneWork) -> String {
    match work {
        UndoneWork::Task(task) => {
            let room = &reading.site.rooms[task.room.index()].id;
            format!("`{}` in `{room}`", task.task(reading.site).name)
        }
        UndoneWork::Duty(duty) => format!("duty `{}`", reading.site.duties[duty].name),
    }
}

fn one_room_one_worker(reading: &Reading, found: &mut Findings) {
    let mut visits: BTreeMap<RoomId, Vec<&ReadRun>> = BTreeMap::new();
    // Whoever comes in the night cannot have done what was done before.
    let mut done: BTreeSet<DueTask> = BTreeSet::new();
    for run in &reading.runs {
        for visit in run.visits().into_iter().filter(|v| v.last_work().is_some()) {
            if is_behind(run, visit) {
                done.extend(run.tasks_of(visit));
            } else {
                visits.entry(visit.room).or_default().push(run);
            }
        }
    }
    visits.retain(|_, runs| runs.len() > 1);
    if visits.is_empty() {
        return;
    }
    let due = due_on(reading.site, reading.plan.date);
    for (room, runs) in visits {
        let possible =
            |task: &&DueTask| task.room == room && reading.runs.iter().any(|r| may_do(r, **task));
        let to_come = due.iter().filter(|t| !done.contains(t));
        let tasks: Vec<DueTask> = to_come.filter(possible).copied().collect();
        if let Some(alone) = runs
            .iter()
            .find(|run| tasks.iter().all(|t| may_do(run, *t)))
        {
            let (room, name) = (&reading.site.rooms[room.index()].id, &alone.worker.name);
            let problem = format!(
                "`{room}` is visited {} times, though {name} may do all of it at once",
                runs.len()
            );
            found.in_plan(Rule::Work, problem);
        }
    }
}

/// Whether a visit has begun by the time it is now, or its worker is on the way to it.
fn is_behind(run: &ReadRun, visit: Visit) -> bool {
    let (Some(now), Some(at)) = (run.site.now, visit.stops().next()) else {
        return false;
    };
    let (before, first) = (at.checked_sub(1).map(|at| &run.stops[at]), &run.stops[at]);
    let walk = before.and_then(|b| run.walk(b.place, first.place));
    first.span.from - walk.unwrap_or_default() < now
}

fn may_do(run: &ReadRun, task: DueTask) -> bool {
    skills::lacking(run.site, run.worker, run.id, task).is_none()
}
