//! The visits of a run: which of its stops at one room belong together.
//!
//! A visit is *clean*, or *open and wet* with *wipe and mop*; either is followed by *reopen* if the room is closed for it.
//! A plan that was written by hand may have any of these without the others: such visits are read too, with parts missing.

use super::ReadRun;
use crate::plan::{PlannedStop, What};
use crate::site::{Method, RoomId, RoomKind};
use crate::units::{Clock, Seconds, Span};
use crate::work::DueTask;

/// The stops of one visit, by their positions in the run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::plan) struct Visit {
    /// The room.
    pub(in crate::plan) room: RoomId,
    /// *Clean*, or *open and wet*.
    pub(in crate::plan) first: Option<usize>,
    /// *Wipe and mop*.
    pub(in crate::plan) second: Option<usize>,
    /// *Reopen*.
    pub(in crate::plan) reopen: Option<usize>,
}

/// Which part of a visit a stop is.
#[derive(Clone, Copy)]
enum Part {
    First,
    Second,
    Reopen,
}

impl Visit {
    fn of(room: RoomId, part: Part, at: usize) -> Visit {
        let mut visit = Visit {
            room,
            first: None,
            second: None,
            reopen: None,
        };
        visit.add(part, at);
        visit
    }

    fn add(&mut self, part: Part, at: usize) {
        match part {
            Part::First => self.first = Some(at),
            Part::Second => self.second = Some(at),
            Part::Reopen => self.reopen = Some(at),
        }
    }

    /// The positions of its stops, in order.
    pub(in crate::plan) fn stops(self) -> impl Iterator<Item = usize> {
        [self.first, self.second, self.reopen].into_iter().flatten()
    }

    /// The last of its stops with work on tasks.
    pub(in crate::plan) fn last_work(self) -> Option<usize> {
        self.second.or(self.first)
    }
}

impl<'a> ReadRun<'a> {
    /// The visits, in order of their first stops.
    pub(in crate::plan) fn visits(&self) -> Vec<Visit> {
        let mut visits: Vec<Visit> = Vec::new();
        for (at, stop) in self.stops.iter().enumerate() {
            let Some(room) = stop.what.room() else {
                continue;
            };
            let part = match stop.what {
                What::WipeAndMop(..) => Part::Second,
                What::Reopen(_) => Part::Reopen,
                _ => Part::First,
            };
            match visits
                .iter_mut()
                .find(|v| v.room == room && self.awaits(**v, part))
            {
                Some(visit) => visit.add(part, at),
                None => visits.push(Visit::of(room, part, at)),
            }
        }
        visits
    }

    fn awaits(&self, visit: Visit, part: Part) -> bool {
        let wet = |at: usize| matches!(self.stops[at].what, What::OpenAndWet(..));
        match part {
            Part::First => false,
            Part::Second => visit.second.is_none() && visit.first.is_some_and(wet),
            Part::Reopen => visit.reopen.is_none(),
        }
    }

    /// The tasks worked on in a visit, each once.
    pub(in crate::plan) fn tasks_of(&self, visit: Visit) -> Vec<DueTask> {
        let mut tasks: Vec<DueTask> = visit
            .stops()
            .flat_map(|at| self.stops[at].what.tasks())
            .copied()
            .collect();
        tasks.sort_unstable();
        tasks.dedup();
        tasks
    }

    /// The kind of a visit's room.
    pub(in crate::plan) fn kind_of(&self, visit: Visit) -> &'a RoomKind {
        &self.site.kinds[self.site.rooms[visit.room.index()].kind.index()]
    }

    /// From when on the second part of a visit may start: everything is sprayed, and the longest dwell is over.
    pub(in crate::plan) fn wiped_from(&self, visit: Visit) -> Option<Clock> {
        let wet = &self.stops[visit.first?];
        let before_dry = |t: &&DueTask| t.task(self.site).method.step() <= 1;
        let spraying = wet.what.tasks().iter().filter(before_dry);
        let until = spraying
            .map(|t| self.task_time(&wet.what, *t))
            .sum::<Seconds>();
        Some(wet.span.from + until + self.longest_dwell(wet))
    }

    /// From when on a visit's room may be reopened: the work is over and the floor is dry.
    pub(in crate::plan) fn dry_from(&self, visit: Visit) -> Option<Clock> {
        let last = &self.stops[visit.last_work()?];
        Some(last.span.to + self.longest_drying(last))
    }

    /// The longest dwell of what is sprayed at a stop.
    pub(in crate::plan) fn longest_dwell(&self, stop: &PlannedStop) -> Seconds {
        self.longest(stop, |method| match method {
            Method::Spray { dwell } => Some(dwell),
            _ => None,
        })
    }

    /// The longest drying of what is mopped at a stop.
    pub(in crate::plan) fn longest_drying(&self, stop: &PlannedStop) -> Seconds {
        self.longest(stop, |method| match method {
            Method::Mop { drying } => Some(drying),
            _ => None,
        })
    }

    fn longest(&self, stop: &PlannedStop, time: fn(Method) -> Option<Seconds>) -> Seconds {
        let times = stop
            .what
            .tasks()
            .iter()
            .filter_map(|t| time(t.task(self.site).method));
        times.max().unwrap_or(Seconds::ZERO)
    }

    /// While a visit closes its room: from its first stop until it is reopened, or to the end of the run if it never is.
    /// `None` if rooms of this kind stay open.
    pub(in crate::plan) fn closure(&self, visit: Visit) -> Option<Span> {
        self.kind_of(visit).reopen?;
        let first = visit.stops().map(|at| self.stops[at].span.from).min()?;
        let end = match visit.reopen {
            Some(at) => self.stops[at].span.to,
            None => self.stops.iter().map(|s| s.span.to).max()?,
        };
        Some(Span::new(first, end))
    }
}
