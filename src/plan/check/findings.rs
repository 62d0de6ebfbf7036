//! What the rules find: violations, each with the run, the stop and the times it is about.

use super::Rule;
use crate::plan::reading::ReadRun;
use crate::plan::{PlannedStop, StopWord};
use crate::site::{PlaceId, WorkerId};
use crate::units::{Clock, Seconds};
use crate::work::DueTask;

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
    /// For rule 14: what could be done instead.
    pub exchange: Option<Exchange>,
}

/// Done tasks given up for an undone one that matters more, everything else kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Exchange {
    /// The tasks to drop; none if it fits anyhow.
    pub drops: Vec<DueTask>,
    /// The undone task that fits in their place.
    pub add: DueTask,
    /// The stops of the violation's worker then; the plan with them keeps all rules but perhaps rule 14.
    pub stops: Vec<PlannedStop>,
}

/// Violations as they are found.
#[derive(Default)]
pub(super) struct Findings(Vec<Violation>);

impl Findings {
    /// Something wrong at one stop of a run.
    pub(super) fn at_stop(&mut self, rule: Rule, run: &ReadRun, stop: usize, problem: &str) {
        let (place, at) = (run.stops[stop].place, run.stops[stop].span.from);
        let message = format!("{}: {problem}", label(run, stop));
        self.0.push(Violation {
            place: Some(place),
            at: Some(at),
            ..of_worker(rule, Some(run.id), message)
        });
    }

    /// Something wrong with a run as a whole.
    pub(super) fn in_run(&mut self, rule: Rule, run: &ReadRun, problem: &str) {
        let message = format!("{}: {problem}", run.worker.name);
        self.0.push(of_worker(rule, Some(run.id), message));
    }

    /// Something wrong with the plan as a whole.
    pub(super) fn in_plan(&mut self, rule: Rule, message: String) {
        self.0.push(of_worker(rule, None, message));
    }

    /// Something wrong with the plan at one moment.
    pub(super) fn at_moment(&mut self, rule: Rule, at: Clock, message: String) {
        self.0.push(Violation {
            at: Some(at),
            ..of_worker(rule, None, message)
        });
    }

    /// An exchange that would have been better.
    pub(super) fn exchange(
        &mut self,
        run: &ReadRun,
        stop: usize,
        exchange: Exchange,
        problem: &str,
    ) {
        self.at_stop(Rule::Priority, run, stop, problem);
        if let Some(last) = self.0.last_mut() {
            last.exchange = Some(exchange);
        }
    }

    /// Whether nothing is wrong so far.
    pub(super) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// How much is wrong so far.
    pub(super) fn count(&self) -> usize {
        self.0.len()
    }

    /// All of them, by rule.
    pub(super) fn in_order(mut self) -> Vec<Violation> {
        self.0.sort_by_key(|v| v.rule);
        self.0
    }
}

fn of_worker(rule: Rule, worker: Option<WorkerId>, message: String) -> Violation {
    Violation {
        rule,
        worker,
        place: None,
        at: None,
        message,
        exchange: None,
    }
}

/// A stop as messages name it: ``Ana's stop 5, clean `G12` 18:05:00-18:12:00``.
pub(super) fn label(run: &ReadRun, stop: usize) -> String {
    let s = &run.stops[stop];
    let place = &run.site.places[s.place.index()].id;
    let (name, what) = (&run.worker.name, StopWord::of(&s.what));
    format!(
        "{name}'s stop {}, {what} `{place}` {}-{}",
        stop + 1,
        s.span.from,
        s.span.to
    )
}

/// A length of time to the second: `7 min 20 s`, `40 s`.
pub(super) fn exact(time: Seconds) -> String {
    let sign = if time < Seconds::ZERO { "-" } else { "" };
    match (time.0.abs() / 60, time.0.abs() % 60) {
        (0, s) => format!("{sign}{s} s"),
        (m, 0) => format!("{sign}{m} min"),
        (m, s) => format!("{sign}{m} min {s} s"),
    }
}
