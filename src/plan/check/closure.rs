//! Rule 5: a room that is closed while it is cleaned is closed from its first stop until the same worker reopens it, and
//! all of that lies inside one closure window.

use super::access::listed;
use super::findings::{Findings, exact};
use super::rule::Rule;
use crate::plan::What;
use crate::plan::reading::{ReadRun, Reading, Visit};

/// Closing and reopening in one run.
pub(super) fn of_run(reading: &Reading, run: &ReadRun, found: &mut Findings) {
    for visit in run.visits() {
        is_paired(run, visit, found);
        is_inside(reading, run, visit, found);
    }
    for (at, stop) in run.stops.iter().enumerate() {
        let (needed, planned) = (run.work_time(stop), stop.span.to - stop.span.from);
        if matches!(stop.what, What::Reopen(_)) && planned != needed {
            let problem = format!("takes {}, planned are {}", exact(needed), exact(planned));
            found.at_stop(Rule::Closure, run, at, &problem);
        }
    }
}

fn is_paired(run: &ReadRun, visit: Visit, found: &mut Findings) {
    let closes = run.kind_of(visit).reopen.is_some();
    match (closes, visit.last_work(), visit.reopen) {
        (true, Some(at), None) => {
            found.at_stop(
                Rule::Closure,
                run,
                at,
                "the room is closed for this and never reopened",
            );
        }
        (true, None, Some(at)) => {
            found.at_stop(
                Rule::Closure,
                run,
                at,
                "the room was not closed on this run before",
            );
        }
        (false, _, Some(at)) => {
            found.at_stop(Rule::Closure, run, at, "rooms of this kind are not closed");
        }
        _ => {}
    }
}

fn is_inside(reading: &Reading, run: &ReadRun, visit: Visit, found: &mut Findings) {
    let windows = reading.windows.closure[visit.room.index()].as_ref();
    let (Some(closed), Some(windows)) = (run.closure(visit), windows) else {
        return;
    };
    let Some(first) = visit.stops().next() else {
        return;
    };
    if !windows.iter().any(|w| w.holds(closed)) {
        let (from, to, windows) = (closed.from, closed.to, listed(windows));
        let problem =
            format!("closed {from}-{to}, not inside one closure window; there are {windows}");
        found.at_stop(Rule::Closure, run, first, &problem);
    }
}
