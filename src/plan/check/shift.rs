//! Rule 2: everyone on duty has one run, which starts with set-up and ends with tear-down at the start place, inside the shift
//! plus whatever overtime the site allows.

use super::findings::{Findings, exact};
use super::rule::Rule;
use crate::plan::What;
use crate::plan::reading::{ReadRun, Reading};
use crate::site::WorkerId;

/// One run for each of those present, and for nobody else.
pub(super) fn across(reading: &Reading, present: &[WorkerId], found: &mut Findings) {
    for run in reading.runs.iter().filter(|run| !present.contains(&run.id)) {
        found.in_run(Rule::Shift, run, "has a run, but is not on duty");
    }
    for worker in present {
        let runs = reading.runs.iter().filter(|run| run.id == *worker).count();
        let name = &reading.site.crew[worker.index()].name;
        match runs {
            0 => found.in_plan(Rule::Shift, format!("{name}: is on duty, but has no run")),
            1 => {}
            _ => found.in_plan(
                Rule::Shift,
                format!("{name}: has {runs} runs instead of one"),
            ),
        }
    }
}

/// Set-up first, tear-down last, nothing outside the shift.
pub(super) fn of_run(_: &Reading, run: &ReadRun, found: &mut Findings) {
    let Some(last) = run.stops.len().checked_sub(1) else {
        return;
    };
    if run.stops[0].what != What::SetUp {
        found.at_stop(Rule::Shift, run, 0, "a run starts with set-up");
    }
    if run.stops[last].what != What::TearDown {
        found.at_stop(Rule::Shift, run, last, "a run ends with tear-down");
    }
    for at in 0..=last {
        is_handled(run, at, last, found);
        is_inside(run, at, found);
    }
}

fn is_handled(run: &ReadRun, at: usize, last: usize, found: &mut Findings) {
    let stop = &run.stops[at];
    let (length, expected) = match stop.what {
        What::SetUp => (run.site.policy.set_up, 0),
        What::TearDown => (run.site.policy.tear_down, last),
        _ => return,
    };
    if at != expected {
        found.at_stop(
            Rule::Shift,
            run,
            at,
            "there is one set-up, first, and one tear-down, last",
        );
    }
    if stop.place != run.worker.start {
        let start = &run.site.places[run.worker.start.index()].id;
        found.at_stop(
            Rule::Shift,
            run,
            at,
            &format!("this is done at the start place `{start}`"),
        );
    }
    let planned = stop.span.to - stop.span.from;
    if planned != length {
        let problem = format!("takes {}, planned are {}", exact(length), exact(planned));
        found.at_stop(Rule::Shift, run, at, &problem);
    }
}

fn is_inside(run: &ReadRun, at: usize, found: &mut Findings) {
    let (span, overtime) = (run.stops[at].span, run.site.policy.overtime);
    if span.from < run.shift.from {
        let problem = format!("the shift starts only at {}", run.shift.from);
        found.at_stop(Rule::Shift, run, at, &problem);
    }
    if span.to > run.shift.to + overtime {
        let problem = format!(
            "the shift ends at {}, with {} of overtime at most",
            run.shift.to,
            exact(overtime)
        );
        found.at_stop(Rule::Shift, run, at, &problem);
    }
}
