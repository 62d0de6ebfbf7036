//! Rule 14: nothing is left undone that would fit in place of something less important of one run.
//!
//! For each undone task the runs are searched for a done task of lower priority to drop, with every other stop kept at its
//! times. The undone task then goes either into the same stop, if it is in the same room and part of the visit, or into a
//! stop of its own just before or after, walks there and back included. Such a run is put to all the other rules; the task is
//! reported only if none is broken. Only plain tasks are tried: no mopping, no machines, no dwell.

use super::findings::Findings;
use super::{alone, skills, together};
use crate::plan::reading::{ReadRun, Reading};
use crate::plan::{PlannedStop, UndoneWork, What};
use crate::site::{Method, RoomId};
use crate::units::{Clock, Seconds, Span};
use crate::work::DueTask;
use std::collections::BTreeSet;

/// Every undone task against every run.
pub(super) fn across(reading: &Reading, found: &mut Findings) {
    let visited: BTreeSet<RoomId> = reading
        .runs
        .iter()
        .flat_map(|run| run.stops.iter().filter_map(|s| s.what.room()))
        .collect();
    for undone in &reading.plan.undone {
        let UndoneWork::Task(task) = undone.what else {
            continue;
        };
        if is_plain(reading, task) {
            let swaps = (0..reading.runs.len()).find_map(|run| {
                Swaps {
                    reading,
                    index: run,
                    run: &reading.runs[run],
                    task,
                    visited: &visited,
                }
                .first()
            });
            if let Some((run, at, drop)) = swaps {
                report(&reading.runs[run], at, drop, task, found);
            }
        }
    }
}

fn is_plain(reading: &Reading, due: DueTask) -> bool {
    let task = due.task(reading.site);
    task.machine.is_none() && !due.is_mopping(reading.site) && !has_dwell(reading, due)
}

fn has_dwell(reading: &Reading, due: DueTask) -> bool {
    matches!(due.task(reading.site).method, Method::Spray { dwell } if dwell > Seconds::ZERO)
}

fn report(run: &ReadRun, at: usize, drop: DueTask, task: DueTask, found: &mut Findings) {
    let name = |t: DueTask| {
        format!(
            "`{}` in `{}`",
            t.task(run.site).name,
            run.site.rooms[t.room.index()].id
        )
    };
    let (priority, lower) = (
        task.priority(run.site).word(),
        drop.priority(run.site).word(),
    );
    let problem = format!(
        "{} ({lower}) is done here, while {} ({priority}) would fit in its place and is undone",
        name(drop),
        name(task)
    );
    found.swap(run, at, (drop, task), &problem);
}

/// One undone task and one run.
struct Swaps<'s, 'a> {
    reading: &'s Reading<'a>,
    index: usize,
    run: &'s ReadRun<'a>,
    task: DueTask,
    visited: &'s BTreeSet<RoomId>,
}

impl Swaps<'_, '_> {
    /// The first done task that could be swapped: the run's index, the stop, the task to drop.
    fn first(&self) -> Option<(usize, usize, DueTask)> {
        let (site, worker) = (self.run.site, self.run.worker);
        let afoot = self.task.needs_cart(site) && self.run.cart.is_none();
        if afoot || skills::lacking(site, worker, self.run.id, self.task).is_some() {
            return None;
        }
        for (at, stop) in self.run.stops.iter().enumerate() {
            let lower = |t: &&DueTask| t.priority(site) > self.task.priority(site);
            for drop in stop.what.tasks().iter().filter(lower) {
                if !has_dwell(self.reading, *drop) && self.fits_for(at, *drop) {
                    return Some((self.index, at, *drop));
                }
            }
        }
        None
    }

    fn fits_for(&self, at: usize, drop: DueTask) -> bool {
        if self.run.stops[at].what.room() == Some(self.task.room) {
            self.fits_same_stop(at, drop)
        } else {
            !self.visited.contains(&self.task.room) && self.fits_own_stop(at, drop)
        }
    }

    /// In the same stop, instead of `drop`, starting or ending when it did.
    fn fits_same_stop(&self, at: usize, drop: DueTask) -> bool {
        let stop = &self.run.stops[at];
        let in_part = matches!(
            (&stop.what, self.task.task(self.run.site).method),
            (What::Clean(..), _)
                | (What::OpenAndWet(..), Method::Open | Method::Dry)
                | (What::WipeAndMop(..), Method::Wipe)
        );
        let mut swapped = PlannedStop {
            what: without(&stop.what, drop, Some(self.task)),
            ..stop.clone()
        };
        let Some(length) = self.run.length(&swapped).filter(|_| in_part) else {
            return false;
        };
        anchored(stop.span, length).into_iter().any(|span| {
            swapped.span = span;
            let mut stops = self.run.stops.to_vec();
            stops[at] = swapped.clone();
            self.is_sound(&stops)
        })
    }

    /// In a stop of its own, in the time that `drop` leaves after its stop or before it.
    fn fits_own_stop(&self, at: usize, drop: DueTask) -> bool {
        let stop = &self.run.stops[at];
        let what = without(&stop.what, drop, None);
        if what.tasks().is_empty() {
            return self.fits_instead(at);
        }
        let mut shorter = PlannedStop {
            what,
            ..stop.clone()
        };
        let Some(length) = self.run.length(&shorter) else {
            return false;
        };
        anchored(stop.span, length)
            .into_iter()
            .enumerate()
            .any(|(end, span)| {
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
                let (Some(before), Some(after)) = (before, after) else {
                    return false;
                };
                self.spans_between(before, after).into_iter().any(|span| {
                    let mut stops = self.run.stops.to_vec();
                    stops[at] = shorter.clone();
                    stops.splice(position..position, self.own_stops(span));
                    self.is_sound(&stops)
                })
            })
    }

    /// In place of a stop that has nothing else to do, and of its reopening.
    fn fits_instead(&self, at: usize) -> bool {
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
            return false;
        }
        self.spans_between(&rest[at - 1], &rest[at])
            .into_iter()
            .any(|span| {
                let mut stops = rest.clone();
                stops.splice(at..at, self.own_stops(span));
                self.is_sound(&stops)
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
        let room = &self.run.site.rooms[self.task.room.index()];
        let hours = [&room.open, &room.closure].into_iter().flatten();
        let opens = hours
            .flat_map(|h| self.reading.calendar.windows(h))
            .map(|w| w.from);
        let mut starts: Vec<Clock> = opens.filter(|from| *from > arrival).collect();
        starts.insert(0, arrival);
        starts.retain(|from| *from + needed <= leave);
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

    /// Whether the run with these stops keeps all other rules, alone and beside the others.
    fn is_sound(&self, stops: &[PlannedStop]) -> bool {
        let Some(run) = self.run.with_stops(stops) else {
            return false;
        };
        let mut found = Findings::default();
        alone(self.reading, &run, &mut found);
        if found.is_empty() {
            together(&self.reading.replacing(self.index, run), &mut found);
        }
        found.is_empty()
    }
}

/// The same work with one task dropped and perhaps another added.
fn without(what: &What, drop: DueTask, add: Option<DueTask>) -> What {
    let mut tasks: Vec<DueTask> = what
        .tasks()
        .iter()
        .copied()
        .filter(|t| *t != drop)
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
