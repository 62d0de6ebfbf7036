//! What is allowed but odd: things declared that nothing uses, and rooms without any work.

use super::need::tasks;
use super::rooms;
use crate::input::log::{Log, Pos};
use crate::input::resolve::Origins;
use crate::site::{AccessId, MachineId, Site, SkillId, Task};
use std::collections::BTreeSet;

/// Warns of them.
pub(super) fn look(site: &Site, origins: &Origins, log: &Log) {
    let tasks_of_kinds = || site.kinds.iter().flat_map(|k| &k.tasks);
    let skills = tasks_of_kinds()
        .flat_map(|t: &Task| &t.skills)
        .chain(site.duties.iter().flat_map(|d| &d.skills));
    let skills: BTreeSet<SkillId> = skills.copied().collect();
    let machines: BTreeSet<MachineId> = tasks_of_kinds().filter_map(|t| t.machine).collect();
    let access = needed_access(site);
    warn(
        "skill",
        &site.skills,
        |i| skills.contains(&SkillId::from(i)),
        &origins.skills,
        log,
    );
    warn(
        "key or clearance",
        &site.access,
        |i| access.contains(&AccessId::from(i)),
        &origins.access,
        log,
    );
    let names: Vec<String> = site.machines.iter().map(|m| m.name.clone()).collect();
    warn(
        "machine",
        &names,
        |i| machines.contains(&MachineId::from(i)),
        &origins.machines,
        log,
    );
    for (id, room) in rooms(site).filter(|(id, _)| tasks(site, *id).is_empty()) {
        let message = format!("there is no work in room `{}`", room.id);
        let kind = &site.kinds[room.kind.index()].id;
        let hint = format!(
            "give it fixtures or an area that the tasks of `{kind}` are counted by, or leave it out"
        );
        log.warning("W902", origins.rooms[id.index()], message, hint);
    }
}

fn needed_access(site: &Site) -> BTreeSet<AccessId> {
    let halls = site
        .halls
        .iter()
        .flat_map(|h| h.doors.iter().map(|(_, door)| door));
    let ways = site.ways.iter().filter_map(|w| w.door.as_ref());
    let places = site.places.iter().filter_map(|p| p.door.as_ref());
    let doors = halls.chain(ways).chain(places).flat_map(|d| &d.needs);
    doors
        .chain(site.rooms.iter().flat_map(|r| &r.needs))
        .copied()
        .collect()
}

fn warn(what: &str, names: &[String], is_used: impl Fn(usize) -> bool, at: &[Pos], log: &Log) {
    for (index, name) in names.iter().enumerate().filter(|(i, _)| !is_used(*i)) {
        let message = format!("{what} `{name}` is never asked for");
        log.warning(
            "W901",
            at.get(index).copied().unwrap_or_default(),
            message,
            "use it, or leave it out",
        );
    }
}
