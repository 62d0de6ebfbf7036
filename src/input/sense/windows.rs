//! Whether the hours in which a room may be cleaned or closed leave time for the work.
//!
//! Looked at is one week of the weekly hours, and every date that has hours of its own: if the work fits on any of them for
//! anybody, nothing is said.

use super::need::{Need, daily, need, tasks};
use super::{calendar, rooms, some_date};
use crate::input::log::{Log, Pos};
use crate::input::resolve::Origins;
use crate::site::{Calendar, Hours, Room, RoomId, Site, WorkerId};
use crate::units::{Seconds, Span};
use jiff::ToSpan;

/// Looks at every room; `hands` are those who may do it.
pub(super) fn look(site: &Site, hands: &[Vec<WorkerId>], origins: &Origins, log: &Log) {
    let mut known = Known::default();
    for (id, room) in rooms(site) {
        let hands = &hands[id.index()];
        let pos = origins.rooms[id.index()];
        if hands.is_empty() {
            continue;
        }
        if let Some(open) = &room.open {
            opening(site, id, room, known.chances(site, hands, open), pos, log);
        }
        let closes = site.kinds[room.kind.index()].reopen.is_some();
        if let Some(closure) = room.closure.as_ref().filter(|_| closes) {
            let chances = known.chances(site, hands, closure);
            closing(site, id, room, chances, pos, log);
        }
    }
}

/// Hours and hands that were looked at: many rooms have the same.
#[derive(Default)]
struct Known<'a>(Vec<(&'a Hours, &'a [WorkerId], Vec<Chance>)>);

impl<'a> Known<'a> {
    fn chances(&mut self, site: &Site, hands: &'a [WorkerId], hours: &'a Hours) -> &[Chance] {
        let alike = |(h, w, _): &(&Hours, &[WorkerId], _)| *h == hours && *w == hands;
        let index = self.0.iter().position(alike).unwrap_or_else(|| {
            self.0.push((hours, hands, chances(site, hands, hours)));
            self.0.len() - 1
        });
        &self.0[index].2
    }
}

/// The longest time that somebody at work has inside of some hours.
struct Chance {
    pace: f64,
    time: Seconds,
}

fn chances(site: &Site, hands: &[WorkerId], hours: &Hours) -> Vec<Chance> {
    let weekly = Hours {
        weekly: hours.weekly.clone(),
        ..Hours::default()
    };
    let start = some_date(site);
    let week = (0..7)
        .filter_map(|i| start.checked_add(i.days()).ok())
        .map(|d| (d, &weekly));
    let dated = hours.dated.keys().map(|d| (*d, hours));
    let days: Vec<Day> = week
        .chain(dated)
        .map(|(date, hours)| Day::of(calendar(site, date), hours))
        .collect();
    hands.iter().map(|w| chance(site, *w, &days)).collect()
}

/// A day, and when the hours are on it: alike for everybody.
struct Day {
    calendar: Calendar,
    windows: Vec<Span>,
}

impl Day {
    fn of(calendar: Calendar, hours: &Hours) -> Day {
        let windows = calendar.windows(hours);
        Day { calendar, windows }
    }
}

fn chance(site: &Site, worker: WorkerId, days: &[Day]) -> Chance {
    let worker = &site.crew[worker.index()];
    let mut time = Seconds::ZERO;
    for day in days
        .iter()
        .filter(|d| worker.days.contains(d.calendar.date().weekday()))
    {
        let shift = day.calendar.elapsed_span(worker.shift);
        let shift = Span::new(shift.from, shift.to + site.policy.overtime);
        let inside = day.windows.iter().map(|w| w.common(shift).length());
        time = time.max(inside.max().unwrap_or_default());
    }
    Chance {
        pace: worker.pace,
        time,
    }
}

/// The least that the room's work needs: its daily work together, or else its shortest task.
fn least(site: &Site, room: RoomId, pace: f64) -> Need {
    let every_night = daily(site, room);
    if !every_night.is_empty() {
        return need(site, room, &every_night, pace);
    }
    let each = tasks(site, room)
        .into_iter()
        .map(|t| need(site, room, &[t], pace));
    each.min_by_key(|n| n.stop).unwrap_or_default()
}

fn opening(site: &Site, id: RoomId, room: &Room, chances: &[Chance], pos: Pos, log: &Log) {
    let longest = chances.iter().map(|c| c.time).max().unwrap_or_default();
    if longest == Seconds::ZERO {
        let message = format!(
            "room `{}` is never open to cleaning while anybody who may do it is at work",
            room.id
        );
        log.error(
            "E811",
            pos,
            message,
            "compare its `open` hours with the shifts",
        );
    } else if chances
        .iter()
        .all(|c| least(site, id, c.pace).stop > c.time)
    {
        let shortest = chances
            .iter()
            .map(|c| least(site, id, c.pace).stop)
            .min()
            .unwrap_or_default();
        let message = format!(
            "the work in room `{}` takes {shortest} at least, but it is open for {longest} at most",
            room.id
        );
        log.error(
            "E803",
            pos,
            message,
            "widen its `open` hours, or skip tasks",
        );
    }
}

fn closing(site: &Site, id: RoomId, room: &Room, chances: &[Chance], pos: Pos, log: &Log) {
    if chances
        .iter()
        .all(|c| least(site, id, c.pace).closure > c.time)
    {
        let longest = chances.iter().map(|c| c.time).max().unwrap_or_default();
        let shortest = chances
            .iter()
            .map(|c| least(site, id, c.pace).closure)
            .min()
            .unwrap_or_default();
        let message = format!(
            "cleaning room `{}` closes it for {shortest} at least, but it may be closed for {longest} at most",
            room.id
        );
        let hint = "widen its `closure` hours while somebody is at work; dwell, drying and reopening count";
        log.error("E804", pos, message, hint);
    }
}
