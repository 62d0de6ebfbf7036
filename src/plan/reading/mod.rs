//! A plan read against its site: each run with its walking times, its shift in elapsed time and its visits.
//!
//! The checker and the measures both start here. Nothing in this folder knows how a plan was found: every length is worked out
//! again from the site's own figures.

mod run;
mod visit;

pub(super) use run::{ReadRun, TOLERANCE, loads};
pub(super) use visit::Visit;

use super::{Plan, PlannedStop, Run, takes_cart};
use crate::site::{Calendar, Hours, Site};
use crate::units::Span;
use crate::walk::{Times, Walker};
use std::sync::Arc;

/// A plan, its site, and what follows from the two.
pub(super) struct Reading<'a> {
    /// Where.
    pub(super) site: &'a Site,
    /// What is read.
    pub(super) plan: &'a Plan,
    /// The plan's date.
    pub(super) calendar: Calendar,
    /// What may be done when on that date.
    pub(super) windows: Arc<Windows>,
    /// The runs, in the plan's order.
    pub(super) runs: Vec<ReadRun<'a>>,
}

/// When rooms may be cleaned and closed and duties done, each by its position; `None` is at any time.
pub(super) struct Windows {
    pub(super) open: Vec<Option<Vec<Span>>>,
    pub(super) closure: Vec<Option<Vec<Span>>>,
    pub(super) duties: Vec<Option<Vec<Span>>>,
}

impl Windows {
    fn of(site: &Site, calendar: &Calendar) -> Windows {
        let on_date = |hours: &Option<Hours>| hours.as_ref().map(|h| calendar.windows(h));
        Windows {
            open: site.rooms.iter().map(|r| on_date(&r.open)).collect(),
            closure: site.rooms.iter().map(|r| on_date(&r.closure)).collect(),
            duties: site.duties.iter().map(|d| on_date(&d.window)).collect(),
        }
    }
}

/// The walking times of a plan's workers: they take a while, and stay while nobody moves in another way.
#[derive(Default)]
pub(crate) struct Walks {
    walkers: Vec<Walker>,
    times: Vec<Arc<Times>>,
}

impl Walks {
    fn of(&mut self, site: &Site, walkers: Vec<Walker>, calendar: &Calendar) -> Vec<Arc<Times>> {
        if self.walkers != walkers {
            self.times = Times::of_walkers(site, &walkers, calendar);
            self.walkers = walkers;
        }
        self.times.clone()
    }
}

impl<'a> Reading<'a> {
    /// Reads a plan whose ids are the site's.
    pub(super) fn new(site: &'a Site, plan: &'a Plan) -> Reading<'a> {
        Reading::again(site, plan, &mut Walks::default())
    }

    /// The same, with walks kept from one reading to the next.
    pub(super) fn again(site: &'a Site, plan: &'a Plan, walks: &mut Walks) -> Reading<'a> {
        let calendar = Calendar::new(plan.date, site.time_zone.as_deref());
        let walker =
            |run: &Run| Walker::of(site, run.worker, takes_cart(site, &run.stops), &calendar);
        let times = walks.of(site, plan.runs.iter().map(walker).collect(), &calendar);
        let read = |(run, times)| ReadRun::new(site, run, &calendar, times);
        let runs = plan.runs.iter().zip(times).map(read).collect();
        Reading {
            windows: Arc::new(Windows::of(site, &calendar)),
            site,
            plan,
            calendar,
            runs,
        }
    }

    /// The same plan with these stops in place of each run's own.
    pub(super) fn showing<'b>(&'b self, stops: &[&'b [PlannedStop]]) -> Reading<'b> {
        let runs = self.runs.iter().zip(stops);
        Reading {
            site: self.site,
            plan: self.plan,
            calendar: self.calendar.clone(),
            windows: Arc::clone(&self.windows),
            runs: runs.map(|(run, stops)| run.showing(stops)).collect(),
        }
    }
}
