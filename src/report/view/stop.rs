//! One stop in words: what, where, which tasks, what to mind, and the way there.

use super::{notes, words};
use crate::plan::{PlannedStop, What};
use crate::report::Answer;
use crate::site::{Method, RoomId, Site, Worker};
use crate::units::{Seconds, Span};
use crate::walk::{Path, Paths, directions};
use crate::work::DueTask;

/// What sort of stop it is: decides its mark in the timeline.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::report) enum Sort {
    /// Work in a room, or a duty.
    Work,
    /// Filling the bucket.
    Fill,
    /// Emptying the cart.
    Dump,
    /// Fetching or bringing back a machine.
    Machine,
    /// Getting ready and putting away.
    SetUp,
    /// A break.
    Break,
}

/// The way to a stop.
#[derive(Clone, Debug)]
pub(in crate::report) struct WalkView {
    /// How long it takes.
    pub(in crate::report) time: Seconds,
    /// The directions.
    pub(in crate::report) words: String,
    /// The floor it leads to, where that is another one.
    pub(in crate::report) to_floor: Option<String>,
}

/// One stop.
#[derive(Clone, Debug)]
pub(in crate::report) struct StopView {
    /// Its mark.
    pub(in crate::report) sort: Sort,
    /// When, elapsed.
    pub(in crate::report) span: Span,
    /// What is done, in two or three words.
    pub(in crate::report) title: String,
    /// Where.
    pub(in crate::report) place: String,
    /// On which floor.
    pub(in crate::report) floor: String,
    /// The tasks, in the order done.
    pub(in crate::report) tasks: Vec<String>,
    /// What to mind: dwell, drying, signs, trips on the way.
    pub(in crate::report) notes: Vec<String>,
    /// The way there; `None` if no walk is needed or none is known.
    pub(in crate::report) walk: Option<WalkView>,
    /// Time left over between the walk and this stop.
    pub(in crate::report) wait: Seconds,
}

impl StopView {
    /// A stop in words, not yet how it is reached. `after` are the stops that follow it in its run.
    pub(super) fn of(
        answer: &Answer,
        worker: &Worker,
        stop: &PlannedStop,
        after: &[PlannedStop],
    ) -> StopView {
        let site = answer.site;
        StopView {
            sort: sort(&stop.what),
            span: stop.span,
            title: title(site, worker, &stop.what),
            place: words::place(site, stop.place),
            floor: super::floor_of(site, stop.place),
            tasks: tasks(site, &stop.what),
            notes: notes::notes(answer, worker, stop, after),
            walk: None,
            wait: Seconds::ZERO,
        }
    }

    /// Adds the way there from the stop before, and what is left over.
    pub(super) fn reached(
        mut self,
        site: &Site,
        paths: &Paths,
        before: &PlannedStop,
        stop: &PlannedStop,
    ) -> StopView {
        let path = paths.between(before.place, stop.place);
        let time = path.as_ref().map_or(Seconds::ZERO, |p| p.time);
        let gap = stop.span.from - before.span.to;
        self.wait = (gap - time).max(Seconds::ZERO);
        let other_floor = super::floor_of(site, before.place) != self.floor;
        self.walk = path
            .filter(|p| p.time > Seconds::ZERO)
            .map(|path: Path| WalkView {
                time,
                words: directions(site, &path),
                to_floor: other_floor.then(|| self.floor.clone()),
            });
        self
    }
}

fn sort(what: &What) -> Sort {
    match what {
        What::SetUp | What::TearDown => Sort::SetUp,
        What::Fill => Sort::Fill,
        What::Dump => Sort::Dump,
        What::Fetch(_) | What::Return(_) => Sort::Machine,
        What::Break(_) => Sort::Break,
        What::Clean(..)
        | What::OpenAndWet(..)
        | What::WipeAndMop(..)
        | What::Reopen(_)
        | What::Duty(_) => Sort::Work,
    }
}

fn title(site: &Site, worker: &Worker, what: &What) -> String {
    match what {
        What::SetUp => "Get ready".into(),
        What::TearDown => "Put away".into(),
        What::Clean(room, _) if closes(site, *room) => "Close and clean".into(),
        What::Clean(..) => "Clean".into(),
        What::OpenAndWet(room, _) if closes(site, *room) => "Close and spray".into(),
        What::OpenAndWet(..) => "Spray".into(),
        What::WipeAndMop(_, tasks) if tasks.iter().any(|t| t.is_mopping(site)) => {
            "Wipe and mop".into()
        }
        What::WipeAndMop(..) => "Wipe".into(),
        What::Reopen(_) => "Open again".into(),
        What::Duty(index) => site.duties[*index].name.clone(),
        What::Fill => "Fresh water".into(),
        What::Dump => "Empty the cart".into(),
        What::Fetch(machine) => format!("Fetch {}", site.machines[machine.index()].name),
        What::Return(machine) => format!("Bring back {}", site.machines[machine.index()].name),
        What::Break(index) => format!(
            "Break: {}",
            worker
                .breaks
                .get(*index)
                .map_or("not planned", |b| b.name.as_str())
        ),
    }
}

/// Whether a room is closed to its users while it is cleaned.
pub(super) fn closes(site: &Site, room: RoomId) -> bool {
    site.kinds[site.rooms[room.index()].kind.index()]
        .reopen
        .is_some()
}

/// Task names in the order of rule 7; a sprayed task says which half it is where the halves are apart.
fn tasks(site: &Site, what: &What) -> Vec<String> {
    let mut due: Vec<&DueTask> = what.tasks().iter().collect();
    due.sort_by_key(|t| (t.task(site).method.step(), t.index));
    let name = |t: &DueTask| {
        let task = t.task(site);
        match (what, task.method) {
            (What::OpenAndWet(..), Method::Spray { .. }) => format!("{} (spray)", task.name),
            (What::WipeAndMop(..), Method::Spray { .. }) => format!("{} (wipe)", task.name),
            _ => task.name.clone(),
        }
    };
    due.into_iter().map(name).collect()
}
