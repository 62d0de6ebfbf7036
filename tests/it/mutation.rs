//! A sound plan is broken in one way after another, and each time the rule that is broken has to be named, and no other.
//!
//! The site, the plan and all expected figures are worked out by hand in [`crate::support`]; the rules are those of the plan's
//! own definition, so there is no outside source to check them against.

mod large;
mod lying;
mod missed;
mod priority;
mod rules;
mod sound;
mod told;

use crate::support::night::night;
use crate::support::two_floors::{EVERYONE, span, two_floors};
use evenrun::plan::{Plan, PlannedStop, Rule, check};
use evenrun::site::{Site, WorkerId};
use std::collections::BTreeSet;

/// A site and its plan, to be broken.
struct Case {
    site: Site,
    plan: Plan,
}

impl Case {
    fn sound() -> Case {
        let site = two_floors();
        let plan = night(&site);
        Case { site, plan }
    }

    fn stops(&mut self, worker: WorkerId) -> &mut Vec<PlannedStop> {
        &mut self.plan.runs[worker.index()].stops
    }

    fn retime(&mut self, worker: WorkerId, stop: usize, from: &str, to: &str) {
        self.stops(worker)[stop].span = span(from, to);
    }

    fn broken(&self) -> BTreeSet<Rule> {
        check(&self.site, &self.plan, &EVERYONE)
            .into_iter()
            .map(|v| v.rule)
            .collect()
    }

    fn messages(&self) -> Vec<String> {
        check(&self.site, &self.plan, &EVERYONE)
            .into_iter()
            .map(|v| format!("{}: {}", v.rule, v.message))
            .collect()
    }
}

/// Breaks the sound plan and looks whether this rule, and only this one, is named.
#[track_caller]
fn breaks(rule: Rule, how: impl FnOnce(&mut Case)) {
    let mut case = Case::sound();
    how(&mut case);
    assert_eq!(
        case.broken(),
        BTreeSet::from([rule]),
        "{:#?}",
        case.messages()
    );
}

/// Changes the sound plan and looks whether it still is sound.
#[track_caller]
fn keeps(how: impl FnOnce(&mut Case)) {
    let mut case = Case::sound();
    how(&mut case);
    assert_eq!(case.messages(), Vec::<String>::new());
}
