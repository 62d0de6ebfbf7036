//! Whether one undone task fits into one run in place of one done task, with every other stop kept at its times.
//!
//! A run with the swap made is put to all the other rules, alone and beside the other runs; that decides. What it answers is the
//! stops of that run, which prove that the swap can be made.

use super::beside::Beside;
use super::keeps_alone;
use super::spare::Spare;
use crate::plan::reading::ReadRun;
use crate::plan::{PlannedStop, What};
use crate::site::Method;
use crate::units::{Clock, Seconds, Span};
use crate::work::DueTask;
use std::sync::atomic::{AtomicBool, Ordering};

/// One undone task and one run.
#[derive(Clone, Copy)]
pub(super) struct Swap<'s, 'a> {
    /// The plan, and the other runs.
    pub(super) beside: &'s Beside<'s, 'a>,
    /// The run, by its position in the plan.
    pub(super) index: usize,
    /// The run.
    pub(super) run: &'s ReadRun<'a>,
    /// What free time the run would have without less important work.
    pub(super) spare: &'s Spare,
    /// The undone task.
    pub(super) task: DueTask,
    /// Whether somebody is in its room anyway; then it has to be done there and then.
    pub(super) visited: bool,
    /// Told when only the other runs stand against it.
    pub(super) by_others: &'s AtomicBool,
    /// Whether only the run itself is looked at, not the others beside it.
    pub(super) alone: bool,
}

impl Swap<'_, '_> {
    /// The stops with the task in place of `drop`, done at stop `at`, if it fits.
    pub(super) fn fits_for(&self, at: usize, drop: DueTask) -> Option<Vec<PlannedStop>> {
        if self.run.stops[at].what.room() == Some(self.task.room) {
            self.fits_same_stop(at, drop)
        } else if self.visited {
            None
        } else {
            self.fits_own_stop(at, drop)
        }
    }

    /// The stops with the task besides, in any free time there is.
    pub(super) fn fits_anywhere(&self) -> Option<Vec<PlannedStop>> {
        let stops = self.run.stops;
        if self.visited {
            let there = |at: &usize| stops[*at].what.room() == Some(self.task.room);
            return (0..stops.len())
                .filter(there)
                .find_map(|at| self.fits_same_stop(at, self.task));
        }
        (1..stops.len()).find_map(|at| {
            let spans = self.spans_between(&stops[at - 1], &stops[at]);
            spans.into_iter().find_map(|span| {
                let mut stops = stops.to_vec();
                stops.splice(at..at, self.own_stops(span));
                self.if_sound(stops)
            })
        })
    }

    /// In the same stop, instead of `drop`, starting or ending when it did.
    fn fits_same_stop(&self, at: usize, drop: DueTask) -> Option<Vec<PlannedStop>> {
        let stop = &self.run.stops[at];
        let in_part = matches!(
            (&stop.what, self.task.task(self.run.site).method),
            (What::Clean(..), _)
                | (What::OpenAndWet(..), Method::Open | Method::Dry)
                | (What::WipeAndMop(..), Method::Wipe)
        );
        let mut swapped = PlannedStop {
            what: without(&stop.what, &[drop], Some(self.task)),
            ..stop.clone()
        };
        let length = self.run.length(&swapped).filter(|_| in_part)?;
        anchored(stop.span, length).into_iter().find_map(|span| {
            swapped.span = span;
            let mut stops = self.run.stops.to_vec();
            stops[at] = swapped.clone();
            self.if_sound(stops)
        })
    }

    /// In a stop of its own, in the time that `drop` leaves after its stop or before it.
    fn fits_own_stop(&self, at: usize, drop: DueTask) -> Option<Vec<PlannedStop>> {
        let stop = &self.run.stops[at];
        let what = without(&stop.what, &[drop], None);
        if what.tasks().is_empty() {
            return self.fits_instead(at);
        }
        let mut shorter = PlannedStop {
            what,
            ..stop.clone()
        };
        let length = self.run.length(&shorter)?;
        anchored(stop.span, length)
            .into_iter()
            .enumerate()
            .find_map(|(end, span)| {
                shorter.span = span;
                // Kept at its start, it leaves time after; kept at its end, before.
                let position = at + 1 - end;
                let before = if end == 0 {
                    Some(&shorter)
                } else {
                    position.checked_sub(1).map(|i| &self.run.stops[i])
                };
                let after = if end == 0 {
                    self.run.stops.get(position)
                } else {
                    Some(&shorter)
                };
                self.spans_between(before?, after?)
                    .into_iter()
                    .find_map(|span| {
                        let mut stops = self.run.stops.to_vec();
                        stops[at] = shorter.clone();
                        stops.splice(position..position, self.own_stops(span));
                        self.if_sound(stops)
                    })
            })
    }

    /// In place of a stop that has nothing else to do, and of its reopening.
    fn fits_instead(&self, at: usize) -> Option<Vec<PlannedStop>> {
        let visit = self
            .run
            .visits()
            .into_iter()
            .find(|v| v.first == Some(at) && v.second.is_none());
        let gone: Vec<usize> = visit.iter().flat_map(|v| v.stops()).collect();
        let kept = self
            .run
            .stops
            .iter()
            .enumerate()
            .filter(|(i, _)| !gone.contains(i));
        let rest: Vec<PlannedStop> = kept.map(|(_, s)| s.clone()).collect();
        if gone.is_empty() || at == 0 || at >= rest.len() {
            return None;
        }
        self.spans_between(&rest[at - 1], &rest[at])
            .into_iter()
            .find_map(|span| {
                let mut stops = rest.clone();
                stops.splice(at..at, self.own_stops(span));
                self.if_sound(stops)
            })
    }

    /// Times for a stop of its own between two others: on arrival, or when a window of the room opens.
    fn spans_between(&self, before: &PlannedStop, after: &PlannedStop) -> Vec<Span> {
        let place = self.run.site.place_of_room(self.task.room);
        let walks = self
            .run
            .walk(before.place, place)
            .zip(self.run.walk(place, after.place));
        let Some((there, on)) = walks else {
            return Vec::new();
        };
        let (arrival, leave) = (before.span.to + there, after.span.from - on);
        let own = self.own_stops(Span::new(arrival, arrival));
        let needed: Seconds = own.iter().map(|s| s.span.length()).sum();
        if arrival + needed > leave {
            return Vec::new();
        }
        let (all, room) = (&self.beside.reading.windows, self.task.room.index());
        let windows = [&all.open[room], &all.closure[room]].into_iter().flatten();
        let opens = windows.flatten().map(|w| w.from);
        let mut starts: Vec<Clock> = opens.filter(|from| *from > arrival).collect();
        starts.insert(0, arrival);
        let is_open = |from: Clock| {
            let by = from - arrival;
            let later = |s: &PlannedStop| Span::new(s.span.from + by, s.span.to + by);
            let holds = |span: Span| {
                all.open[room]
                    .as_ref()
                    .is_none_or(|w| w.iter().any(|w| w.holds(span)))
            };
            own.iter().map(later).all(holds)
        };
        starts.retain(|from| *from + needed <= leave && is_open(*from));
        starts
            .into_iter()
            .map(|from| Span::new(from, from))
            .collect()
    }

    /// The task as a stop of its own from the start of `span`, with the reopening if the room is closed for it.
    fn own_stops(&self, span: Span) -> Vec<PlannedStop> {
        let (room, site) = (self.task.room, self.run.site);
        let mut from = span.from;
        let mut whats = vec![What::Clean(room, vec![self.task])];
        if site.kinds[self.task.kind.index()].reopen.is_some() {
            whats.push(What::Reopen(room));
        }
        let mut stops = Vec::new();
        for what in whats {
            let mut stop = PlannedStop {
                what,
                place: site.place_of_room(room),
                span: Span::new(from, from),
            };
            stop.span.to = from + self.run.length(&stop).unwrap_or(Seconds::ZERO);
            from = stop.span.to;
            stops.push(stop);
        }
        stops
    }

    /// These stops, if the run with them keeps all other rules, alone and beside the others.
    fn if_sound(&self, stops: Vec<PlannedStop>) -> Option<Vec<PlannedStop>> {
        if self.is_past(&stops) {
            return None;
        }
        let run = self.run.with_stops(&stops)?;
        let kept =
            keeps_alone(self.beside.reading, &run) && (self.alone || self.suits_others(&stops));
        kept.then_some(stops)
    }

    fn suits_others(&self, stops: &[PlannedStop]) -> bool {
        let suits = self.beside.keeps(self.index, stops);
        if !suits {
            self.by_others.store(true, Ordering::Relaxed);
        }
        suits
    }

    /// Whether these stops change what has begun already on a night that is under way.
    fn is_past(&self, stops: &[PlannedStop]) -> bool {
        let Some(now) = self.run.site.now else {
            return false;
        };
        let begun = |s: &&PlannedStop| s.span.from < now;
        !stops
            .iter()
            .filter(begun)
            .eq(self.run.stops.iter().filter(begun))
    }
}

/// The same work with some tasks dropped and perhaps another added.
pub(super) fn without(what: &What, drops: &[DueTask], add: Option<DueTask>) -> What {
    let mut tasks: Vec<DueTask> = what
        .tasks()
        .iter()
        .copied()
        .filter(|t| !drops.contains(t))
        .chain(add)
        .collect();
    tasks.sort_unstable();
    match what {
        What::Clean(room, _) => What::Clean(*room, tasks),
        What::OpenAndWet(room, _) => What::OpenAndWet(*room, tasks),
        What::WipeAndMop(room, _) => What::WipeAndMop(*room, tasks),
        other => other.clone(),
    }
}

/// A span of another length with the same start, and one with the same end.
fn anchored(span: Span, length: Seconds) -> [Span; 2] {
    [
        Span::new(span.from, span.from + length),
        Span::new(span.to - length, span.to),
    ]
}
