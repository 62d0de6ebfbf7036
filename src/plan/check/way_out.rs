//! Rule 13: halls and stairs that form an exit pair are never wet at the same time: from the start of mopping one, trips for water
//! included, until its floor is dry.

use super::findings::{Findings, label};
use super::rule::Rule;
use crate::plan::reading::{ReadRun, Reading};
use crate::site::RoomId;
use crate::units::Span;

/// Every exit pair, over all runs together.
pub(super) fn across(reading: &Reading, found: &mut Findings) {
    for [one, other] in &reading.site.policy.exit_pairs {
        if one == other {
            continue;
        }
        let (first, second) = (wet(reading, *one), wet(reading, *other));
        for a in &first {
            for b in second.iter().filter(|b| a.span.meets(b.span)) {
                let both = a.span.common(b.span);
                let problem = format!(
                    "is wet {}-{} together with {}, the other way out",
                    both.from,
                    both.to,
                    label(b.run, b.at)
                );
                found.at_stop(Rule::WayOut, a.run, a.at, &problem);
            }
        }
    }
}

struct Wet<'r, 'a> {
    run: &'r ReadRun<'a>,
    at: usize,
    span: Span,
}

fn wet<'r, 'a>(reading: &'r Reading<'a>, room: RoomId) -> Vec<Wet<'r, 'a>> {
    let mut all = Vec::new();
    for run in &reading.runs {
        for (at, stop) in run.stops.iter().enumerate() {
            if stop.what.room() != Some(room) || run.mopped(stop).is_none() {
                continue;
            }
            let trips = run.fill_trips(stop).unwrap_or_default().total();
            let from = stop.span.to - run.mop_time(stop) - trips;
            all.push(Wet {
                run,
                at,
                span: Span::new(from, stop.span.to + run.longest_drying(stop)),
            });
        }
    }
    all
}
