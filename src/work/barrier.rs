//! What keeps a worker from a task: rule 10, and the ways of moving.

use super::DueTask;
use crate::site::{Moves, RoomId, Site, WorkerId};
use crate::walk::Walks;

/// Why a worker may not do a task. Later ones are nearer to being able to.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Barrier {
    /// Nobody is on duty at all.
    NobodyPresent,
    /// The split that is kept to gives the room to nobody on duty.
    NoOwner,
    /// The room says who may do it, and this is someone else; or it names this worker as one who must not.
    NotWanted,
    /// A skill is missing, by name.
    Skill(String),
    /// A key or clearance is missing, by name.
    Access(String),
    /// Heavy lifting is not for this worker.
    Heavy,
    /// A cart is needed and this worker has none.
    NoCart,
    /// This worker cannot get there in the way the task needs.
    NoWay,
}

impl std::fmt::Display for Barrier {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Barrier::NobodyPresent => write!(f, "nobody is on duty"),
            Barrier::NoOwner => write!(f, "the split gives the room to nobody on duty"),
            Barrier::NotWanted => write!(f, "the room does not allow anyone present"),
            Barrier::Skill(name) => write!(
                f,
                "nobody present who could get there has the skill `{name}`"
            ),
            Barrier::Access(name) => write!(f, "nobody present holds `{name}`"),
            Barrier::Heavy => write!(f, "nobody present may do heavy lifting there"),
            Barrier::NoCart => write!(f, "nobody present who may do it has a cart"),
            Barrier::NoWay => write!(f, "nobody present who may do it can get there"),
        }
    }
}

/// What keeps a worker from a task; `None` if nothing does.
pub fn barrier(site: &Site, worker: WorkerId, task: DueTask, walks: &Walks) -> Option<Barrier> {
    let who = &site.crew[worker.index()];
    let need = task.task(site);
    let barred = bar(site, worker, task.room);
    if barred == Some(Barrier::NotWanted) {
        return barred;
    }
    if let Some(skill) = need.skills.iter().find(|s| !who.skills.contains(s)) {
        return Some(Barrier::Skill(site.skills[skill.index()].clone()));
    }
    if barred.is_some() {
        return barred;
    }
    if need.heavy && !who.heavy {
        return Some(Barrier::Heavy);
    }
    let with_cart = task.needs_cart(site);
    if with_cart && who.moves == Moves::Foot {
        return Some(Barrier::NoCart);
    }
    let place = site.place_of_room(task.room);
    (!walks.reaches(worker, with_cart, who.start, place)).then_some(Barrier::NoWay)
}

/// What keeps a worker out of a room, its door aside.
pub(super) fn bar(site: &Site, worker: WorkerId, room: RoomId) -> Option<Barrier> {
    let (who, room) = (&site.crew[worker.index()], &site.rooms[room.index()]);
    if room.never.contains(&worker) || !(room.only.is_empty() || room.only.contains(&worker)) {
        return Some(Barrier::NotWanted);
    }
    let key = room.needs.iter().find(|a| !who.access.contains(a))?;
    Some(Barrier::Access(site.access[key.index()].clone()))
}
