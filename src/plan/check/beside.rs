//! What the rules across runs see of a run: most stops are nobody else's business.
//!
//! A closed room matters to others only in a group, a wet floor only in an exit pair, the order of work only in a room that is visited more
//! than once. Besides these the rules look at fetched machines, at duties that come last and at the ends of runs. So whether a plan with another run
//! in place of one keeps them is told without the rest; and where these stops stay as they were, so do the rules.

use super::findings::Findings;
use super::together;
use crate::plan::reading::{ReadRun, Reading};
use crate::plan::{PlannedStop, What};
use crate::site::{RoomId, Site};
use itertools::Itertools;
use std::collections::BTreeSet;

/// A plan as the rules across runs see it.
pub(super) struct Beside<'s, 'a> {
    /// The whole plan.
    pub(super) reading: &'s Reading<'a>,
    /// Rooms that these rules look at.
    rooms: BTreeSet<RoomId>,
    /// The stops of each run that these rules look at.
    stops: Vec<Vec<PlannedStop>>,
    /// Whether the plan as it is keeps these rules.
    kept: bool,
}

impl<'s, 'a> Beside<'s, 'a> {
    /// Of a plan; `kept` is whether it keeps these rules as it is.
    pub(super) fn of(reading: &'s Reading<'a>, kept: bool) -> Self {
        let rooms = rooms(reading);
        let seen = |run: &ReadRun| seen(reading.site, &rooms, run.stops);
        Beside {
            stops: reading.runs.iter().map(seen).collect(),
            reading,
            rooms,
            kept,
        }
    }

    /// From now on one of the runs has other stops, with which the plan keeps these rules; whether that is seen.
    pub(super) fn change(&mut self, index: usize, stops: &[PlannedStop]) -> bool {
        let own = seen(self.reading.site, &self.rooms, stops);
        let changed = own != self.stops[index];
        if changed {
            self.stops[index] = own;
            self.kept = true;
        }
        changed
    }

    /// Whether the plan keeps these rules with other stops in one of its runs. They bring no second visit into a room.
    pub(super) fn keeps(&self, index: usize, stops: &[PlannedStop]) -> bool {
        let own = seen(self.reading.site, &self.rooms, stops);
        if own == self.stops[index] {
            return self.kept;
        }
        let mut shown = self.stops.iter().map(Vec::as_slice).collect_vec();
        shown[index] = &own;
        let mut found = Findings::default();
        together(&self.reading.showing(&shown), &mut found);
        found.is_empty()
    }
}

/// Rooms of groups and exit pairs, and those that are visited more than once.
fn rooms(reading: &Reading) -> BTreeSet<RoomId> {
    let policy = &reading.site.policy;
    let groups = policy.groups.iter().flat_map(|g| &g.rooms);
    let pairs = policy.exit_pairs.iter().flatten();
    let visited = reading.runs.iter().flat_map(ReadRun::visits);
    let again = visited.map(|v| v.room).duplicates();
    groups.chain(pairs).copied().chain(again).collect()
}

/// The stops that matter to others, in order.
fn seen(site: &Site, rooms: &BTreeSet<RoomId>, stops: &[PlannedStop]) -> Vec<PlannedStop> {
    let end = stops.iter().map(|s| s.span.to).max();
    let is_seen = |(at, stop): (usize, &PlannedStop)| match &stop.what {
        What::Fetch(_) => true,
        What::Duty(duty) if site.duties[*duty].last => true,
        what => {
            let room = what.room().is_some_and(|room| rooms.contains(&room));
            room || at + 1 == stops.len() || Some(stop.span.to) == end
        }
    };
    let stops = stops.iter().enumerate();
    stops
        .filter(|s| is_seen(*s))
        .map(|(_, stop)| stop.clone())
        .collect()
}
