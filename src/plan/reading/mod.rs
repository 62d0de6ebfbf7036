//! A plan read against its site: each run with its walking times, its shift in elapsed time and its visits.
//!
//! The checker and the measures both start here. Nothing in this folder knows how a plan was found: every length is worked out
//! again from the site's own figures.

mod run;
mod visit;

pub(super) use run::{ReadRun, TOLERANCE, loads};
pub(super) use visit::Visit;

use super::{Plan, Run, takes_cart};
use crate::site::{Calendar, Site};
use crate::walk::{Times, Walker};

/// A plan, its site, and what follows from the two.
pub(super) struct Reading<'a> {
    /// Where.
    pub(super) site: &'a Site,
    /// What is read.
    pub(super) plan: &'a Plan,
    /// The plan's date.
    pub(super) calendar: Calendar,
    /// The runs, in the plan's order.
    pub(super) runs: Vec<ReadRun<'a>>,
}

impl<'a> Reading<'a> {
    /// Reads a plan whose ids are the site's.
    pub(super) fn new(site: &'a Site, plan: &'a Plan) -> Reading<'a> {
        let calendar = Calendar::new(plan.date, site.time_zone.as_deref());
        let walker =
            |run: &Run| Walker::of(site, run.worker, takes_cart(site, &run.stops), &calendar);
        let walkers: Vec<Walker> = plan.runs.iter().map(walker).collect();
        let times = Times::of_walkers(site, &walkers, &calendar);
        let read = |(run, times)| ReadRun::new(site, run, &calendar, times);
        let runs = plan.runs.iter().zip(times).map(read).collect();
        Reading {
            site,
            plan,
            calendar,
            runs,
        }
    }

    /// The same plan with one run replaced.
    pub(super) fn replacing<'b>(&'b self, index: usize, run: ReadRun<'b>) -> Reading<'b> {
        let mut runs: Vec<ReadRun<'b>> = self.runs.clone();
        if let Some(place) = runs.get_mut(index) {
            *place = run;
        }
        Reading {
            site: self.site,
            plan: self.plan,
            calendar: self.calendar.clone(),
            runs,
        }
    }
}
