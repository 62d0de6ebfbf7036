//! When rooms are closed to their users, and how many of each closure group are open meanwhile.

use super::{floor_id, names, stop::closes};
use crate::plan::{Run, What};
use crate::report::Answer;
use crate::site::{Group, RoomId};
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

/// A closure group over the night.
#[derive(Clone, Debug)]
pub(in crate::report) struct GroupView {
    /// What people call it.
    pub(in crate::report) name: String,
    /// How many rooms it has.
    pub(in crate::report) rooms: usize,
    /// How many must stay open.
    pub(in crate::report) keep_open: u32,
    /// How many are open in each stretch in which at least one is closed, by time.
    pub(in crate::report) open: Vec<(Span, usize)>,
}

impl GroupView {
    /// The fewest open at any moment.
    pub(in crate::report) fn fewest(&self) -> usize {
        let fewest = self.open.iter().map(|(_, open)| *open).min();
        fewest.unwrap_or(self.rooms)
    }
}

/// What each closed room and each group of the site goes through.
pub(super) fn closures(answer: &Answer) -> (Vec<Vec<Closed>>, Vec<GroupView>) {
    let closed = closed_by_room(answer);
    let groups = answer.site.policy.groups.iter();
    let groups = groups.map(|group| over_the_night(group, &closed)).collect();
    let site = answer.site;
    let mut rooms: Vec<_> = closed.into_iter().collect();
    rooms.sort_by_key(|(room, _)| (floor_id(site, site.place_of_room(*room)), *room));
    (rooms.into_iter().map(|(_, spans)| spans).collect(), groups)
}

fn over_the_night(group: &Group, closed: &BTreeMap<RoomId, Vec<Closed>>) -> GroupView {
    let spans: Vec<Vec<Span>> = group
        .rooms
        .iter()
        .map(|room| {
            closed
                .get(room)
                .into_iter()
                .flatten()
                .map(|c| c.span)
                .collect()
        })
        .collect();
    let mut moments: Vec<Clock> = spans
        .iter()
        .flatten()
        .flat_map(|s| [s.from, s.to])
        .collect();
    moments.sort_unstable();
    moments.dedup();
    let open_at = |moment: Clock| {
        let shut = |spans: &&Vec<Span>| spans.iter().any(|s| s.from <= moment && moment < s.to);
        group.rooms.len() - spans.iter().filter(shut).count()
    };
    let mut open: Vec<(Span, usize)> = Vec::new();
    for pair in moments.windows(2) {
        let (span, count) = (Span::new(pair[0], pair[1]), open_at(pair[0]));
        match open.last_mut() {
            Some((last, same)) if *same == count && last.to == span.from => last.to = span.to,
            _ => open.push((span, count)),
        }
    }
    open.retain(|(_, count)| *count < group.rooms.len());
    GroupView {
        name: group.name.clone(),
        rooms: group.rooms.len(),
        keep_open: group.keep_open,
        open,
    }
}

fn closed_by_room(answer: &Answer) -> BTreeMap<RoomId, Vec<Closed>> {
    let mut all: BTreeMap<RoomId, Vec<Closed>> = BTreeMap::new();
    for run in &answer.plan.runs {
        let by = &answer.site.crew[run.worker.index()].name;
        for (room, span) in closed_in(answer, run) {
            let name = names::place(answer.site, answer.site.place_of_room(room));
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
