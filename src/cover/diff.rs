//! What changed between two plans of one site, person by person, in the words of the trade.

use super::known::TOLERANCE;
use crate::plan::{Plan, PlannedStop, Run, UndoneWork, What};
use crate::site::{AccessId, MachineId, RoomId, Site, WorkerId};
use crate::units::{Clock, Span};
use crate::work::DueTask;
use itertools::Itertools;
use std::collections::{BTreeMap, BTreeSet};

/// What can be added, dropped or moved.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Work {
    /// A room: all of its stops in one run.
    Room(RoomId),
    /// A duty, by index in the site's list.
    Duty(usize),
    /// A break, by index in the worker's list.
    Break(usize),
}

/// A piece of work in a run of one plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shift {
    /// What.
    pub work: Work,
    /// From its first stop to its last.
    pub span: Span,
    /// Whose it was before, or whose it is now; nobody's if it was or is left undone, or was not asked for.
    pub other: Option<WorkerId>,
}

/// What changed for one person.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PersonDiff {
    /// Who.
    pub worker: WorkerId,
    /// When the run was and is; none where there is none or nothing in it.
    pub runs: (Option<Span>, Option<Span>),
    /// What is new.
    pub added: Vec<Shift>,
    /// What is not theirs any more.
    pub dropped: Vec<Shift>,
    /// What starts at another time by more than a quarter of an hour, before and after.
    pub moved: Vec<(Work, Span, Span)>,
    /// Rooms of which less or more is done: tasks given up, tasks taken on.
    pub cut: Vec<(RoomId, Vec<DueTask>, Vec<DueTask>)>,
    /// Keys and clearances that are needed now and were not.
    pub keys: Vec<AccessId>,
    /// Machines fetched now and not before, and when.
    pub machines: Vec<(MachineId, Span)>,
    /// Machines not fetched any more.
    pub machines_off: Vec<MachineId>,
}

impl PersonDiff {
    /// Whether the run is as it was.
    pub fn is_same(&self) -> bool {
        self.added.is_empty()
            && self.dropped.is_empty()
            && self.moved.is_empty()
            && self.cut.is_empty()
            && self.machines.is_empty()
            && self.machines_off.is_empty()
    }
}

/// How much changed, over those who are in both plans. A stop is one of cleaning, reopening or a duty.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// Stops they had.
    pub stops: usize,
    /// Of these, how many are still done by the same person.
    pub kept: usize,
    /// Of those kept, how many start within a quarter of an hour of before.
    pub on_time: usize,
    /// Runs that are not as they were.
    pub runs: usize,
}

/// Everything that changed from one plan to another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Diff {
    /// One for each person of either plan, in the site's order.
    pub people: Vec<PersonDiff>,
    /// How much.
    pub counts: Counts,
    /// Done before, undone now.
    pub given_up: Vec<UndoneWork>,
    /// Undone before, done now.
    pub taken_on: Vec<UndoneWork>,
}

/// What changed from `before` to `after`; ids are those of `site`, which may be the copy of either night.
///
/// Rooms that were done ahead of the plan are looked at in neither: nobody gave them up.
pub fn diff(site: &Site, before: &Plan, after: &Plan) -> Diff {
    let plans = [before, after].map(|plan| without_done(site, plan));
    let [before, after] = &plans;
    let owners = [owners(before), owners(after)];
    let workers = before.runs.iter().chain(&after.runs).map(|r| r.worker);
    let workers = workers.sorted_unstable().dedup();
    let run = |plan: &Plan, w| plan.runs.iter().find(|r| r.worker == w).cloned();
    let idle = |worker| Run {
        worker,
        stops: Vec::new(),
    };
    let mut counts = Counts::default();
    let mut people = Vec::new();
    for worker in workers {
        let runs = [before, after].map(|plan| run(plan, worker));
        let stays = runs.iter().all(Option::is_some);
        let [was, is] = runs.map(|r| r.unwrap_or_else(|| idle(worker)));
        let person = of_person(site, &was, &is, &owners);
        if stays {
            count(&was, &is, &mut counts);
            counts.runs += usize::from(!same(&was, &is));
        }
        people.push(person);
    }
    let undone = |plan: &Plan| plan.undone.iter().map(|u| u.what).collect::<BTreeSet<_>>();
    let (left, leaves) = (undone(before), undone(after));
    Diff {
        people,
        counts,
        given_up: leaves.difference(&left).copied().collect(),
        taken_on: left.difference(&leaves).copied().collect(),
    }
}

fn without_done(site: &Site, plan: &Plan) -> Plan {
    let mut plan = plan.clone();
    let is_done = |room: RoomId| site.done.contains(&room);
    for run in &mut plan.runs {
        run.stops.retain(|s| !s.what.room().is_some_and(is_done));
    }
    plan
}

type Owners = BTreeMap<Work, Vec<WorkerId>>;

fn owners(plan: &Plan) -> Owners {
    let mut owners = Owners::new();
    for run in &plan.runs {
        for work in pieces(run)
            .into_keys()
            .filter(|w| !matches!(w, Work::Break(_)))
        {
            owners.entry(work).or_default().push(run.worker);
        }
    }
    owners
}

fn work_of(what: &What) -> Option<Work> {
    match what {
        What::Duty(index) => Some(Work::Duty(*index)),
        What::Break(index) => Some(Work::Break(*index)),
        _ => what.room().map(Work::Room),
    }
}

/// What a run does, each from its first stop to its last.
fn pieces(run: &Run) -> BTreeMap<Work, Span> {
    let mut pieces: BTreeMap<Work, Span> = BTreeMap::new();
    for stop in &run.stops {
        if let Some(work) = work_of(&stop.what) {
            pieces.entry(work).or_insert(stop.span).to = stop.span.to;
        }
    }
    pieces
}

fn of_person(site: &Site, was: &Run, is: &Run, owners: &[Owners; 2]) -> PersonDiff {
    let (before, after) = (pieces(was), pieces(is));
    let worker = was.worker;
    let missing = |from: &BTreeMap<Work, Span>, other: &BTreeMap<Work, Span>, owners: &Owners| {
        let gone = from.iter().filter(|(work, _)| !other.contains_key(work));
        let shift = |(work, span): (&Work, &Span)| Shift {
            work: *work,
            span: *span,
            other: owners
                .get(work)
                .and_then(|o| o.iter().find(|w| **w != worker))
                .copied(),
        };
        gone.map(shift).sorted_by_key(|s| s.span.from).collect_vec()
    };
    let both = before
        .iter()
        .filter_map(|(w, span)| Some((*w, *span, *after.get(w)?)));
    let moved = both.filter(|(_, a, b)| is_far(a.from, b.from));
    PersonDiff {
        worker,
        runs: (span_of(was), span_of(is)),
        added: missing(&after, &before, &owners[0]),
        dropped: missing(&before, &after, &owners[1]),
        moved: moved.sorted_by_key(|(_, _, b)| b.from).collect(),
        cut: cut(was, is),
        keys: keys(site, is)
            .difference(&keys(site, was))
            .copied()
            .collect(),
        machines: fetched(is, &fetched(was, &[])).into_iter().collect(),
        machines_off: fetched(was, &fetched(is, &[]))
            .into_iter()
            .map(|(m, _)| m)
            .collect(),
    }
}

fn is_far(a: Clock, b: Clock) -> bool {
    (a.0 - b.0).abs() > TOLERANCE.0
}

fn span_of(run: &Run) -> Option<Span> {
    Some(Span::new(
        run.stops.first()?.span.from,
        run.stops.last()?.span.to,
    ))
}

/// Rooms in both runs of which less or more is done.
fn cut(was: &Run, is: &Run) -> Vec<(RoomId, Vec<DueTask>, Vec<DueTask>)> {
    let tasks = |run: &Run| {
        let mut tasks: BTreeMap<RoomId, BTreeSet<DueTask>> = BTreeMap::new();
        for stop in &run.stops {
            if let Some(room) = stop.what.room() {
                tasks.entry(room).or_default().extend(stop.what.tasks());
            }
        }
        tasks
    };
    let (before, after) = (tasks(was), tasks(is));
    let both = before
        .iter()
        .filter_map(|(room, a)| Some((*room, a, after.get(room)?)));
    let change = |(room, a, b): (RoomId, &BTreeSet<DueTask>, &BTreeSet<DueTask>)| {
        (
            room,
            a.difference(b).copied().collect(),
            b.difference(a).copied().collect(),
        )
    };
    both.filter(|(_, a, b)| a != b).map(change).collect()
}

/// Keys and clearances that the rooms of a run take, doors included.
fn keys(site: &Site, run: &Run) -> BTreeSet<AccessId> {
    let mut keys = BTreeSet::new();
    for room in run.stops.iter().filter_map(|s| s.what.room()) {
        keys.extend(&site.rooms[room.index()].needs);
        let door = site.places[site.place_of_room(room).index()].door.as_ref();
        keys.extend(door.map_or(&[][..], |d| &d.needs));
    }
    keys
}

/// Machines that a run fetches and another list does not have, and from when to when it has them.
fn fetched(run: &Run, other: &[(MachineId, Span)]) -> Vec<(MachineId, Span)> {
    let mut held: Vec<(MachineId, Span)> = Vec::new();
    for stop in &run.stops {
        match stop.what {
            What::Fetch(machine) => held.push((machine, stop.span)),
            What::Return(machine) => {
                if let Some(last) = held.iter_mut().rev().find(|(m, _)| *m == machine) {
                    last.1.to = stop.span.to;
                }
            }
            _ => {}
        }
    }
    held.retain(|(m, _)| !other.iter().any(|(o, _)| o == m));
    held
}

fn is_counted(stop: &PlannedStop) -> bool {
    stop.what.room().is_some() || matches!(stop.what, What::Duty(_))
}

/// Which stop of a room or duty it is, whatever its tasks.
fn part_of(what: &What) -> (Option<Work>, u8) {
    let part = match what {
        What::WipeAndMop(..) => 1,
        What::Reopen(_) => 2,
        _ => 0,
    };
    (work_of(what), part)
}

fn count(was: &Run, is: &Run, counts: &mut Counts) {
    let mut left: Vec<(_, Clock)> = (is.stops.iter().filter(|s| is_counted(s)))
        .map(|s| (part_of(&s.what), s.span.from))
        .collect();
    for stop in was.stops.iter().filter(|s| is_counted(s)) {
        counts.stops += 1;
        let part = part_of(&stop.what);
        if let Some(at) = left.iter().position(|(p, _)| *p == part) {
            let (_, from) = left.swap_remove(at);
            counts.kept += 1;
            counts.on_time += usize::from(!is_far(from, stop.span.from));
        }
    }
}

/// Whether two runs have the same work in the same order, about when it was.
fn same(was: &Run, is: &Run) -> bool {
    let stops = |run: &Run| {
        let counted = run.stops.iter().filter(|s| is_counted(s));
        counted.map(|s| (s.what.clone(), s.span.from)).collect_vec()
    };
    let (a, b) = (stops(was), stops(is));
    a.len() == b.len()
        && a.iter()
            .zip(&b)
            .all(|(a, b)| a.0 == b.0 && !is_far(a.1, b.1))
}
