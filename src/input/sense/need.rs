//! What a room asks for: its tasks, and how long they take at least.

use crate::site::{Frequency, Method, RoomId, Site};
use crate::units::Seconds;
use crate::work::{DueTask, quantity};

/// The tasks that can ever be due in a room.
pub(super) fn tasks(site: &Site, room: RoomId) -> Vec<DueTask> {
    let place = &site.rooms[room.index()];
    let all = site.kinds[place.kind.index()].tasks.iter().enumerate();
    let applies = all
        .filter(|(_, task)| !place.skip.contains(&task.name) && quantity(task.rate, place) > 0.0);
    applies
        .map(|(index, _)| DueTask {
            room,
            kind: place.kind,
            index,
        })
        .collect()
}

/// The tasks that are due together every night.
pub(super) fn daily(site: &Site, room: RoomId) -> Vec<DueTask> {
    let all = tasks(site, room).into_iter();
    all.filter(|t| t.task(site).frequency == Frequency::Daily)
        .collect()
}

/// The least time some tasks of one room take at one pace, without walking.
#[derive(Debug, Default)]
pub(super) struct Need {
    /// Its longest stop.
    pub(super) stop: Seconds,
    /// From its first moment until it is open again.
    pub(super) closure: Seconds,
}

/// What `tasks` of one room need at `pace`. With a dwell time there are two stops, and dry work is done while it dwells.
pub(super) fn need(site: &Site, room: RoomId, tasks: &[DueTask], pace: f64) -> Need {
    let (mut first, mut dry, mut second) = (Seconds::ZERO, Seconds::ZERO, Seconds::ZERO);
    let (mut longest_dwell, mut longest_drying) = (Seconds::ZERO, Seconds::ZERO);
    for task in tasks {
        let work = Seconds::of_work(task.minutes(site), pace);
        match task.task(site).method {
            Method::Open => first += work,
            Method::Spray { dwell } => {
                first += work;
                second += Seconds::of_work(task.wipe_minutes(site), pace);
                longest_dwell = longest_dwell.max(dwell);
            }
            Method::Dry => dry += work,
            Method::Wipe => second += work,
            Method::Mop { drying } => {
                second += work;
                longest_drying = longest_drying.max(drying);
            }
        }
    }
    let kind = &site.kinds[site.rooms[room.index()].kind.index()];
    let reopen = kind
        .reopen
        .map_or(Seconds::ZERO, |r| Seconds::of_work(r.as_minutes(), pace));
    let closure = first + dry.max(longest_dwell) + second + longest_drying + reopen;
    let whole = first + dry + second;
    let stop = if longest_dwell > Seconds::ZERO {
        (first + dry).max(second)
    } else {
        whole
    };
    Need { stop, closure }
}
