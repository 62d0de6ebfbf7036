//! Rule 6: at every moment at least the stated number of rooms of a closure group is open, over all runs together.
//!
//! The number of open rooms can only fall when a closure begins, so these moments are all that need looking at.

use super::findings::Findings;
use super::rule::Rule;
use crate::plan::reading::Reading;
use crate::site::{Group, RoomId};
use crate::units::{Clock, Span};
use itertools::Itertools;
use std::collections::{BTreeMap, BTreeSet};

/// Every group at every moment at which one of its rooms is closed.
pub(super) fn across(reading: &Reading, found: &mut Findings) {
    let closures = closures(reading);
    for group in &reading.site.policy.groups {
        let rooms: BTreeSet<RoomId> = group.rooms.iter().copied().collect();
        let here: Vec<_> = closures
            .iter()
            .filter(|c| rooms.contains(&c.room))
            .collect();
        let starts: BTreeSet<Clock> = here.iter().map(|c| c.span.from).collect();
        for at in starts {
            let now = here.iter().filter(|c| c.span.from <= at && at < c.span.to);
            let closed: BTreeMap<RoomId, &str> = now.map(|c| (c.room, c.by)).collect();
            if rooms.len() - closed.len() < group.keep_open as usize {
                let message = message(reading, group, rooms.len(), &closed, at);
                found.at_moment(Rule::Groups, at, message);
            }
        }
    }
}

struct Closure<'a> {
    room: RoomId,
    by: &'a str,
    span: Span,
}

fn closures<'a>(reading: &Reading<'a>) -> Vec<Closure<'a>> {
    let mut closures = Vec::new();
    for run in &reading.runs {
        let by = run.worker.name.as_str();
        let closed = run
            .visits()
            .into_iter()
            .filter_map(|v| Some((v.room, run.closure(v)?)));
        let closed = closed.filter(|(_, span)| !span.is_empty());
        closures.extend(closed.map(|(room, span)| Closure { room, by, span }));
    }
    closures
}

fn message(
    reading: &Reading,
    group: &Group,
    rooms: usize,
    closed: &BTreeMap<RoomId, &str>,
    at: Clock,
) -> String {
    let by =
        |(room, by): (&RoomId, &&str)| format!("`{}` by {by}", reading.site.rooms[room.index()].id);
    let closed_rooms = closed.iter().map(by).join(", ");
    let (name, open, keep) = (&group.name, rooms - closed.len(), group.keep_open);
    format!(
        "`{name}`: at {at} {open} of {rooms} rooms are open, {keep} have to be; closed are {closed_rooms}"
    )
}
