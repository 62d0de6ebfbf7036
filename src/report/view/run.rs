//! One run in words: whose, when, what to take along, its stops, its cautions.

use super::caution::Caution;
use super::stop::StopView;
use super::words;
use crate::plan::{Run, What};
use crate::report::Answer;
use crate::site::{AccessId, MachineId, Moves, PlaceId, Site, Worker};
use crate::units::Span;
use crate::walk::{Paths, Walker};
use std::collections::BTreeSet;

/// One run.
#[derive(Clone, Debug)]
pub(in crate::report) struct RunView {
    /// Whose.
    pub(in crate::report) name: String,
    /// The shift, elapsed.
    pub(in crate::report) shift: Span,
    /// From the first stop to the last, elapsed; `None` for a run without stops.
    pub(in crate::report) span: Option<Span>,
    /// `with a cart` or `on foot`.
    pub(in crate::report) moves: &'static str,
    /// Its stops in order.
    pub(in crate::report) stops: Vec<StopView>,
    /// Floors worked on, lowest first.
    pub(in crate::report) floors: Vec<String>,
    /// Keys and clearances that its doors and rooms need.
    pub(in crate::report) keys: Vec<String>,
    /// What to load before setting out.
    pub(in crate::report) supplies: Vec<String>,
    /// Cautions for its card, each once.
    pub(in crate::report) cautions: Vec<Caution>,
}

impl RunView {
    /// A run in words.
    pub(super) fn of(answer: &Answer, run: &Run) -> RunView {
        let site = answer.site;
        let worker = &site.crew[run.worker.index()];
        let with_cart = goes_with_cart(site, worker, run);
        let walker = Walker::of(site, run.worker, with_cart, answer.calendar);
        let paths = Paths::of(site, &walker, answer.calendar);
        let cautions: BTreeSet<_> = run
            .stops
            .iter()
            .flat_map(|s| Caution::of_stop(site, s))
            .collect();
        RunView {
            name: worker.name.clone(),
            shift: answer.calendar.elapsed_span(worker.shift),
            span: run.stops.first().zip(run.stops.last()).map(|(a, b)| Span {
                from: a.span.from,
                to: b.span.to,
            }),
            moves: if with_cart { "with a cart" } else { "on foot" },
            stops: stops(answer, worker, &paths, run),
            floors: floors(site, run),
            keys: keys(site, run),
            supplies: supplies(site, run),
            cautions: cautions.into_iter().collect(),
        }
    }
}

/// One way of moving per run: with the cart if any of its work needs one.
fn goes_with_cart(site: &Site, worker: &Worker, run: &Run) -> bool {
    let needed = run
        .stops
        .iter()
        .any(|s| s.what.tasks().iter().any(|t| t.needs_cart(site)));
    needed && matches!(worker.moves, Moves::Cart(_))
}

fn stops(answer: &Answer, worker: &Worker, paths: &Paths, run: &Run) -> Vec<StopView> {
    let mut views = Vec::with_capacity(run.stops.len());
    for (i, stop) in run.stops.iter().enumerate() {
        let view = StopView::of(answer, worker, stop, &run.stops[i + 1..]);
        let before = i.checked_sub(1).map(|i| &run.stops[i]);
        views.push(match before {
            Some(before) => view.reached(answer.site, paths, before, stop),
            None => view,
        });
    }
    views
}

fn floors(site: &Site, run: &Run) -> Vec<String> {
    let worked = run
        .stops
        .iter()
        .filter(|s| s.what.room().is_some() || matches!(s.what, What::Duty(_)));
    let floors: BTreeSet<_> = worked.map(|s| super::floor_id(site, s.place)).collect();
    floors
        .into_iter()
        .map(|f| site.floors[f.index()].id.clone())
        .collect()
}

fn keys(site: &Site, run: &Run) -> Vec<String> {
    let mut needed: BTreeSet<AccessId> = BTreeSet::new();
    for stop in &run.stops {
        needed.extend(door_keys(site, stop.place));
        needed.extend(
            stop.what
                .room()
                .iter()
                .flat_map(|r| site.rooms[r.index()].needs.iter()),
        );
    }
    needed
        .into_iter()
        .map(|a| site.access[a.index()].clone())
        .collect()
}

fn door_keys(site: &Site, place: PlaceId) -> impl Iterator<Item = &AccessId> {
    site.places[place.index()]
        .door
        .iter()
        .flat_map(|d| d.needs.iter())
}

fn supplies(site: &Site, run: &Run) -> Vec<String> {
    let tasks = run.stops.iter().flat_map(|s| s.what.tasks());
    let named: BTreeSet<_> = tasks
        .flat_map(|t| t.task(site).supplies.iter().cloned())
        .collect();
    let machines: BTreeSet<MachineId> = run
        .stops
        .iter()
        .filter_map(|s| match s.what {
            What::Fetch(machine) => Some(machine),
            _ => None,
        })
        .collect();
    let fetched = machines
        .into_iter()
        .map(|m| format!("{} (fetched on the way)", site.machines[m.index()].name));
    named.into_iter().chain(fetched).collect()
}

/// `18:00-02:30`, or a dash for a run without stops.
pub(in crate::report) fn run_clocks(answer: &Answer, run: &RunView) -> String {
    run.span
        .map_or_else(|| "-".into(), |span| words::clocks(answer.calendar, span))
}
