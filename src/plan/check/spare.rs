//! Whether a run could have time for an undone task at all, told without trying: most tasks fit nowhere, and trying takes long.
//!
//! Every stop is taken to have dropped all less important work, and its free time to lie before it and after it at once. What does not fit even
//! then fits in no exchange.

use super::swap::without;
use crate::plan::reading::ReadRun;
use crate::plan::{PlannedStop, What};
use crate::site::{Method, PlaceId, Priority, RoomId, Site};
use crate::units::{Clock, Seconds, Span};
use crate::work::DueTask;
use itertools::Itertools;
use std::collections::BTreeSet;

/// The free time of a run, for tasks of one priority.
pub(super) struct Spare<'r, 'a> {
    run: &'r ReadRun<'a>,
    rooms: BTreeSet<RoomId>,
    gaps: Vec<Gap>,
}

/// From the earliest end of one stop to the latest start of the next.
struct Gap {
    from: (PlaceId, Clock),
    to: (PlaceId, Clock),
}

impl<'r, 'a> Spare<'r, 'a> {
    /// None for a run without less important work.
    pub(super) fn of(run: &'r ReadRun<'a>, own: Priority) -> Option<Spare<'r, 'a>> {
        let less = |task: &&DueTask| task.priority(run.site) > own && !has_dwell(run.site, **task);
        let stops = run.stops.iter();
        // Stops that have nothing else to do go, with their reopening.
        let is_all = |s: &&PlannedStop| {
            !s.what.tasks().is_empty() && s.what.tasks().iter().all(|t| less(&t))
        };
        let gone: BTreeSet<RoomId> = stops
            .clone()
            .filter(is_all)
            .filter_map(|s| s.what.room())
            .collect();
        let reopens =
            |s: &PlannedStop| matches!(s.what, What::Reopen(room) if gone.contains(&room));
        let kept = stops
            .clone()
            .filter(|s| !is_all(s) && !reopens(s))
            .map(|stop| {
                let drops = stop.what.tasks().iter().filter(less).copied().collect_vec();
                let rest = PlannedStop {
                    what: without(&stop.what, &drops, None),
                    ..stop.clone()
                };
                let lengths = run.length(stop).zip(run.length(&rest));
                let spared = lengths.map_or(Seconds::ZERO, |(all, rest)| all - rest);
                (stop.place, stop.span.to - spared, stop.span.from + spared)
            });
        let gap = |(before, after): ((PlaceId, Clock, Clock), (PlaceId, Clock, Clock))| Gap {
            from: (before.0, before.1),
            to: (after.0, after.2),
        };
        let any = stops
            .clone()
            .any(|s| s.what.tasks().iter().any(|t| less(&t)));
        any.then(|| Spare {
            run,
            rooms: stops.clone().filter_map(|s| s.what.room()).collect(),
            gaps: kept.tuple_windows().map(gap).collect(),
        })
    }

    /// Whether a task may fit, in its room if somebody is there anyway, else with the walks there and back.
    pub(super) fn may_take(&self, task: DueTask, visited: bool) -> bool {
        if visited {
            return self.rooms.contains(&task.room);
        }
        let place = self.run.site.place_of_room(task.room);
        let own = PlannedStop {
            what: What::Clean(task.room, vec![task]),
            place,
            span: Span::default(),
        };
        let length = self.run.length(&own).unwrap_or(Seconds::ZERO);
        self.gaps.iter().any(|gap| {
            let walks = (self.run.walk(gap.from.0, place)).zip(self.run.walk(place, gap.to.0));
            walks.is_some_and(|(there, on)| gap.from.1 + there + length + on <= gap.to.1)
        })
    }
}

/// Whether a task has to be left to dwell.
pub(super) fn has_dwell(site: &Site, due: DueTask) -> bool {
    matches!(due.task(site).method, Method::Spray { dwell } if dwell > Seconds::ZERO)
}
