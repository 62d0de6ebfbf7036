//! Why a stop begins when it does: on arrival, or what the checker says of beginning earlier.

use crate::plan::check::check;
use crate::plan::reading::{ReadRun, Reading, Visit};
use crate::plan::{Plan, PlannedStop, Rule, What};
use crate::site::{PlaceId, WorkerId};
use crate::units::{Clock, Seconds, Span};
use itertools::Itertools;

/// A stop of a visit, and why it begins when it does.
#[derive(Clone, Debug, PartialEq)]
pub struct ExplainedStop {
    /// The stop.
    pub stop: PlannedStop,
    /// What comes before it, where, and the walk from there.
    pub before: Option<(What, PlaceId, Seconds)>,
    /// Why then.
    pub moment: Moment,
}

/// Why a stop begins when it does.
#[derive(Clone, Debug, PartialEq)]
pub enum Moment {
    /// As soon as the worker is there.
    OnArrival,
    /// Surfaces have to stay wet until then.
    Dwell {
        /// When the worker could have been there.
        arrival: Clock,
    },
    /// The floor dries until then.
    Drying {
        /// When the worker could have been there.
        arrival: Clock,
    },
    /// Beginning on arrival would break a rule.
    Forbidden {
        /// When the worker could have been there.
        arrival: Clock,
        /// Which rule.
        rule: Rule,
        /// What the checker says of it.
        message: String,
    },
    /// It could begin on arrival as well, but its room would only be closed longer.
    ClosedLonger {
        /// When the worker could have been there.
        arrival: Clock,
    },
    /// It could begin on arrival as well, and does not.
    Later {
        /// When the worker could have been there.
        arrival: Clock,
    },
}

/// Explains the stop at `at`, one of a visit's.
pub(super) fn explained(
    reading: &Reading,
    present: &[WorkerId],
    run: &ReadRun,
    visit: Visit,
    at: usize,
) -> ExplainedStop {
    let stop = run.stops[at].clone();
    let before = at.checked_sub(1).map(|i| &run.stops[i]);
    let walk = before
        .and_then(|b| run.walk(b.place, stop.place))
        .unwrap_or_default();
    let moment = match before.map(|b| b.span.to + walk) {
        Some(arrival) if arrival < stop.span.from => {
            why_later(reading, present, run, visit, at, arrival)
        }
        _ => Moment::OnArrival,
    };
    ExplainedStop {
        stop,
        before: before.map(|b| (b.what.clone(), b.place, walk)),
        moment,
    }
}

fn why_later(
    reading: &Reading,
    present: &[WorkerId],
    run: &ReadRun,
    visit: Visit,
    at: usize,
    arrival: Clock,
) -> Moment {
    let start = run.stops[at].span.from;
    if visit.second == Some(at) && run.wiped_from(visit).is_some_and(|from| from >= start) {
        return Moment::Dwell { arrival };
    }
    if visit.reopen == Some(at) && run.dry_from(visit).is_some_and(|from| from >= start) {
        return Moment::Drying { arrival };
    }
    let before = check(reading.site, reading.plan, present);
    let with_earlier = |stops: &[usize]| {
        let earlier = earlier(reading.plan, run, stops, start - arrival);
        let mut found = check(reading.site, &earlier, present).into_iter();
        found.find(|v| !before.contains(v) && v.rule != Rule::Priority)
    };
    if let Some(violation) = with_earlier(&[at]) {
        return Moment::Forbidden {
            arrival,
            rule: violation.rule,
            message: violation.message,
        };
    }
    let whole = visit.stops().collect_vec();
    let closes = visit.reopen.is_some() && whole.first() == Some(&at);
    if closes && with_earlier(&whole).is_some() {
        Moment::ClosedLonger { arrival }
    } else {
        Moment::Later { arrival }
    }
}

/// The plan with some stops of a run so much earlier.
fn earlier(plan: &Plan, run: &ReadRun, stops: &[usize], by: Seconds) -> Plan {
    let mut plan = plan.clone();
    if let Some(run) = plan.runs.iter_mut().find(|r| r.worker == run.id) {
        for index in stops {
            let span = &mut run.stops[*index].span;
            *span = Span::new(span.from - by, span.to - by);
        }
    }
    plan
}
