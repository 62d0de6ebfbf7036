//! Whether somebody has the skill, the cart and the strength for every task.

use super::need::tasks;
use super::rooms;
use crate::input::log::{Log, Pos};
use crate::input::resolve::Origins;
use crate::site::{KindId, Moves, RoomId, Site, SkillId, Task, Worker};
use crate::work::DueTask;
use std::collections::BTreeMap;

/// Looks at every task that some room has, and tells of each once.
pub(super) fn look(site: &Site, origins: &Origins, log: &Log) {
    let mut first_room: BTreeMap<(KindId, usize), DueTask> = BTreeMap::new();
    for (room, _) in rooms(site) {
        for due in tasks(site, room) {
            let known = first_room.entry((due.kind, due.index)).or_insert(due);
            // A room where it brings waste says more about carts than one where it does not.
            if due.needs_cart(site) && !known.needs_cart(site) {
                *known = due;
            }
        }
    }
    for due in first_room.values() {
        let task_pos = origins.tasks[due.kind.index()][due.index];
        each(site, *due, task_pos, origins.rooms[due.room.index()], log);
    }
}

fn each(site: &Site, due: DueTask, task_pos: Pos, room_pos: Pos, log: &Log) {
    let task = due.task(site);
    let anybody = |able: &dyn Fn(&Worker) -> bool| site.crew.iter().any(able);
    let skilled = |w: &Worker| holds(w, &task.skills);
    let strong = |w: &Worker| w.heavy || !task.heavy;
    let equipped = |w: &Worker| !due.needs_cart(site) || w.moves != Moves::Foot;
    let who = described(site, task, due.room);
    if !anybody(&skilled) {
        let skills: Vec<&str> = task
            .skills
            .iter()
            .map(|s| site.skills[s.index()].as_str())
            .collect();
        let message = format!(
            "nobody has all the skills for {who}: `{}`",
            skills.join("`, `")
        );
        log.error(
            "E805",
            task_pos,
            message,
            "give a worker the skill, or drop the task",
        );
    } else if !anybody(&equipped) {
        let message =
            format!("nobody has a cart, and {who} needs one (for waste, water or a machine)");
        log.error("E809", room_pos, message, "give a worker a `cart`");
    } else if !anybody(&strong) {
        let message = format!("nobody may lift what is heavy, and {who} is");
        log.error(
            "E810",
            room_pos,
            message,
            "let a worker do heavy work, or make the task lighter",
        );
    } else if !anybody(&|w| skilled(w) && equipped(w) && strong(w)) {
        let message =
            format!("nobody has the skills, the cart and the strength for {who} all together");
        log.error(
            "E805",
            task_pos,
            message,
            "let one worker have them all, or part the task",
        );
    }
}

/// Whether a worker has all of the skills.
pub(super) fn holds(worker: &Worker, skills: &[SkillId]) -> bool {
    skills.iter().all(|s| worker.skills.contains(s))
}

fn described(site: &Site, task: &Task, room: RoomId) -> String {
    format!("`{}` in `{}`", task.name, site.rooms[room.index()].id)
}
