//! The plan with every id resolved to words once, for the table, the pages and the files alike.
//!
//! Texts here are plain: whoever prints them escapes them for their form.

mod caution;
mod closure;
mod figures;
mod kit;
mod names;
mod notes;
mod run;
mod stop;
mod undone;

pub(super) use closure::{Closed, GroupView};
pub(super) use figures::{Evenness, RunFigures};
pub(super) use names::place as place_name;
pub(super) use run::{RunView, run_clocks};
pub(super) use stop::{Sort, StopView};
pub(super) use undone::{UndoneGroup, undone as undone_of};

use super::Answer;
use super::words::Words;
use crate::site::{FloorId, PlaceId, Site};
use crate::units::Seconds;

/// All of an answer in words.
#[derive(Clone, Debug)]
pub(super) struct View {
    /// `Larkfield, Tuesday 10 March 2026`.
    pub(super) title: String,
    /// One for each run of the plan, in its order.
    pub(super) runs: Vec<RunView>,
    /// The figures of each run, in the same order.
    pub(super) figures: Vec<RunFigures>,
    /// How evenly the work is shared.
    pub(super) evenness: Evenness,
    /// When which room is closed, each room once.
    pub(super) closed: Vec<Vec<Closed>>,
    /// How many rooms of each closure group are open when.
    pub(super) groups: Vec<GroupView>,
    /// Who is away.
    away: Vec<String>,
    /// What is left undone.
    pub(super) undone: Vec<UndoneGroup>,
}

impl View {
    /// Resolves everything once.
    pub(super) fn of(answer: &Answer, words: &Words) -> View {
        let runs: Vec<_> = answer
            .plan
            .runs
            .iter()
            .map(|r| RunView::of(answer, words, r))
            .collect();
        let figures = figures::of_runs(answer.measures);
        let (closed, groups) = closure::closures(answer);
        View {
            title: format!("{}, {}", answer.site.name, words.date(answer.plan.date)),
            evenness: Evenness::of(answer, words, &figures),
            figures,
            runs,
            closed,
            groups,
            away: answer
                .facts
                .absent
                .iter()
                .map(|w| answer.site.crew[w.index()].name.clone())
                .collect(),
            undone: undone::undone(answer, words),
        }
    }

    /// Who is away, if anybody.
    pub(super) fn away(&self) -> Option<String> {
        (!self.away.is_empty()).then(|| self.away.join(", "))
    }

    /// Runs with their figures.
    pub(super) fn each(&self) -> impl Iterator<Item = (&RunView, &RunFigures)> {
        self.runs.iter().zip(&self.figures)
    }

    /// How much is left undone in all.
    pub(super) fn undone_time(&self) -> Seconds {
        self.undone.iter().map(|group| group.time).sum()
    }
}

/// The floor a place is on.
fn floor_id(site: &Site, place: PlaceId) -> FloorId {
    site.halls[site.places[place.index()].spot.hall.index()].floor
}

/// The written id of the floor a place is on.
pub(super) fn floor_of(site: &Site, place: PlaceId) -> String {
    site.floors[floor_id(site, place).index()].id.clone()
}
