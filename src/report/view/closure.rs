//! When rooms are closed to their users, gathered by closure group.

use super::stop::closes;
use super::words;
use crate::plan::{Run, What};
use crate::report::Answer;
use crate::site::RoomId;
use crate::units::{Clock, Span};
use std::collections::BTreeMap;

/// One room closed for a while.
#[derive(Clone, Debug)]
pub(in crate::report) struct Closed {
    /// Which room.
    pub(in crate::report) room: String,
    /// By whom.
    pub(in crate::report) by: String,
    /// When, elapsed.
    pub(in crate::report) span: Span,
}

/// Rooms of which some must stay open, or the rooms in no such group.
#[derive(Clone, Debug)]
pub(in crate::report) struct ClosedGroup {
    /// What people call it, and how many stay open.
    pub(in crate::report) name: String,
    /// What is closed when, by room and time.
    pub(in crate::report) rows: Vec<Vec<Closed>>,
}

/// All closures of the plan: the site's groups in its order, then rooms in no group.
pub(super) fn closures(answer: &Answer) -> Vec<ClosedGroup> {
    let site = answer.site;
    let mut closed = closed_by_room(answer);
    let mut groups = Vec::new();
    for group in &site.policy.groups {
        let rows: Vec<_> = group
            .rooms
            .iter()
            .filter_map(|r| closed.get(r).cloned())
            .collect();
        let open = format!(
            "{} of {} stay open",
            group.keep_open,
            words::count(group.rooms.len(), "room", "rooms")
        );
        groups.push(ClosedGroup {
            name: format!("{}: {open}", group.name),
            rows,
        });
    }
    for room in site.policy.groups.iter().flat_map(|g| &g.rooms) {
        closed.remove(room);
    }
    groups.push(ClosedGroup {
        name: "In no group".into(),
        rows: closed.into_values().collect(),
    });
    groups.retain(|g| !g.rows.is_empty());
    groups
}

fn closed_by_room(answer: &Answer) -> BTreeMap<RoomId, Vec<Closed>> {
    let mut all: BTreeMap<RoomId, Vec<Closed>> = BTreeMap::new();
    for run in &answer.plan.runs {
        let by = &answer.site.crew[run.worker.index()].name;
        for (room, span) in closed_in(answer, run) {
            let name = words::place(answer.site, answer.site.place_of_room(room));
            all.entry(room).or_default().push(Closed {
                room: name,
                by: by.clone(),
                span,
            });
        }
    }
    for spans in all.values_mut() {
        spans.sort_by_key(|c| c.span);
    }
    all
}

/// Closed from the first stop of a visit until the end of its reopening; a visit never reopened counts to the end of its last stop.
fn closed_in(answer: &Answer, run: &Run) -> Vec<(RoomId, Span)> {
    let mut begun: BTreeMap<RoomId, Span> = BTreeMap::new();
    let mut closed = Vec::new();
    for stop in &run.stops {
        let Some(room) = stop.what.room().filter(|r| closes(answer.site, *r)) else {
            continue;
        };
        let from: Clock = begun.get(&room).map_or(stop.span.from, |s| s.from);
        begun.insert(
            room,
            Span {
                from,
                to: stop.span.to,
            },
        );
        if stop.what == What::Reopen(room) {
            closed.extend(begun.remove(&room).map(|span| (room, span)));
        }
    }
    closed.extend(begun);
    closed
}
