//! What is different tonight, put together: what was known when the plan before was made, and what changed since.

use super::changes::Changes;
use super::frozen::Frozen;
use super::make::Earlier;
use crate::plan::{AddedTonight, ClosedTonight, Plan, PlannedStop, Tonight, What, break_names};
use crate::site::{Calendar, RoomId, Site, WorkerId};
use crate::units::{Clock, Span};
use std::collections::BTreeSet;

/// The night as it is now, against the site as it is written.
pub(super) fn tonight(
    site: &Site,
    calendar: &Calendar,
    earlier: &Earlier,
    changes: &Changes,
    frozen: &Frozen,
) -> Tonight {
    let mut night = earlier.tonight.clone();
    let name = |w: &WorkerId| site.crew[w.index()].name.clone();
    let now = changes.now();
    night.now = now.map(|t| t.to_string()).or(night.now);
    if let Some(overtime) = changes.overtime {
        night.overtime_min = Some(overtime.as_minutes());
    }
    let today = calendar.date().weekday();
    for worker in &changes.extra {
        let usual = site.crew[worker.index()].days.contains(today);
        if !usual && !night.extra.contains(&name(worker)) {
            night.extra.push(name(worker));
        }
    }
    for (worker, at) in &changes.late {
        let missed = breaks(site, calendar, *worker, |window, length| {
            window.to - length < *at
        });
        let shift = night.shift_of(&name(worker));
        shift.from = Some(at.to_string());
        add_missed(&mut shift.no_breaks, missed);
    }
    for (worker, at) in &changes.leaves {
        let gone = now.is_some_and(|now| *at <= now);
        let missed = breaks(site, calendar, *worker, |window, length| {
            gone || window.from + length > *at
        });
        let shift = night.shift_of(&name(worker));
        let taken = taken(site, *worker, &shift.no_breaks, frozen);
        shift.to = Some(at.to_string());
        let missed = missed.into_iter().filter(|m| !taken.contains(m)).collect();
        add_missed(&mut shift.no_breaks, missed);
    }
    of_rooms(&mut night, site, earlier.plan, changes, frozen);
    night
}

/// What is done ahead, shut, or asked for besides.
fn of_rooms(night: &mut Tonight, site: &Site, earlier: &Plan, changes: &Changes, frozen: &Frozen) {
    let id = |room: &RoomId| site.rooms[room.index()].id.clone();
    for ahead in frozen.ahead.iter().map(id) {
        if !night.done.contains(&ahead) {
            night.done.push(ahead);
        }
    }
    let rooms = frozen.rooms();
    for (room, span) in &changes.closed {
        // A room that is under way is finished first, as soon as it was to be.
        let begun = rooms
            .contains(room)
            .then(|| done_with(earlier, *room))
            .flatten();
        let span = Span::new(begun.map_or(span.from, |end| span.from.max(end)), span.to);
        if span.is_empty() {
            continue;
        }
        night.closed.push(ClosedTonight {
            room: id(room),
            from: span.from.to_string(),
            to: span.to.to_string(),
        });
    }
    for (room, task, minutes) in &changes.added {
        night.added.push(AddedTonight {
            room: id(room),
            task: task.clone(),
            minutes: *minutes,
            again: rooms.contains(room) || night.done.contains(&id(room)),
        });
    }
}

/// When a plan is done with a room.
fn done_with(plan: &Plan, room: RoomId) -> Option<Clock> {
    let stops = plan.runs.iter().flat_map(|r| &r.stops);
    let own = stops.filter(|s| s.what.room() == Some(room));
    own.map(|s| s.span.to).max()
}

/// Names of a worker's breaks that pass a test of window and length.
fn breaks(
    site: &Site,
    calendar: &Calendar,
    worker: WorkerId,
    wanted: impl Fn(Span, crate::units::Seconds) -> bool,
) -> Vec<String> {
    let who = &site.crew[worker.index()];
    let names = break_names(who).into_iter().zip(&who.breaks);
    let names = names.filter(|(_, b)| wanted(calendar.elapsed_span(b.window), b.length));
    names.map(|(name, _)| name).collect()
}

fn add_missed(all: &mut Vec<String>, missed: Vec<String>) {
    for name in missed {
        if !all.contains(&name) {
            all.push(name);
        }
    }
}

/// Names of the breaks that a worker has taken already.
fn taken(site: &Site, worker: WorkerId, without: &[String], frozen: &Frozen) -> BTreeSet<String> {
    let kept = kept(site, worker, without);
    let stops = frozen.past.get(&worker).map_or(&[][..], |p| &p.stops);
    let index = |s: &PlannedStop| match s.what {
        What::Break(index) => kept.get(index).cloned(),
        _ => None,
    };
    stops.iter().filter_map(index).collect()
}

/// A worker's breaks by name, less some.
fn kept(site: &Site, worker: WorkerId, without: &[String]) -> Vec<String> {
    let mut names = break_names(&site.crew[worker.index()]);
    names.retain(|n| !without.contains(n));
    names
}

/// Stops of a worker with breaks counted by one night, counted by another. Breaks that the other does not have are left out.
pub(super) fn recount(
    site: &Site,
    worker: WorkerId,
    nights: (&Tonight, &Tonight),
    stops: &mut Vec<PlannedStop>,
) {
    let name = &site.crew[worker.index()].name;
    let of = |night: &Tonight| {
        let shift = night.shifts.iter().find(|s| s.worker == *name);
        kept(site, worker, shift.map_or(&[], |s| &s.no_breaks))
    };
    let (before, after) = (of(nights.0), of(nights.1));
    stops.retain_mut(|stop| {
        let What::Break(index) = &mut stop.what else {
            return true;
        };
        let name = before.get(*index);
        let now = name.and_then(|n| after.iter().position(|a| a == n));
        *index = now.unwrap_or(0);
        now.is_some()
    });
}

/// Until when somebody is there: as asked, else for as long as `usual` allows, or until what is under way is finished and put away.
pub(super) fn stay_until(
    night: &mut Tonight,
    site: &Site,
    worker: WorkerId,
    usual: Clock,
    end: Clock,
) -> bool {
    let shift = night.shift_of(&site.crew[worker.index()].name);
    let asked = shift.to.as_ref().and_then(|t| t.parse::<Clock>().ok());
    let later = asked.unwrap_or(usual) < end;
    if later {
        shift.to = Some(end.to_string());
    }
    later
}
