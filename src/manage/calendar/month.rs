//! Turns the site's words into the numbers that are spread: days, owners, turns with the days they may fall on.

use super::CalendarRequest;
use super::blocks::{block_of, gap, interval};
use crate::balance::calendar::{Month, Piece, Track};
use crate::site::{Calendar, Site, WorkerId};
use crate::units::{Seconds, Span};
use crate::work::{DueTask, all_tasks, crew_days};
use itertools::Itertools;
use jiff::ToSpan;
use jiff::civil::Date;
use std::collections::BTreeMap;

/// Longest stretch that is looked at: some years.
const MOST_DAYS: usize = 1500;

/// The numbers, and what they stand for.
pub(super) struct Sources {
    pub(super) month: Month,
    /// Working days, by index.
    pub(super) days: Vec<Date>,
    /// What each piece is.
    pub(super) turns: Vec<DueTask>,
    /// All periodic tasks, also those without a turn.
    pub(super) tasks: Vec<DueTask>,
    /// Where each piece would fall without a calendar.
    pub(super) by_itself: Vec<usize>,
    pub(super) without_day: Vec<DueTask>,
}

/// The days of one block of a task.
struct Block {
    /// How many turns it has.
    turns: usize,
    /// The days that they may fall on.
    days: Vec<usize>,
    /// Days that the calendar file has.
    kept: Vec<usize>,
    /// Days on which they would fall by themselves, holidays or not.
    by_itself: Vec<Date>,
}

impl Sources {
    pub(super) fn of(request: &CalendarRequest) -> Sources {
        let site = request.site;
        let all_days = dates(request.from, request.to);
        let mut days = all_days.clone();
        days.retain(|d| !site.present(*d, &[]).is_empty());
        let position: Vec<i64> = (0..days.len() as i64).collect();
        let (daily, tasks): (Vec<DueTask>, Vec<DueTask>) =
            all_tasks(site).partition(|t| !t.is_periodic(site));
        let mut sources = Sources {
            month: Month {
                position,
                all: Track::default(),
                owners: Vec::new(),
                pieces: Vec::new(),
            },
            days,
            turns: Vec::new(),
            tasks,
            by_itself: Vec::new(),
            without_day: Vec::new(),
        };
        sources.tracks(request, &daily);
        let windows = Windows::of(site, &sources.days);
        for task in sources.tasks.clone() {
            sources.turns_of(request, task, &all_days, &windows);
        }
        sources
    }

    /// Time available and daily work, of everybody and of each owner; last comes what nobody owns.
    fn tracks(&mut self, request: &CalendarRequest, daily: &[DueTask]) {
        let site = request.site;
        let blank = Track {
            available: vec![0; self.days.len()],
            base: vec![0; self.days.len()],
        };
        let mut owners = vec![blank.clone(); site.crew.len() + 1];
        let mut all = blank;
        for (index, date) in self.days.iter().enumerate() {
            for worker in site.present(*date, &[]) {
                let who = &site.crew[worker.index()];
                let rest: Seconds = who.breaks.iter().map(|b| b.length).sum();
                let time = (who.shift.length() - rest - site.policy.reserve).0.max(0);
                owners[worker.index()].available[index] = time;
                all.available[index] += time;
            }
            owners[site.crew.len()].available[index] = all.available[index];
            let due = |t: &&DueTask| t.falls_by_itself_on(site, *date, crew_days(site));
            for task in daily.iter().filter(due) {
                let (mut owner, seconds) = Sources::owned(request, *task);
                if owners[owner].available[index] == 0 {
                    // Whoever covers on a day off: nobody's in particular.
                    owner = site.crew.len();
                }
                owners[owner].base[index] += seconds;
                all.base[index] += seconds;
            }
        }
        (self.month.all, self.month.owners) = (all, owners);
    }

    /// The owner's index, and how long they take.
    fn owned(request: &CalendarRequest, task: DueTask) -> (usize, i64) {
        let site = request.site;
        let owner = request.split.owner(task.room);
        let pace = owner.map_or(1.0, |w| site.crew[w.index()].pace);
        let seconds = Seconds::of_work(task.minutes(site), pace).0
            + Seconds::of_work(task.wipe_minutes(site), pace).0;
        (owner.map_or(site.crew.len(), WorkerId::index), seconds)
    }

    /// Adds the turns of a task, block by block.
    fn turns_of(
        &mut self,
        request: &CalendarRequest,
        task: DueTask,
        all_days: &[Date],
        windows: &Windows,
    ) {
        let site = request.site;
        let (owner, seconds) = Sources::owned(request, task);
        let working_days = crew_days(site).iter().count() as f64;
        let interval = interval(&task.task(site).frequency, working_days);
        let apart = gap(interval, request.tolerance);
        let history = written_days(request, task, false);
        let last = history.into_iter().filter(|d| *d < request.from).max();
        let mut before = None;
        for block in self.blocks(request, task, all_days, windows) {
            for turn in 0..block.turns {
                if block.days.is_empty() {
                    self.without_day.push(task);
                    continue;
                }
                let alone = block.by_itself.get(turn).or(block.by_itself.last());
                let nearest = self.nearest(&block.days, alone.copied());
                let fixed = block.kept.get(turn).copied();
                let days = match (before, last) {
                    (None, Some(last)) if fixed.is_none() => {
                        self.in_step(site, &block.days, last, apart)
                    }
                    _ => block.days.clone(),
                };
                let start = fixed.unwrap_or(nearest);
                self.by_itself.push(nearest);
                self.turns.push(task);
                self.month.pieces.push(Piece {
                    seconds,
                    owner,
                    start: if days.contains(&start) {
                        start
                    } else {
                        days[0]
                    },
                    days,
                    fixed: fixed.is_some(),
                    before,
                    gap: apart,
                });
                before = Some(self.month.pieces.len() - 1);
            }
        }
    }

    /// The blocks of a task that lie in the stretch, wholly or in part.
    fn blocks(
        &self,
        request: &CalendarRequest,
        task: DueTask,
        all_days: &[Date],
        windows: &Windows,
    ) -> Vec<Block> {
        let site = request.site;
        let (owner, seconds) = Sources::owned(request, task);
        let frequency = &task.task(site).frequency;
        let weekdays = crew_days(site);
        let (written, elsewhere) = (
            written_days(request, task, true),
            written_days(request, task, false),
        );
        let mut by_itself: BTreeMap<u64, Vec<Date>> = BTreeMap::new();
        for date in all_days {
            let falls = task.falls_by_itself_on(site, *date, weekdays);
            if let Some(block) = block_of(frequency, *date).filter(|_| falls) {
                by_itself.entry(block).or_default().push(*date);
            }
        }
        // A turn that an earlier calendar moved into this stretch belongs to it as well.
        for block in written.iter().filter_map(|d| block_of(frequency, *d)) {
            by_itself.entry(block).or_default();
        }
        let block = |(block, by_itself): (u64, Vec<Date>)| {
            let is_in = |date: Date| block_of(frequency, date) == Some(block);
            let days: Vec<usize> = (0..self.days.len())
                .filter(|d| is_in(self.days[*d]))
                .filter(|d| self.month.owners[owner].available[*d] > 0)
                .filter(|d| windows.fit(site, task, owner, *d, seconds))
                .collect();
            let kept = written.iter().filter(|d| is_in(**d));
            let kept = kept.filter_map(|d| self.days.iter().position(|day| day == d));
            let kept: Vec<usize> = kept
                .filter(|d| days.contains(d))
                .sorted_unstable()
                .collect();
            // An earlier calendar may have had turns of this block before or after these days.
            let had = elsewhere.iter().filter(|d| is_in(**d)).count();
            Block {
                turns: by_itself.len().saturating_sub(had).max(kept.len()),
                days,
                kept,
                by_itself,
            }
        };
        by_itself.into_iter().map(block).collect()
    }

    /// The days that are as far from a task's last day before the stretch as they should be; all, if none is.
    fn in_step(&self, site: &Site, days: &[usize], last: Date, apart: (i64, i64)) -> Vec<usize> {
        let Some(first) = self.days.first() else {
            return days.to_vec();
        };
        let between = dates(last, *first);
        let working = between
            .iter()
            .skip(1)
            .filter(|d| !site.present(**d, &[]).is_empty());
        let to_first = working.count() as i64;
        let fits = |day: &usize| (apart.0..=apart.1).contains(&(to_first + *day as i64));
        let near: Vec<usize> = days.iter().copied().filter(fits).collect();
        if near.is_empty() { days.to_vec() } else { near }
    }

    /// The day of a set that is nearest to a date; the first of two as near.
    fn nearest(&self, days: &[usize], date: Option<Date>) -> usize {
        let away = |day: &usize| date.map_or(0, |d| (self.days[*day] - d).get_days().abs());
        days.iter().copied().min_by_key(away).unwrap_or(0)
    }
}

/// Days that the site's calendar file has for a task: inside the stretch that is asked for, unless the calendar is made afresh; or
/// outside of it.
fn written_days(request: &CalendarRequest, task: DueTask, inside: bool) -> Vec<Date> {
    let site = request.site;
    let diary = site.diary.as_ref();
    let diary = diary.filter(|_| !(request.afresh && inside));
    let key = (task.room, task.task(site).name.clone());
    let entry = diary.and_then(|d| d.work.get(&key));
    let days = entry.map(|e| e.days.clone()).unwrap_or_default();
    days.into_iter()
        .filter(|d| (request.from..=request.to).contains(d) == inside)
        .collect()
}

fn dates(from: Date, to: Date) -> Vec<Date> {
    let next = |day: &Date| day.checked_add(1.day()).ok().filter(|d| *d <= to);
    std::iter::successors(Some(from).filter(|d| *d <= to), next)
        .take(MOST_DAYS)
        .collect()
}

/// When rooms are open to cleaning while their owners work, on each working day.
struct Windows {
    calendars: Vec<Calendar>,
}

impl Windows {
    fn of(site: &Site, days: &[Date]) -> Windows {
        let calendar = |day: &Date| Calendar::new(*day, site.time_zone.as_deref());
        Windows {
            calendars: days.iter().map(calendar).collect(),
        }
    }

    /// Whether a task's room is open, on a day and while its owner works, for as long as the task takes.
    fn fit(&self, site: &Site, task: DueTask, owner: usize, day: usize, seconds: i64) -> bool {
        let room = &site.rooms[task.room.index()];
        let calendar = &self.calendars[day];
        let mut workers = site.present(calendar.date(), &[]);
        workers.retain(|w| owner >= site.crew.len() || w.index() == owner);
        let shift = |w: &WorkerId| calendar.elapsed_span(site.crew[w.index()].shift);
        let shifts: Vec<Span> = workers.iter().map(shift).collect();
        let closes = site.kinds[room.kind.index()].reopen.is_some();
        let closure = room.closure.as_ref().filter(|_| closes);
        [room.open.as_ref(), closure]
            .into_iter()
            .flatten()
            .all(|hours| {
                let windows = calendar.windows(hours);
                windows
                    .iter()
                    .any(|w| shifts.iter().any(|s| w.common(*s).length().0 >= seconds))
            })
    }
}
