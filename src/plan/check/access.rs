//! Rule 4: a stop lies wholly inside one of its room's open-to-cleaning windows, a duty inside one of its own; a duty that
//! comes last (lock up and alarm) waits until everybody else is back.

use super::findings::{Findings, label};
use super::rule::Rule;
use crate::plan::What;
use crate::plan::reading::{ReadRun, Reading};
use crate::site::RoomId;
use crate::units::Span;
use itertools::Itertools;

/// The windows of one run's stops.
pub(super) fn of_run(reading: &Reading, run: &ReadRun, found: &mut Findings) {
    for (at, stop) in run.stops.iter().enumerate() {
        let windows = match &stop.what {
            What::Duty(duty) => reading.windows.duties[*duty].as_ref(),
            what => {
                let open = |room: RoomId| reading.windows.open[room.index()].as_ref();
                what.room().and_then(open)
            }
        };
        let Some(windows) = windows else { continue };
        if !windows.iter().any(|w| w.holds(stop.span)) {
            let problem = format!("is not inside one window; there are {}", listed(windows));
            found.at_stop(Rule::Access, run, at, &problem);
        }
    }
}

/// Duties that come last.
pub(super) fn across(reading: &Reading, found: &mut Findings) {
    for (index, run) in reading.runs.iter().enumerate() {
        for (at, stop) in run.stops.iter().enumerate() {
            if !matches!(stop.what, What::Duty(duty) if run.site.duties[duty].last) {
                continue;
            }
            let others = reading.runs.iter().enumerate().filter(|(i, _)| *i != index);
            for (_, other) in others {
                let Some(end) = other.stops.len().checked_sub(1) else {
                    continue;
                };
                if other.stops[end].span.to > stop.span.from {
                    let problem = format!("comes last, but {} is not over", label(other, end));
                    found.at_stop(Rule::Access, run, at, &problem);
                }
            }
        }
    }
}

/// Windows in words.
pub(super) fn listed(windows: &[Span]) -> String {
    if windows.is_empty() {
        return "none on this date".to_string();
    }
    windows
        .iter()
        .map(|w| format!("{}-{}", w.from, w.to))
        .join(", ")
}
