//! The recipe of a plan: everything above this layer, in order, and the proof and the check at the end.

use super::ReadWalks;
use super::check::Violation;
use super::compose::compose;
use super::earlier::{begin_with, prefer_earlier};
use super::measure::{Measures, measure_with};
use super::model::Plan;
use super::settle::settle;
use crate::balance::{Bound, bound, retime, split};
use crate::route::{Found, Instance, Question, Settings, Standing, Stop, pose, search};
use crate::site::{Calendar, PlaceId, Site, WorkerId};
use crate::walk::{Walks, ideal_times};
use crate::work::{DueTask, Jobs, due_on, gather};
use jiff::civil::Date;
use std::time::Duration;

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

/// A plan as it stands against the rules of a site, whoever made it.
#[derive(Clone, Debug)]
pub struct Judged {
    /// The plan.
    pub plan: Plan,
    /// The days around its date.
    pub calendar: Calendar,
    /// Its measures, one for each run in the plan's order.
    pub measures: Measures,
    /// What the independent check found.
    pub violations: Vec<Violation>,
}

/// Makes a plan for a date.
///
/// `watch` is told how far the search is (0 to 1) and where its best plan stands, as soon as there is one and now and then.
///
/// # Complexity
/// Walking times: places × ways × log; the search: as long as `settings` say.
pub fn make(request: &Request, watch: &mut dyn FnMut(f64, &Standing)) -> Made {
    let ground = Ground::of(request.site, request.date, request.absent);
    let (instance, mut found, after) = sought(request, &ground, watch);
    retime(&instance, &mut found);
    let stop = request.settings.stop.leaving(after.files);
    ground.answer(request.site, &instance, &found, stop, &|_, _| true)
}

/// A plan as the search leaves it, for whoever only counts what it holds: without proof or check, it never leaves the program.
pub(crate) fn draft(request: &Request, ground: &Ground) -> Plan {
    let (instance, found, _) = sought(request, ground, &mut |_, _| {});
    let question = ground.question(request.site);
    compose(&question, &ground.jobs, &instance, &found, &[])
}

/// What the search finds, in what problem, and how much time it left for what comes after it.
fn sought(
    request: &Request,
    ground: &Ground,
    watch: &mut dyn FnMut(f64, &Standing),
) -> (Instance, Found, Afterwards) {
    let question = ground.question(request.site);
    let mut instance = pose(&question);
    let start = request.keep.map(|earlier| {
        prefer_earlier(&mut instance, &question, earlier);
        begin_with(&instance, &question, earlier)
    });
    let after = Afterwards::of(request.settings.stop);
    let settings = request.settings.leaving(after.all());
    let split = split(&instance, settings.stop);
    let found = search(&instance, start.as_ref(), &split, settings, watch);
    (instance, found, after)
}

/// What comes after a search is proof and check, and then what is written; each takes up to so many times as long as everything before the search. Both
/// grow with the site, and are as slow as the machine. Measured at 120, 600 and 2,000 rooms.
const PROOF: f64 = 0.8;
const FILES: f64 = 1.2;

/// At most so much of the time that is left is kept from the search.
const KEPT: f64 = 0.5;

/// How long the end of the work takes that a budget of time is for.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Afterwards {
    /// Proof and check.
    pub(crate) proof: Duration,
    /// Whatever is written.
    pub(crate) files: Duration,
}

impl Afterwards {
    /// As far as can be told when a search is about to begin.
    pub(crate) fn of(stop: Stop) -> Afterwards {
        let most = stop.left().mul_f64(KEPT / (PROOF + FILES));
        let before = stop.used().min(most);
        Afterwards {
            proof: before.mul_f64(PROOF),
            files: before.mul_f64(FILES),
        }
    }

    /// All of it.
    pub(crate) fn all(self) -> Duration {
        self.proof + self.files
    }
}

/// What a plan of a date is made from: who is there, how they walk, what is to be done.
#[derive(Clone, Debug)]
pub struct Ground {
    /// The days around the date.
    pub calendar: Calendar,
    /// Who is on duty.
    pub present: Vec<WorkerId>,
    /// How they walk.
    pub walks: Walks,
    /// What is to be done, and by whom it may be.
    pub jobs: Jobs,
}

impl Ground {
    /// Of a site on a date, with some away.
    pub fn of(site: &Site, date: Date, absent: &[WorkerId]) -> Ground {
        let calendar = Calendar::new(date, site.time_zone.as_deref());
        let present = site.present(date, absent);
        let walks = Walks::of(site, &calendar, &present);
        let jobs = gather(site, &due_on(site, date), date, &present, &walks);
        Ground {
            calendar,
            present,
            walks,
            jobs,
        }
    }

    /// As a question to the search.
    pub fn question<'a>(&'a self, site: &'a Site) -> Question<'a> {
        Question {
            site,
            calendar: &self.calendar,
            present: &self.present,
            walks: &self.walks,
            jobs: &self.jobs.jobs,
        }
    }

    /// What the search found as a plan, measured, with its proof and its check. What is left undone may take the place of something less
    /// important only in runs of which `may` says so.
    pub fn answer(
        &self,
        site: &Site,
        instance: &Instance,
        found: &Found,
        stop: Stop,
        may: &(dyn Fn(WorkerId, DueTask) -> bool + Sync),
    ) -> Made {
        let prove = || {
            let ideal = ideal_times(site, &self.calendar);
            let way = |from, to| {
                ideal
                    .get(PlaceId(from), PlaceId(to))
                    .map_or(0, |time| time.0)
            };
            bound(instance, &found.scope, &way, stop)
        };
        let judge = || {
            let mut walks = ReadWalks::default();
            let (plan, violations) = self.settled(site, instance, found, may, &mut walks);
            let measures = measure_with(site, &plan, &mut walks);
            (plan, violations, measures)
        };
        let (bound, (plan, violations, measures)) = rayon::join(prove, judge);
        Made {
            measures,
            bound,
            violations,
            iterations: found.iterations,
            plan,
            calendar: self.calendar.clone(),
        }
    }

    /// What the search found as a plan after its last touch, and its check.
    pub(crate) fn settled(
        &self,
        site: &Site,
        instance: &Instance,
        found: &Found,
        may: &dyn Fn(WorkerId, DueTask) -> bool,
        walks: &mut ReadWalks,
    ) -> (Plan, Vec<Violation>) {
        let mut plan = compose(&self.question(site), &self.jobs, instance, found, &[]);
        let violations = settle(site, &mut plan, &self.present, may, walks);
        (plan, violations)
    }
}
