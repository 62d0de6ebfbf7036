//! The independent checker: whether a plan keeps the fourteen rules, told from the site and the plan alone.
//!
//! One file per rule. It shares no timing and no cost with the search: lengths, walks, buckets, closures are all worked out
//! again here from the site's own figures. Any plan may be checked, also one edited by hand: stops out of order,
//! overlapping, missing or invented are found, never stumbled over.

mod access;
mod beside;
mod breaks;
mod clearing;
mod closure;
mod findings;
mod groups;
mod known;
mod loads;
mod machines;
mod order;
mod priority;
mod rule;
mod shift;
mod skills;
mod spare;
mod swap;
mod tried;
mod walking;
mod waste;
mod water;
mod way_out;
mod work;

pub use findings::{Exchange, Violation};
pub use rule::Rule;

use super::Plan;
use super::reading::{ReadRun, Reading, Walks};
use crate::site::{Site, WorkerId};
use crate::work::DueTask;
use beside::Beside;
use findings::Findings;
use tried::Tried;

/// Rules, or parts of rules, that one run keeps or breaks by itself; first those that are told soonest and broken most often.
const OF_RUN: [fn(&Reading, &ReadRun, &mut Findings); 11] = [
    walking::of_run,
    access::of_run,
    closure::of_run,
    shift::of_run,
    breaks::of_run,
    order::of_run,
    water::of_run,
    waste::of_run,
    skills::of_run,
    machines::of_run,
    work::of_run,
];

/// Rules, or parts of rules, that take all the runs together and do not depend on what is listed undone.
const ACROSS: [fn(&Reading, &mut Findings); 5] = [
    access::across,
    groups::across,
    order::across,
    machines::across,
    way_out::across,
];

/// Whether somebody may take a task over from what is left undone.
pub(crate) type May<'a> = &'a dyn Fn(WorkerId, DueTask) -> bool;

/// Every broken rule of a plan, in the order of the rules; none means the plan is sound.
///
/// `present` are the workers on duty: the plan has exactly one run for each of them.
pub fn check(site: &Site, plan: &Plan, present: &[WorkerId]) -> Vec<Violation> {
    check_with(site, plan, present, &|_, _| true, &mut Walks::default())
}

/// The same with walks that are known already, where only those who `may` take over what is undone.
pub(crate) fn check_with(
    site: &Site,
    plan: &Plan,
    present: &[WorkerId],
    may: May,
    walks: &mut Walks,
) -> Vec<Violation> {
    Checker::new(site, present, may, walks).look(plan)
}

/// Looks at a plan, and again when all exchanges are made that it has named; what did not fit before is not tried again.
pub(super) struct Checker<'a> {
    site: &'a Site,
    present: &'a [WorkerId],
    may: May<'a>,
    walks: &'a mut Walks,
    tried: Tried,
}

impl<'a> Checker<'a> {
    /// Names only exchanges in runs of those who `may` take the work over.
    pub(super) fn new(
        site: &'a Site,
        present: &'a [WorkerId],
        may: May<'a>,
        walks: &'a mut Walks,
    ) -> Self {
        Checker {
            site,
            present,
            may,
            walks,
            tried: Tried::default(),
        }
    }

    /// Every broken rule, in the order of the rules.
    pub(super) fn look(&mut self, plan: &Plan) -> Vec<Violation> {
        let strangers = known::strangers(self.site, plan, self.present);
        if !strangers.is_empty() {
            return strangers;
        }
        let reading = Reading::again(self.site, plan, self.walks);
        let mut found = Findings::default();
        work::across(&reading, &mut found);
        shift::across(&reading, self.present, &mut found);
        for run in &reading.runs {
            alone(&reading, run, &mut found);
        }
        let before = found.count();
        together(&reading, &mut found);
        let mut beside = Beside::of(&reading, found.count() == before);
        priority::across(&mut beside, &mut self.tried, self.may, &mut found);
        found.in_order()
    }
}

fn alone(reading: &Reading, run: &ReadRun, found: &mut Findings) {
    for rule in OF_RUN {
        rule(reading, run, found);
    }
}

/// Whether a run keeps them all.
fn keeps_alone(reading: &Reading, run: &ReadRun) -> bool {
    let mut found = Findings::default();
    OF_RUN.iter().all(|rule| {
        rule(reading, run, &mut found);
        found.is_empty()
    })
}

fn together(reading: &Reading, found: &mut Findings) {
    for rule in ACROSS {
        rule(reading, found);
    }
}
