//! What is done or under way: nothing of it changes any more.
//!
//! Frozen is every stop that began before the moment, and the one that its worker is on the way to. A room that is begun stays with
//! whoever began it until it is finished; its later stops may move.

use super::changes::Changes;
use crate::plan::{Plan, PlannedStop, Run, What, takes_cart};
use crate::site::{RoomId, Site, WorkerId};
use crate::units::Clock;
use crate::walk::Walks;
use crate::work::DueTask;
use std::collections::{BTreeMap, BTreeSet};

/// One worker's part of it.
#[derive(Clone, Debug, Default)]
pub(super) struct Past {
    /// The stops, as they were planned.
    pub(super) stops: Vec<PlannedStop>,
    /// Rooms begun and not finished: their tasks, and how many of their stops are behind.
    pub(super) open: Vec<OpenRoom>,
    /// How many stops of the plan are behind, whether they happened or not.
    pub(super) behind: usize,
    /// Whether the worker is home or on the way there.
    pub(super) gone: bool,
    /// Whether the run as it was planned moves with a cart.
    pub(super) with_cart: bool,
}

/// A room begun and not finished.
#[derive(Clone, Debug)]
pub(super) struct OpenRoom {
    pub(super) room: RoomId,
    /// All its tasks, those to come included.
    pub(super) tasks: Vec<DueTask>,
    pub(super) parts: u8,
}

/// What is done or under way, of all runs.
#[derive(Clone, Debug, Default)]
pub(super) struct Frozen {
    /// By worker of the crew; none for those who have not begun.
    pub(super) past: BTreeMap<WorkerId, Past>,
    /// Rooms that are done though the plan has them later, or not at all.
    pub(super) ahead: BTreeSet<RoomId>,
}

/// Freezes a plan at a moment. Those who have left by then froze when they left, and did not go to their next stop.
pub(super) fn freeze(site: &Site, plan: &Plan, changes: &Changes, walks: &Walks) -> Frozen {
    let mut frozen = Frozen::default();
    for run in &plan.runs {
        let with_cart = takes_cart(site, &run.stops);
        let Some(moment) = changes.moment(run.worker) else {
            continue;
        };
        let count = begun(run, moment, |from, to| {
            let times = walks.times(run.worker, with_cart)?;
            // Whoever leaves goes on to what is under way, and to nothing else.
            let before = run.stops.iter().take_while(|s| s.span.from < to.span.from);
            let finishes = before
                .clone()
                .any(|s| s.what.room().is_some() && s.what.room() == to.what.room());
            times
                .get(from.place, to.place)
                .filter(|_| finishes || !changes.has_left(run.worker))
        });
        if count == 0 {
            continue;
        }
        let (stops, to_come) = run.stops.split_at(count);
        let past = Past {
            open: open_rooms(stops, to_come),
            behind: count,
            gone: to_come.is_empty(),
            stops: stops.to_vec(),
            with_cart,
        };
        frozen.past.insert(run.worker, past);
    }
    frozen
}

/// How many stops have begun: by `now`, or by having set out for them.
fn begun(
    run: &Run,
    now: Clock,
    walk: impl Fn(&PlannedStop, &PlannedStop) -> Option<crate::units::Seconds>,
) -> usize {
    let mut count = run.stops.iter().take_while(|s| s.span.from < now).count();
    if count > 0
        && let (Some(last), Some(next)) = (run.stops.get(count - 1), run.stops.get(count))
        && last.place != next.place
        && last.span.to <= now
        && walk(last, next).is_some_and(|time| next.span.from - time < now)
    {
        count += 1;
    }
    count
}

fn open_rooms(stops: &[PlannedStop], to_come: &[PlannedStop]) -> Vec<OpenRoom> {
    let mut open: Vec<OpenRoom> = Vec::new();
    for room in stops.iter().filter_map(|s| s.what.room()) {
        let of = |s: &&PlannedStop| s.what.room() == Some(room);
        if open.iter().any(|o| o.room == room) || !to_come.iter().any(|s| of(&s)) {
            continue;
        }
        let all = stops.iter().chain(to_come).filter(of);
        let tasks: BTreeSet<DueTask> = all.flat_map(|s| s.what.tasks()).copied().collect();
        open.push(OpenRoom {
            room,
            tasks: tasks.into_iter().collect(),
            parts: stops.iter().filter(of).count() as u8,
        });
    }
    open
}

impl Frozen {
    /// Leaves only rooms that are really done or under way, and notes those that are done ahead of the plan. A stop that did not happen
    /// leaves its time empty: whoever had it did something else then.
    pub(super) fn only(&mut self, done: &[RoomId]) {
        let begun = self.rooms();
        let ahead = done.iter().filter(|r| !begun.contains(r));
        self.ahead = ahead.copied().collect();
        for past in self.past.values_mut() {
            past.stops
                .retain(|s| s.what.room().is_none_or(|r| done.contains(&r)));
            past.open.retain(|o| done.contains(&o.room));
        }
    }

    /// Tasks that are done, under way, or to be finished by whoever began their room.
    pub(super) fn tasks(&self) -> BTreeSet<DueTask> {
        let all = self.past.values();
        let done = all
            .clone()
            .flat_map(|p| &p.stops)
            .flat_map(|s| s.what.tasks());
        let open = all.flat_map(|p| &p.open).flat_map(|o| &o.tasks);
        done.chain(open).copied().collect()
    }

    /// Duties that are done or under way.
    pub(super) fn duties(&self) -> BTreeSet<usize> {
        let stops = self.past.values().flat_map(|p| &p.stops);
        let duty = |s: &PlannedStop| match s.what {
            What::Duty(index) => Some(index),
            _ => None,
        };
        stops.filter_map(duty).collect()
    }

    /// Rooms that somebody has been in to work.
    pub(super) fn rooms(&self) -> BTreeSet<RoomId> {
        let stops = self.past.values().flat_map(|p| &p.stops);
        stops.filter_map(|s| s.what.room()).collect()
    }
}
