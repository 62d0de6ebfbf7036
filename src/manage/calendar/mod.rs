//! On which day each weekly, n-weekly, monthly and termly task falls, over the coming weeks.
//!
//! Each turn of a task has a *block* of days: a week, so many weeks, a month, a term, always cut at the same places, so that a calendar
//! that is made again later goes on where this one ends. A block that lies in the calendar only in part has its turn in it if
//! the day on which the work would fall by itself does. A turn may fall on the days of its block on which its owner works, nobody has a holiday,
//! and the room is open long enough; two turns are apart by the task's own interval, give or take the tolerance, in working days.
//!
//! Days that the site's calendar file has stay as they are: adding a task moves no other.

mod blocks;
mod document;
mod month;

pub use document::CalendarDocument;

use crate::balance::calendar::{Month, least_heaviest, spread};
use crate::plan::Plan;
use crate::site::{Diary, DiaryEntry, RoomId, Site, WorkerId};
use crate::work::{DueTask, Split};
use jiff::civil::Date;
use month::Sources;
use std::collections::BTreeMap;

/// What a calendar is made for.
#[derive(Clone, Copy, Debug)]
pub struct CalendarRequest<'a> {
    /// Where.
    pub site: &'a Site,
    /// The first day.
    pub from: Date,
    /// The last day.
    pub to: Date,
    /// Whose run each room's work counts in.
    pub split: &'a Split,
    /// How far an interval may be off, as a part of it.
    pub tolerance: f64,
    /// Whether days of the site's calendar file may change, too.
    pub afresh: bool,
    /// What the choices are drawn from.
    pub seed: u64,
}

/// Time on one day: everybody's, or one owner's.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DayLoad {
    /// The day.
    pub date: Date,
    /// Seconds of work that falls on it anyhow.
    pub daily: i64,
    /// Seconds of periodic work.
    pub periodic: i64,
    /// Seconds available.
    pub available: i64,
}

/// How heavy the heaviest day is: of everybody together, or of one owner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Heaviest {
    /// Whose; `None` is everybody's.
    pub owner: Option<WorkerId>,
    /// If every task fell on its own day, as without a calendar.
    pub before: f64,
    /// In this calendar.
    pub share: f64,
    /// What no calendar can be below.
    pub bound: f64,
}

/// A calendar.
#[derive(Clone, Debug)]
pub struct PeriodicCalendar {
    /// The days of each task, as a site's calendar file has them.
    pub diary: Diary,
    /// Working days with their loads, of everybody together.
    pub days: Vec<DayLoad>,
    /// The heaviest days: everybody's, then each owner's who has any work.
    pub heaviest: Vec<Heaviest>,
    /// Turns for which there is no day at all: the room is closed throughout, or nobody works.
    pub without_day: Vec<DueTask>,
    /// Turns that could not keep their distance from the one before.
    pub irregular: Vec<(DueTask, Date)>,
    /// How many turns there are, and how many were taken from the calendar file.
    pub turns: usize,
    /// Of these.
    pub kept: usize,
}

/// Makes a calendar.
///
/// # Complexity
/// Some hundred steps for each turn, and a linear program for everybody and for each owner.
pub fn calendar(request: &CalendarRequest) -> PeriodicCalendar {
    let sources = Sources::of(request);
    let (month, turns) = (&sources.month, &sources.turns);
    let placed = spread(month, request.seed);
    let own: Vec<usize> = sources.by_itself.clone();
    let mut work: BTreeMap<(RoomId, String), DiaryEntry> = BTreeMap::new();
    for task in &sources.tasks {
        let key = (task.room, task.task(request.site).name.clone());
        let owner = request.split.owner(task.room);
        work.entry(key).or_default().owner = owner;
    }
    for (turn, day) in turns.iter().zip(&placed) {
        let key = (turn.room, turn.task(request.site).name.clone());
        work.entry(key).or_default().days.push(sources.days[*day]);
    }
    for entry in work.values_mut() {
        entry.days.sort_unstable();
    }
    let irregular = month.irregular(&placed).into_iter();
    PeriodicCalendar {
        diary: Diary {
            from: request.from,
            to: request.to,
            work,
        },
        days: day_loads(&sources, month, &placed),
        heaviest: heaviest(request, &sources, &placed, &own),
        irregular: irregular
            .map(|p| (turns[p], sources.days[placed[p]]))
            .collect(),
        turns: turns.len(),
        kept: month.pieces.iter().filter(|p| p.fixed).count(),
        without_day: sources.without_day,
    }
}

fn day_loads(sources: &Sources, month: &Month, placed: &[usize]) -> Vec<DayLoad> {
    let loads = month.loads(placed, None);
    let day = |(index, date): (usize, &Date)| DayLoad {
        date: *date,
        daily: month.all.base[index],
        periodic: loads[index] - month.all.base[index],
        available: month.all.available[index],
    };
    sources.days.iter().enumerate().map(day).collect()
}

fn heaviest(
    request: &CalendarRequest,
    sources: &Sources,
    placed: &[usize],
    by_itself: &[usize],
) -> Vec<Heaviest> {
    let month = &sources.month;
    let one = |owner: Option<usize>| {
        let track = owner.map_or(&month.all, |o| &month.owners[o]);
        let own = month.pieces.iter();
        let own = own.filter(|p| owner.is_none_or(|o| p.owner == o));
        Heaviest {
            owner: owner.map(WorkerId::from),
            before: month.heaviest(by_itself, owner),
            share: month.heaviest(placed, owner),
            bound: least_heaviest(track, own),
        }
    };
    let owners = (0..request.site.crew.len()).filter(|o| {
        month.owners[*o].base.iter().any(|b| *b > 0) || month.pieces.iter().any(|p| p.owner == *o)
    });
    std::iter::once(None)
        .chain(owners.map(Some))
        .map(one)
        .collect()
}

/// The split that a plan makes: each room is whose run it is in; rooms that are not in it go to whoever has least there, of
/// those who may. Whoever owns a room in the site's calendar file keeps it.
pub fn split_of(site: &Site, plan: &Plan) -> Split {
    let mut split = Split::of_nobody(site);
    for ((room, _), entry) in site.diary.iter().flat_map(|d| &d.work) {
        split.rooms[room.index()] = split.rooms[room.index()].or(entry.owner);
    }
    let mut seconds: BTreeMap<WorkerId, i64> = BTreeMap::new();
    for run in &plan.runs {
        for stop in &run.stops {
            if let Some(room) = stop.what.room() {
                split.rooms[room.index()].get_or_insert(run.worker);
                *seconds.entry(run.worker).or_default() += stop.span.length().0;
            }
        }
    }
    for (index, room) in site.rooms.iter().enumerate() {
        let may = |w: &WorkerId| {
            let who = &site.crew[w.index()];
            !room.never.contains(w)
                && (room.only.is_empty() || room.only.contains(w))
                && room.needs.iter().all(|key| who.access.contains(key))
        };
        if split.rooms[index].is_none() {
            let least = seconds
                .iter()
                .filter(|(w, _)| may(w))
                .min_by_key(|(_, s)| **s);
            split.rooms[index] = least.map(|(worker, _)| *worker);
        }
    }
    split
}
