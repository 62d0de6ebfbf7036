//! Due tasks gathered into jobs: one room, one worker, one to three stops.

use super::DueTask;
use crate::site::{Site, WorkerId};

/// What a job is done at.
#[derive(Clone, Debug, PartialEq)]
pub enum Target {
    /// Tasks of one room, in the order they are given up last to first: most important first.
    Room(Vec<DueTask>),
    /// A duty, by index in the site's list.
    Duty(usize),
}

/// Everything due at one place that one worker does.
#[derive(Clone, Debug, PartialEq)]
pub struct Job {
    /// What is done.
    pub target: Target,
    /// Who may do it, of those present; never empty.
    pub eligible: Vec<WorkerId>,
    /// A job of the same room that must be over before this one starts (rule 7 across runs), by index.
    pub after: Option<usize>,
}

/// Jobs for the workers present.
pub fn gather(_site: &Site, _due: &[DueTask], _present: &[WorkerId]) -> Vec<Job> {
    todo!()
}
