//! One run in words: whose, when, what to take along, its stops, its cautions.

use super::caution::Caution;
use super::kit::{Kit, kit};
use super::stop::StopView;
use crate::plan::{Run, What, takes_cart};
use crate::report::Answer;
use crate::report::words::Words;
use crate::site::{FloorId, Moves, Site, Worker};
use crate::units::Span;
use crate::walk::{Paths, Walker};
use std::collections::BTreeSet;

/// One run.
#[derive(Clone, Debug)]
pub(in crate::report) struct RunView {
    /// Whose.
    pub(in crate::report) name: String,
    /// Where it starts and ends.
    pub(in crate::report) start: String,
    /// The shift, elapsed.
    pub(in crate::report) shift: Span,
    /// From the first stop to the last, elapsed; `None` for a run without stops.
    pub(in crate::report) span: Option<Span>,
    /// With a cart or on foot.
    pub(in crate::report) moves: String,
    /// Its stops in order.
    pub(in crate::report) stops: Vec<StopView>,
    /// Floors worked on, lowest first.
    pub(in crate::report) floors: Vec<String>,
    /// The same floors.
    pub(in crate::report) floor_ids: Vec<FloorId>,
    /// What to load before setting out, and the keys.
    pub(in crate::report) kit: Vec<Kit>,
    /// Cautions for its card, each once.
    pub(in crate::report) cautions: Vec<Caution>,
}

impl RunView {
    /// A run in words.
    pub(super) fn of(answer: &Answer, words: &Words, run: &Run) -> RunView {
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
        let floor_ids = floors(site, run);
        RunView {
            name: worker.name.clone(),
            start: super::names::place(site, worker.start),
            shift: answer.calendar.elapsed_span(worker.shift),
            span: run.stops.first().zip(run.stops.last()).map(|(a, b)| Span {
                from: a.span.from,
                to: b.span.to,
            }),
            moves: words.say(if with_cart { "with-cart" } else { "on-foot" }),
            stops: stops(answer, words, worker, &paths, run),
            floors: floor_ids
                .iter()
                .map(|f| site.floors[f.index()].id.clone())
                .collect(),
            floor_ids,
            kit: kit(site, words, run),
            cautions: cautions.into_iter().collect(),
        }
    }
}

/// One way of moving per run: with the cart if any of its work needs one.
fn goes_with_cart(site: &Site, worker: &Worker, run: &Run) -> bool {
    takes_cart(site, &run.stops) && matches!(worker.moves, Moves::Cart(_))
}

fn stops(
    answer: &Answer,
    words: &Words,
    worker: &Worker,
    paths: &Paths,
    run: &Run,
) -> Vec<StopView> {
    let mut views = Vec::with_capacity(run.stops.len());
    for (i, stop) in run.stops.iter().enumerate() {
        let view = StopView::of(answer, words, worker, stop, &run.stops[i + 1..]);
        let view = StopView {
            number: i + 1,
            ..view
        };
        let before = i.checked_sub(1).map(|i| &run.stops[i]);
        views.push(match before {
            Some(before) => view.reached(answer, words, paths, before, stop),
            None => view,
        });
    }
    views
}

fn floors(site: &Site, run: &Run) -> Vec<FloorId> {
    let worked = run
        .stops
        .iter()
        .filter(|s| s.what.room().is_some() || matches!(s.what, What::Duty(_)));
    let floors: BTreeSet<_> = worked.map(|s| super::floor_id(site, s.place)).collect();
    floors.into_iter().collect()
}

/// `18:00-02:30`, or a dash for a run without stops.
pub(in crate::report) fn run_clocks(answer: &Answer, words: &Words, run: &RunView) -> String {
    run.span
        .map_or_else(|| "-".into(), |span| words.clocks(answer.calendar, span))
}
