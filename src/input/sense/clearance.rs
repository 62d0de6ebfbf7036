//! Whether somebody may enter and do each room.

use super::rooms;
use crate::input::log::Log;
use crate::input::resolve::Origins;
use crate::site::{AccessId, Room, Site, Worker, WorkerId};

/// For each room, who may do it; a room that nobody may do is told of.
pub(super) fn look(site: &Site, origins: &Origins, log: &Log) -> Vec<Vec<WorkerId>> {
    let mut hands = Vec::with_capacity(site.rooms.len());
    for (id, room) in rooms(site) {
        let needs = needs(site, id.index());
        let allowed = crew(site).filter(|(w, _)| may(room, *w));
        let able: Vec<WorkerId> = allowed
            .filter(|(_, w)| opens(w, &needs))
            .map(|(w, _)| w)
            .collect();
        if able.is_empty() {
            tell(site, room, &needs, origins.rooms[id.index()], log);
        }
        hands.push(able);
    }
    hands
}

fn tell(site: &Site, room: &Room, needs: &[AccessId], pos: crate::input::log::Pos, log: &Log) {
    let keys: Vec<&str> = needs
        .iter()
        .map(|a| site.access[a.index()].as_str())
        .collect();
    let keys = keys.join("`, `");
    if !site.crew.iter().any(|w| opens(w, needs)) {
        let message = format!("nobody has what room `{}` needs: `{keys}`", room.id);
        log.error("E806", pos, message, "add it to the `access` of a worker");
    } else if crew(site).any(|(w, _)| may(room, w)) {
        let message = format!(
            "nobody who may do room `{}` has what it needs: `{keys}`",
            room.id
        );
        log.error(
            "E808",
            pos,
            message,
            "look at the room's `only` and `never`, and at the workers' `access`",
        );
    } else {
        let message = format!("nobody may do room `{}`", room.id);
        log.error(
            "E808",
            pos,
            message,
            "look at the room's `only` and `never`",
        );
    }
}

fn crew(site: &Site) -> impl Iterator<Item = (WorkerId, &Worker)> {
    site.crew
        .iter()
        .enumerate()
        .map(|(index, worker)| (WorkerId::from(index), worker))
}

/// Keys and clearances of a room and its own door.
fn needs(site: &Site, room: usize) -> Vec<AccessId> {
    let door = site.places[room].door.iter().flat_map(|d| &d.needs);
    let mut all: Vec<AccessId> = site.rooms[room].needs.iter().chain(door).copied().collect();
    all.sort_unstable();
    all.dedup();
    all
}

fn may(room: &Room, worker: WorkerId) -> bool {
    (room.only.is_empty() || room.only.contains(&worker)) && !room.never.contains(&worker)
}

fn opens(worker: &Worker, needs: &[AccessId]) -> bool {
    needs.iter().all(|a| worker.access.contains(a))
}
