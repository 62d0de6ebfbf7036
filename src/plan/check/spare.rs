//! Whether a run could have time for an undone task at all, told without trying: most tasks fit nowhere, and trying takes long.
//!
//! Every stop is taken to have dropped all less important work, and its free time to lie before it and after it at once. What does not fit even
//! then, or whose waste the cart does not hold, fits in no exchange.

use super::clearing::without_all;
use super::loads::Loads;
use super::swap::without;
use crate::plan::reading::ReadRun;
use crate::plan::{PlannedStop, What};
use crate::site::{Method, PlaceId, Priority, RoomId, Site};
use crate::units::{Clock, Seconds, Span};
use crate::work::DueTask;
use itertools::Itertools;
use std::collections::BTreeSet;

/// The free time of a run, for tasks of one priority.
pub(super) struct Spare {
    /// In order, what a stop is at least.
    stops: Vec<Least>,
    loads: Loads,
    /// Done tasks of plain stops to come that matter less, the most important and longest first.
    pub(super) less: Vec<DueTask>,
    /// The run's stops without these.
    pub(super) cleared: Vec<PlannedStop>,
}

/// A stop without all its less important work.
struct Least {
    stop: PlannedStop,
    /// Whether nothing is left of it, so that it may be gone.
    gone: bool,
    /// How much sooner it may end, or later begin.
    spared: Seconds,
}

impl Least {
    fn of(run: &ReadRun, stop: &PlannedStop, less: &[DueTask]) -> Least {
        let rest = PlannedStop {
            what: without(&stop.what, less, None),
            ..stop.clone()
        };
        let lengths = run.length(stop).zip(run.length(&rest));
        Least {
            gone: !less.is_empty() && rest.what.tasks().is_empty(),
            spared: lengths.map_or(Seconds::ZERO, |(all, rest)| all - rest),
            stop: rest,
        }
    }

    fn earliest_end(&self) -> Clock {
        self.stop.span.to - self.spared
    }

    fn latest_start(&self) -> Clock {
        self.stop.span.from + self.spared
    }
}

impl Spare {
    /// None for a run without less important work.
    pub(super) fn of(run: &ReadRun, own: Priority) -> Option<Spare> {
        let is_less =
            |task: &&DueTask| task.priority(run.site) > own && !has_dwell(run.site, **task);
        let less = |stop: &PlannedStop| {
            stop.what
                .tasks()
                .iter()
                .filter(is_less)
                .copied()
                .collect_vec()
        };
        if run.stops.iter().all(|s| less(s).is_empty()) {
            return None;
        }
        let least = run.stops.iter().map(|s| Least::of(run, s, &less(s)));
        let mut stops = least.collect_vec();
        // A room in which nothing is done is not reopened.
        let gone = stops.iter().filter(|s| s.gone);
        let rooms: BTreeSet<RoomId> = gone.filter_map(|s| s.stop.what.room()).collect();
        for least in &mut stops {
            least.gone |= matches!(least.stop.what, What::Reopen(room) if rooms.contains(&room));
        }
        let less = less_important(run, own);
        let least = stops.iter().map(|s| &s.stop);
        Some(Spare {
            cleared: without_all(run, &less, None),
            loads: Loads::of(run, run.stops.iter().zip(least)),
            stops,
            less,
        })
    }

    /// Whether a task may fit, in its room if somebody is there anyway, else with the walks there and back.
    pub(super) fn may_take(&self, run: &ReadRun, task: DueTask, visited: bool) -> bool {
        let place = run.site.place_of_room(task.room);
        let litres = task.waste_litres(run.site);
        if visited {
            let there = |at: &usize| self.stops[*at].stop.what.room() == Some(task.room);
            let stops = (0..self.stops.len()).filter(there);
            return stops.into_iter().any(|at| {
                let what = without(&self.stops[at].stop.what, &[], Some(task));
                let length = length(run, what, place);
                self.loads.may_hold(litres, at)
                    && has_time_between(run, place, length, self.before(at), self.after(at))
            });
        }
        let length = length(run, What::Clean(task.room, vec![task]), place);
        let kept = self.stops.iter().enumerate().filter(|(_, s)| !s.gone);
        kept.tuple_windows().any(|((at, before), (_, after))| {
            self.loads.may_hold(litres, at)
                && has_time_between(run, place, length, Some(before), Some(after))
        })
    }

    /// Whether a stop of its own for a task may fit next to one stop, or in its place, if only that one has less to do.
    pub(super) fn may_take_at(&self, run: &ReadRun, task: DueTask, at: usize) -> bool {
        if !self.loads.may_hold_at(task.waste_litres(run.site), at) {
            return false;
        }
        let place = run.site.place_of_room(task.room);
        let length = length(run, What::Clean(task.room, vec![task]), place);
        let this = &self.stops[at];
        let room = this.stop.what.room();
        let reopened =
            |s: &&Least| this.gone && matches!(s.stop.what, What::Reopen(r) if Some(r) == room);
        let before = at.checked_sub(1).map(|i| &self.stops[i].stop);
        let after = self.stops[at + 1..]
            .iter()
            .find(|s| !reopened(s))
            .map(|s| &s.stop);
        let (Some(before), Some(after)) = (before, after) else {
            return true;
        };
        let (end, start) = (
            (before.place, before.span.to),
            (after.place, after.span.from),
        );
        let (this_end, this_start) = (
            (this.stop.place, this.earliest_end()),
            (this.stop.place, this.latest_start()),
        );
        has_time(run, place, length, end, this_start)
            || has_time(run, place, length, this_end, start)
            || this.gone && has_time(run, place, length, end, start)
    }

    /// The last stop before one that does not go.
    fn before(&self, at: usize) -> Option<&Least> {
        self.stops[..at].iter().rev().find(|s| !s.gone)
    }

    /// The first stop after one that does not go.
    fn after(&self, at: usize) -> Option<&Least> {
        self.stops[at + 1..].iter().find(|s| !s.gone)
    }
}

fn length(run: &ReadRun, what: What, place: PlaceId) -> Seconds {
    let stop = PlannedStop {
        what,
        place,
        span: Span::default(),
    };
    run.length(&stop).unwrap_or(Seconds::ZERO)
}

/// Whether so long a stop at a place fits between the end of one stop and the start of another.
fn has_time(
    run: &ReadRun,
    place: PlaceId,
    length: Seconds,
    end: (PlaceId, Clock),
    start: (PlaceId, Clock),
) -> bool {
    let walks = run.walk(end.0, place).zip(run.walk(place, start.0));
    walks.is_some_and(|(there, on)| end.1 + there + length + on <= start.1)
}

/// The same between two stops that do not go, as far as there are any: a run that begins or ends without getting ready breaks other rules.
fn has_time_between(
    run: &ReadRun,
    place: PlaceId,
    length: Seconds,
    before: Option<&Least>,
    after: Option<&Least>,
) -> bool {
    before.zip(after).is_none_or(|(before, after)| {
        let end = (before.stop.place, before.earliest_end());
        let start = (after.stop.place, after.latest_start());
        has_time(run, place, length, end, start)
    })
}

/// Whether a task has to be left to dwell.
pub(super) fn has_dwell(site: &Site, due: DueTask) -> bool {
    matches!(due.task(site).method, Method::Spray { dwell } if dwell > Seconds::ZERO)
}

/// Done tasks of plain stops to come that matter less, the most important and longest first.
fn less_important(run: &ReadRun, own: Priority) -> Vec<DueTask> {
    let site = run.site;
    let to_come = |s: &&PlannedStop| site.now.is_none_or(|now| s.span.from >= now);
    let stops = run.stops.iter().filter(to_come);
    let plain = stops.filter(|s| matches!(s.what, What::Clean(..)));
    let tasks = plain.flat_map(|s| s.what.tasks()).copied();
    let less = tasks.filter(|t| t.priority(site) > own && !has_dwell(site, *t));
    let seconds = |t: &DueTask| (t.minutes(site) * 60.0) as i64;
    less.sorted_by_key(|t| (t.priority(site), -seconds(t), *t))
        .collect()
}
