//! One stop in words: what, where, which tasks, what to mind, and the way there.

use super::{names, notes};
use crate::plan::{PlannedStop, What};
use crate::report::Answer;
use crate::report::words::{Words, short};
use crate::site::{Fixture, Method, PlaceId, RoomId, Site, Worker};
use crate::units::{Clock, Seconds, Span};
use crate::walk::{Leg, Path, Paths};
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
    /// Its legs, for the map.
    pub(in crate::report) legs: Vec<Leg>,
    /// The floor it leads to, where that is another one.
    pub(in crate::report) to_floor: Option<String>,
}

/// Time left over before a stop.
#[derive(Clone, Debug)]
pub(in crate::report) struct WaitView {
    /// How long.
    pub(in crate::report) time: Seconds,
    /// Since when and for what, in words.
    pub(in crate::report) words: String,
}

/// One stop.
#[derive(Clone, Debug)]
pub(in crate::report) struct StopView {
    /// Its number in the run, from 1; the map has the same.
    pub(in crate::report) number: usize,
    /// Its mark.
    pub(in crate::report) sort: Sort,
    /// When, elapsed.
    pub(in crate::report) span: Span,
    /// What is done, in two or three words.
    pub(in crate::report) title: String,
    /// The room worked in.
    pub(in crate::report) room: Option<RoomId>,
    /// Where, as the site knows it.
    pub(in crate::report) place_id: PlaceId,
    /// Where.
    pub(in crate::report) place: String,
    /// On which hall and side, and how far along.
    pub(in crate::report) spot: String,
    /// On which floor.
    pub(in crate::report) floor: String,
    /// The tasks, in the order done; halves of sprayed ones together.
    pub(in crate::report) tasks: Vec<String>,
    /// How large the room is and what is in it, where work is done there for the first time.
    pub(in crate::report) contents: Vec<String>,
    /// What to mind: dwell, drying, signs, trips on the way.
    pub(in crate::report) notes: Vec<String>,
    /// The way there; `None` if no walk is needed or none is known.
    pub(in crate::report) walk: Option<WalkView>,
    /// Time left over between the walk and this stop.
    pub(in crate::report) wait: Option<WaitView>,
}

impl StopView {
    /// A stop in words, not yet how it is reached. `after` are the stops that follow it in its run.
    pub(super) fn of(
        answer: &Answer,
        words: &Words,
        worker: &Worker,
        stop: &PlannedStop,
        after: &[PlannedStop],
    ) -> StopView {
        let site = answer.site;
        StopView {
            number: 0,
            sort: sort(&stop.what),
            span: stop.span,
            title: title(site, words, worker, stop),
            room: stop.what.room(),
            place_id: stop.place,
            place: names::place(site, stop.place),
            spot: words.spot(site, site.places[stop.place.index()].spot),
            floor: super::floor_of(site, stop.place),
            tasks: tasks(site, words, &stop.what),
            contents: contents(site, words, &stop.what),
            notes: notes::notes(answer, words, worker, stop, after),
            walk: None,
            wait: None,
        }
    }

    /// Adds the way there from the stop before, and what is left over.
    pub(super) fn reached(
        mut self,
        answer: &Answer,
        words: &Words,
        paths: &Paths,
        before: &PlannedStop,
        stop: &PlannedStop,
    ) -> StopView {
        let site = answer.site;
        let path = paths.between(before.place, stop.place);
        let walked = path.as_ref().map_or(Seconds::ZERO, |p| p.time);
        let arrival = before.span.to + walked;
        self.wait = wait(answer, words, arrival, stop);
        let other_floor = super::floor_of(site, before.place) != self.floor;
        self.walk = path
            .filter(|p| p.time > Seconds::ZERO)
            .map(|path: Path| WalkView {
                time: path.time,
                words: words.walk(site, &path),
                to_floor: other_floor.then(|| self.floor.clone()),
                legs: path.legs,
            });
        self
    }
}

/// Who is there early is told until when to wait, and for what.
fn wait(answer: &Answer, words: &Words, arrival: Clock, stop: &PlannedStop) -> Option<WaitView> {
    let time = stop.span.from - arrival;
    if time <= Seconds::ZERO {
        return None;
    }
    let id = match stop.what {
        What::WipeAndMop(..) => "wait-spray",
        What::Reopen(_) => "wait-dry",
        What::Break(_) => "wait-break",
        _ => "wait-begin",
    };
    let about = [
        ("arrive", words.clock(answer.calendar, arrival).into()),
        ("begin", words.clock(answer.calendar, stop.span.from).into()),
        ("time", short(time).into()),
    ];
    Some(WaitView {
        time,
        words: words.tell(id, &about),
    })
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

fn title(site: &Site, words: &Words, worker: &Worker, stop: &PlannedStop) -> String {
    let machine = |machine: crate::site::MachineId, id: &str| {
        let name = site.machines[machine.index()].name.as_str();
        words.tell(id, &[("machine", name.into())])
    };
    let id = match &stop.what {
        // What takes no time is only where the run begins and ends.
        What::SetUp if stop.span.is_empty() => "do-start",
        What::TearDown if stop.span.is_empty() => "do-end",
        What::SetUp => "do-set-up",
        What::TearDown => "do-tear-down",
        What::Clean(room, _) if closes(site, *room) => "do-close-clean",
        What::Clean(..) => "do-clean",
        What::OpenAndWet(room, _) if closes(site, *room) => "do-close-spray",
        What::OpenAndWet(..) => "do-spray",
        What::WipeAndMop(_, tasks) if tasks.iter().any(|t| t.is_mopping(site)) => "do-wipe-mop",
        What::WipeAndMop(..) => "do-wipe",
        What::Reopen(_) => "do-reopen",
        What::Duty(index) => return site.duties[*index].name.clone(),
        What::Fill => "do-fill",
        What::Dump => "do-dump",
        What::Fetch(id) => return machine(*id, "do-fetch"),
        What::Return(id) => return machine(*id, "do-return"),
        What::Break(index) => {
            let name = worker.breaks.get(*index).map_or("?", |b| b.name.as_str());
            return words.tell("do-break", &[("name", words.known(name).into())]);
        }
    };
    words.say(id)
}

/// Whether a room is closed to its users while it is cleaned.
pub(super) fn closes(site: &Site, room: RoomId) -> bool {
    site.kinds[site.rooms[room.index()].kind.index()]
        .reopen
        .is_some()
}

/// Task names in the order of rule 7; where the halves of sprayed tasks are apart, those are one entry that says which half it is.
fn tasks(site: &Site, words: &Words, what: &What) -> Vec<String> {
    let mut due: Vec<&DueTask> = what.tasks().iter().collect();
    due.sort_by_key(|t| (t.task(site).method.step(), t.index));
    let half = match what {
        What::OpenAndWet(..) => Some("half-spray"),
        What::WipeAndMop(..) => Some("half-wipe"),
        _ => None,
    };
    let is_half =
        |t: &DueTask| half.is_some() && matches!(t.task(site).method, Method::Spray { .. });
    let mut entries = Vec::new();
    for part in due.chunk_by(|a, b| is_half(a) && is_half(b)) {
        let names: Vec<String> = part
            .iter()
            .map(|t| words.known(&t.task(site).name))
            .collect();
        entries.push(match half.filter(|_| is_half(part[0])) {
            Some(id) => words.tell(id, &[("tasks", names.join(", ").into())]),
            None => names.join(", "),
        });
    }
    entries
}

/// Floor area and finish, then fixtures, for the first stop of a visit.
fn contents(site: &Site, words: &Words, what: &What) -> Vec<String> {
    let (What::Clean(room, _) | What::OpenAndWet(room, _)) = what else {
        return Vec::new();
    };
    let room = &site.rooms[room.index()];
    let area = words.area(room.area);
    let floor = match room.finish.trim() {
        "" => area,
        finish => format!("{area} {}", words.known(finish)),
    };
    let there = |fixture: &Fixture| room.fixtures.get(fixture).copied().filter(|n| *n > 0);
    let fixtures = Fixture::ALL.iter().filter_map(|(fixture, _)| {
        let count = there(fixture)? as usize;
        Some(words.count(fixture_message(*fixture), count))
    });
    std::iter::once(floor).chain(fixtures).collect()
}

fn fixture_message(fixture: Fixture) -> &'static str {
    match fixture {
        Fixture::Bowl => "n-bowls",
        Fixture::Urinal => "n-urinals",
        Fixture::Basin => "n-basins",
        Fixture::Mirror => "n-mirrors",
        Fixture::Dispenser => "n-dispensers",
        Fixture::Shower => "n-showers",
        Fixture::Bin => "n-bins",
        Fixture::Desk => "n-desks",
        Fixture::Sink => "n-sinks",
        Fixture::Glass => "n-glass",
        Fixture::Couch => "n-couches",
    }
}
