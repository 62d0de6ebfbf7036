//! The recipe of a plan: everything above this layer, in order, and the proof and the check at the end.

use super::check::Violation;
use super::compose::compose;
use super::earlier::{begin_with, prefer_earlier};
use super::measure::{Measures, measure};
use super::model::Plan;
use super::settle::settle;
use crate::balance::{Bound, bound};
use crate::route::{Question, Settings, Standing, pose, search};
use crate::site::{Calendar, PlaceId, Site, WorkerId};
use crate::walk::{Walks, ideal_times};
use crate::work::{due_on, gather};
use jiff::civil::Date;

/// What a plan is made for.
#[derive(Clone, Copy, Debug)]
pub struct Request<'a> {
    /// Where.
    pub site: &'a Site,
    /// When.
    pub date: Date,
    /// Who is away though on duty by the crew's days.
    pub absent: &'a [WorkerId],
    /// An earlier plan to start from, and to stay near among equals.
    pub keep: Option<&'a Plan>,
    /// How long and how to search.
    pub settings: Settings<'a>,
}

/// A plan with its measures and proof.
#[derive(Clone, Debug)]
pub struct Made {
    /// The plan.
    pub plan: Plan,
    /// The days around its date.
    pub calendar: Calendar,
    /// Its measures, one for each run in the plan's order.
    pub measures: Measures,
    /// No plan that does the same work has a lower highest share.
    pub bound: Bound,
    /// What the independent check found: nothing, or there is a bug in the search.
    pub violations: Vec<Violation>,
    /// How many rounds the search made.
    pub iterations: u64,
}

/// Makes a plan for a date.
///
/// `watch` is told now and then how far the search is (0 to 1) and where its best plan stands.
///
/// # Complexity
/// Walking times: places × ways × log; the search: as long as `settings` say.
pub fn make(request: &Request, watch: &mut dyn FnMut(f64, &Standing)) -> Made {
    let site = request.site;
    let calendar = Calendar::new(request.date, site.time_zone.as_deref());
    let present = site.present(request.date, request.absent);
    let walks = Walks::of(site, &calendar, &present);
    let jobs = gather(
        site,
        &due_on(site, request.date),
        request.date,
        &present,
        &walks,
    );
    let question = Question {
        site,
        calendar: &calendar,
        present: &present,
        walks: &walks,
        jobs: &jobs.jobs,
    };
    let mut instance = pose(&question);
    let start = request.keep.map(|earlier| {
        prefer_earlier(&mut instance, &question, earlier);
        begin_with(&instance, &question, earlier)
    });
    let found = search(&instance, start.as_ref(), request.settings, watch);
    let mut plan = compose(&question, &jobs, &instance, &found, &[]);
    let ideal = ideal_times(site, &calendar);
    let way = |from, to| {
        ideal
            .get(PlaceId(from), PlaceId(to))
            .map_or(0, |time| time.0)
    };
    let violations = settle(site, &mut plan, &present);
    Made {
        measures: measure(site, &plan),
        bound: bound(&instance, &found.scope, &way),
        violations,
        iterations: found.iterations,
        plan,
        calendar,
    }
}
