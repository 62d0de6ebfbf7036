//! The independent checker.

use super::Plan;
use crate::site::{PlaceId, Site, WorkerId};
use crate::units::Clock;

/// The rules a plan keeps, by their number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Rule {
    /// 1. Everything due is done once or listed undone; nothing else is done.
    Work,
}

/// A broken rule.
#[derive(Clone, Debug, PartialEq)]
pub struct Violation {
    /// Which rule.
    pub rule: Rule,
    /// In whose run, if it is one run's.
    pub worker: Option<WorkerId>,
    /// Where, if it is one place's.
    pub place: Option<PlaceId>,
    /// When, if it is at one moment.
    pub at: Option<Clock>,
    /// What is wrong, in words, with names and times.
    pub message: String,
}

/// Every broken rule of a plan; none means the plan is sound.
pub fn check(_site: &Site, _plan: &Plan) -> Vec<Violation> {
    todo!()
}
