//! Rule 10: who does a task has its skills, may lift what it needs lifted, has a cart if it takes one, and may enter the room.

use super::findings::Findings;
use super::rule::Rule;
use crate::plan::What;
use crate::plan::reading::{ReadRun, Reading};
use crate::site::{AccessId, Moves, RoomId, Site, SkillId, Worker, WorkerId};
use crate::work::DueTask;
use std::collections::BTreeSet;

/// Every task, room and duty of a run.
pub(super) fn of_run(_: &Reading, run: &ReadRun, found: &mut Findings) {
    for (at, stop) in run.stops.iter().enumerate() {
        let mut problems: BTreeSet<String> = BTreeSet::new();
        problems.extend(
            stop.what
                .room()
                .and_then(|room| barred(run.site, run.worker, run.id, room)),
        );
        let tasks = stop.what.tasks().iter();
        problems.extend(tasks.filter_map(|t| unable(run.site, run.worker, *t)));
        if let What::Duty(duty) = stop.what {
            let lacks = unskilled(run.site, run.worker, &run.site.duties[duty].skills);
            problems.extend(lacks.map(|skill| format!("needs the skill `{skill}`")));
            let room = run.site.room_at(run.site.duties[duty].place);
            problems.extend(room.and_then(|room| barred(run.site, run.worker, run.id, room)));
        }
        for problem in &problems {
            found.at_stop(Rule::Skills, run, at, problem);
        }
    }
}

/// Why a worker may not do a task; `None` if they may.
pub(super) fn lacking(site: &Site, worker: &Worker, id: WorkerId, task: DueTask) -> Option<String> {
    barred(site, worker, id, task.room).or_else(|| unable(site, worker, task))
}

/// Why a worker may not work in a room.
fn barred(site: &Site, worker: &Worker, id: WorkerId, room: RoomId) -> Option<String> {
    let room = &site.rooms[room.index()];
    let name = &worker.name;
    if room.never.contains(&id) {
        return Some(format!("{name} must not do this room"));
    }
    if !room.only.is_empty() && !room.only.contains(&id) {
        return Some(format!("this room is for others than {name}"));
    }
    let lacks = |needed: &&AccessId| !worker.access.contains(needed);
    let missing = room.needs.iter().find(lacks)?;
    Some(format!(
        "the room needs `{}`, which {name} does not hold",
        site.access[missing.index()]
    ))
}

/// Why a worker cannot do a task, wherever it is.
fn unable(site: &Site, worker: &Worker, due: DueTask) -> Option<String> {
    let task = due.task(site);
    let name = &task.name;
    if let Some(skill) = unskilled(site, worker, &task.skills) {
        return Some(format!("`{name}` needs the skill `{skill}`"));
    }
    if task.heavy && !worker.heavy {
        return Some(format!("`{name}` is heavy lifting"));
    }
    let on_foot = worker.moves == Moves::Foot;
    (on_foot && due.needs_cart(site)).then(|| format!("`{name}` needs a cart"))
}

fn unskilled<'a>(site: &'a Site, worker: &Worker, needed: &[SkillId]) -> Option<&'a str> {
    let missing = needed.iter().find(|skill| !worker.skills.contains(skill))?;
    Some(&site.skills[missing.index()])
}
