//! The recipe of a cover plan.

use super::changes::Changes;
use super::frozen::{Frozen, freeze};
use super::known::stay_near;
use super::night;
use super::saved_by::{Saver, saved_by};
use crate::balance::{Bound, Certificate, bound, retime};
use crate::plan::{
    Afterwards, Made, Misfit, Plan, PlannedStop, ReadWalks, Tonight, Undone, UndoneWork, compose,
    measure_with, settle,
};
use crate::route::{Found, Instance, Question, Settings, Standing, Stop, pose, search};
use crate::site::{Calendar, PlaceId, Site, WorkerId};
use crate::walk::{Walks, ideal_times};
use itertools::Itertools;

/// The plan before, and the night it was made for.
#[derive(Clone, Copy, Debug)]
pub struct Earlier<'a> {
    /// The plan.
    pub plan: &'a Plan,
    /// Who was away then.
    pub absent: &'a [WorkerId],
    /// How that night differed from what the site says.
    pub tonight: &'a Tonight,
}

/// What a cover plan is made for.
#[derive(Clone, Copy, Debug)]
pub struct Request<'a> {
    /// The site as it is written.
    pub site: &'a Site,
    /// What people know.
    pub earlier: Earlier<'a>,
    /// What changed.
    pub changes: &'a Changes,
    /// How much calm is worth against evenness, from 0 to 10.
    pub steady: u8,
    /// How long and how to search.
    pub settings: Settings<'a>,
}

/// A cover plan.
#[derive(Clone, Debug)]
pub struct Covered {
    /// The night's copy of the site.
    pub site: Site,
    /// How it differs.
    pub tonight: Tonight,
    /// Who is away for the whole night.
    pub absent: Vec<WorkerId>,
    /// The plan before, its breaks counted as those of the new one; breaks that nobody takes any more are left out.
    pub before: Plan,
    /// The plan.
    pub made: Made,
    /// Whether its bound holds: not when part of the night is behind.
    pub proven: bool,
    /// For each entry of the plan's undone work the smallest thing that would have saved it.
    pub savers: Vec<Option<Saver>>,
}

/// Repairs a plan.
///
/// `watch` is told now and then how far the search is (0 to 1) and where its best plan stands.
///
/// # Errors
/// Changes that name what the site does not have, or leave nothing of a shift.
///
/// # Complexity
/// As [`crate::plan::make`].
pub fn cover(
    request: &Request,
    watch: &mut dyn FnMut(f64, &Standing),
) -> Result<Covered, Vec<Misfit>> {
    let Request { site, earlier, .. } = *request;
    let date = earlier.plan.date;
    let calendar = Calendar::new(date, site.time_zone.as_deref());
    let changes = &request.changes.clone().never_come(site, &calendar);
    let request = &Request {
        changes,
        ..*request
    };
    let frozen = frozen_of(request, &calendar)?;
    let tonight = night::tonight(site, &calendar, &earlier, changes, &frozen);
    let mut absent = earlier.absent.to_vec();
    absent.retain(|w| !changes.extra.contains(w));
    absent.extend(&changes.absent);
    let absent = absent.into_iter().sorted_unstable().dedup().collect_vec();
    let mut repair = Repair {
        site: tonight.apply(site, date)?,
        written: site,
        calendar,
        earlier,
        tonight,
        absent,
        changes,
        frozen,
    };
    repair.recount();
    repair.made(request, watch)
}

/// What has begun in the plan before.
fn frozen_of(request: &Request, calendar: &Calendar) -> Result<Frozen, Vec<Misfit>> {
    let Request {
        site,
        earlier,
        changes,
        ..
    } = *request;
    if changes.now().is_none() {
        return Ok(Frozen::default());
    }
    let before = earlier.tonight.apply(site, earlier.plan.date)?;
    let present = before.present(earlier.plan.date, earlier.absent);
    let walks = Walks::of(&before, calendar, &present);
    let mut frozen = freeze(&before, earlier.plan, changes, &walks);
    if let Some(done) = &changes.done {
        frozen.only(done);
    }
    // Who has not come has not begun either.
    let came =
        |w: &WorkerId| !changes.absent.contains(w) && changes.late.iter().all(|(l, _)| l != w);
    frozen.past.retain(|w, _| came(w));
    Ok(frozen)
}

/// A night under repair.
pub(super) struct Repair<'a> {
    pub(super) site: Site,
    written: &'a Site,
    pub(super) calendar: Calendar,
    pub(super) earlier: Earlier<'a>,
    tonight: Tonight,
    absent: Vec<WorkerId>,
    pub(super) changes: &'a Changes,
    pub(super) frozen: Frozen,
}

impl Repair<'_> {
    /// Breaks of the past are counted by what is left of each worker's list.
    fn recount(&mut self) {
        let nights = (self.earlier.tonight, &self.tonight);
        for (worker, past) in &mut self.frozen.past {
            night::recount(self.written, *worker, nights, &mut past.stops);
        }
    }

    fn made(
        mut self,
        request: &Request,
        watch: &mut dyn FnMut(f64, &Standing),
    ) -> Result<Covered, Vec<Misfit>> {
        let present = self.site.present(self.calendar.date(), &self.absent);
        let walks = Walks::of(&self.site, &self.calendar, &present);
        let staying = self.staying(&present);
        let (jobs, missed) = self.jobs(&staying, &walks);
        let question = Question {
            site: &self.site,
            calendar: &self.calendar,
            present: &present,
            walks: &walks,
            jobs: &jobs.jobs,
        };
        let mut instance = pose(&question);
        let open = self.open_jobs(&jobs);
        self.go_on(&mut instance, &present, &open);
        let late = self.let_go(&mut instance, &present);
        let start = stay_near(&mut instance, &question, self.earlier.plan, request.steady);
        let after = Afterwards::of(request.settings.stop);
        let settings = request.settings.leaving(after.all());
        let mut found = search(&instance, Some(&start), &[], settings, watch);
        retime(&instance, &mut found);
        let stop = request.settings.stop.leaving(after.files);
        let past = self.past(&present, &mut found);
        let mut plan = compose(&question, &jobs, &instance, &found, &past);
        plan.undone.extend(missed);
        plan.undone.sort_by_key(|u| u.what);
        let bound = self.bound(&instance, &found.scope, stop);
        let savers = saved_by(
            &question,
            &staying,
            &jobs,
            (&instance, &found),
            &plan.undone,
            stop,
        );
        let known: Vec<UndoneWork> = plan.undone.iter().map(|u| u.what).collect();
        self.stay_as_needed(&plan, &late)?;
        let mut read = ReadWalks::default();
        let violations = settle(&self.site, &mut plan, &present, &|_, _| true, &mut read);
        let at = |what: &UndoneWork| known.iter().position(|k| k == what);
        let saver = |u: &Undone| at(&u.what).and_then(|i| savers[i].clone());
        Ok(Covered {
            savers: plan.undone.iter().map(saver).collect(),
            proven: self.frozen.past.is_empty(),
            before: self.before(),
            made: Made {
                measures: measure_with(&self.site, &plan, &mut read),
                bound,
                violations,
                iterations: found.iterations,
                plan,
                calendar: self.calendar,
            },
            site: self.site,
            tonight: self.tonight,
            absent: self.absent,
        })
    }

    /// Who is there to take something on.
    fn staying(&self, present: &[WorkerId]) -> Vec<WorkerId> {
        let gone = |w: &WorkerId| self.frozen.past.get(w).is_some_and(|p| p.gone);
        let all = present.iter().copied();
        all.filter(|w| !self.changes.has_left(*w) && !gone(w))
            .collect()
    }

    /// What each of those present has behind them. Nothing happens any more to those who have gone.
    fn past(&self, present: &[WorkerId], found: &mut Found) -> Vec<Vec<PlannedStop>> {
        let each = present.iter().zip(&mut found.runs).map(|(worker, run)| {
            let past = self.frozen.past.get(worker)?;
            if past.gone {
                run.events.clear();
            }
            Some(past.stops.clone())
        });
        each.map(Option::unwrap_or_default).collect()
    }

    /// Shifts of those who finish what they have begun end when they are done with it.
    fn stay_as_needed(&mut self, plan: &Plan, late: &[WorkerId]) -> Result<(), Vec<Misfit>> {
        let mut changed = false;
        for worker in late {
            let run = plan.runs.iter().find(|r| r.worker == *worker);
            if let Some(last) = run.and_then(|r| r.stops.last()) {
                let end = last.span.to;
                let shift = self.site.crew[worker.index()].shift;
                let usual = self.calendar.elapsed_span(shift).to + self.site.policy.overtime;
                changed |= night::stay_until(&mut self.tonight, self.written, *worker, usual, end);
            }
        }
        if changed {
            self.site = self.tonight.apply(self.written, plan.date)?;
        }
        Ok(())
    }

    fn before(&self) -> Plan {
        let mut plan = self.earlier.plan.clone();
        let nights = (self.earlier.tonight, &self.tonight);
        for run in &mut plan.runs {
            night::recount(self.written, run.worker, nights, &mut run.stops);
        }
        plan
    }

    fn bound(&self, instance: &Instance, scope: &[u8], stop: Stop) -> Bound {
        if !self.frozen.past.is_empty() {
            return Bound {
                share: 0.0,
                certificate: Certificate::default(),
            };
        }
        let ideal = ideal_times(&self.site, &self.calendar);
        let way = |from, to| {
            ideal
                .get(PlaceId(from), PlaceId(to))
                .map_or(0, |time| time.0)
        };
        bound(instance, scope, &way, stop)
    }
}
