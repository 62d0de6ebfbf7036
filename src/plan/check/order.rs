//! Rule 7: dry before wet, high before low, dwell times kept, the floor last, reopened only when dry.
//!
//! Within a visit this is the shape of its stops and the lags between them. Between visits to one room, by whomever, a task that
//! comes earlier in the order is over before one that comes later begins; a sprayed task counts by its spraying, because dry
//! work may be done during the dwell.

use super::findings::{Findings, exact, label};
use super::rule::Rule;
use crate::plan::What;
use crate::plan::reading::{ReadRun, Reading, Visit};
use crate::site::{Method, RoomId};
use crate::units::Seconds;
use crate::work::DueTask;
use std::collections::BTreeMap;

/// The last step of the order that belongs in *open and wet*: dry work.
const LAST_STEP_BEFORE_WIPING: u8 = 2;

/// The order within each visit of a run.
pub(super) fn of_run(_: &Reading, run: &ReadRun, found: &mut Findings) {
    for visit in run.visits() {
        has_both_parts(run, visit, found);
        for at in visit.stops() {
            belongs_here(run, at, found);
        }
        waits_out_the_dwell(run, visit, found);
        waits_until_dry(run, visit, found);
    }
}

fn has_both_parts(run: &ReadRun, visit: Visit, found: &mut Findings) {
    match (visit.first, visit.second) {
        (None, Some(second)) => {
            found.at_stop(
                Rule::Order,
                run,
                second,
                "nothing was opened and sprayed before",
            );
        }
        (Some(first), None) if matches!(run.stops[first].what, What::OpenAndWet(..)) => {
            found.at_stop(
                Rule::Order,
                run,
                first,
                "what is sprayed here is never wiped",
            );
        }
        (Some(first), Some(second)) if sprayed(run, first) != sprayed(run, second) => {
            found.at_stop(
                Rule::Order,
                run,
                second,
                "wipes other tasks than were sprayed",
            );
        }
        _ => {}
    }
}

fn sprayed(run: &ReadRun, at: usize) -> Vec<DueTask> {
    let spray = |t: &&DueTask| matches!(t.task(run.site).method, Method::Spray { .. });
    let mut tasks: Vec<DueTask> = run.stops[at]
        .what
        .tasks()
        .iter()
        .filter(spray)
        .copied()
        .collect();
    tasks.sort_unstable();
    tasks
}

fn belongs_here(run: &ReadRun, at: usize, found: &mut Findings) {
    let stop = &run.stops[at];
    let dwell = run.longest_dwell(stop);
    match stop.what {
        What::Clean(..) if dwell > Seconds::ZERO => {
            let problem = format!(
                "sprayed surfaces stay wet for {} and are wiped at a second stop",
                exact(dwell)
            );
            found.at_stop(Rule::Order, run, at, &problem);
        }
        What::OpenAndWet(..) if dwell == Seconds::ZERO => {
            found.at_stop(
                Rule::Order,
                run,
                at,
                "nothing here has to stay wet, so all is done in one go",
            );
        }
        _ => {}
    }
    for task in stop.what.tasks().iter().map(|t| t.task(run.site)) {
        let comes_before_wiping = task.method.step() <= LAST_STEP_BEFORE_WIPING;
        let is_sprayed = matches!(task.method, Method::Spray { .. });
        let misplaced = match stop.what {
            What::OpenAndWet(..) => !comes_before_wiping,
            What::WipeAndMop(..) => comes_before_wiping && !is_sprayed,
            _ => false,
        };
        if misplaced {
            let problem = format!("`{}` belongs to the other part of the visit", task.name);
            found.at_stop(Rule::Order, run, at, &problem);
        }
    }
}

fn waits_out_the_dwell(run: &ReadRun, visit: Visit, found: &mut Findings) {
    let (Some(second), Some(from)) = (visit.second, run.wiped_from(visit)) else {
        return;
    };
    if run.stops[second].span.from < from {
        let problem = format!("what was sprayed has to stay wet until {from}");
        found.at_stop(Rule::Order, run, second, &problem);
    }
}

fn waits_until_dry(run: &ReadRun, visit: Visit, found: &mut Findings) {
    let (Some(reopen), Some(from)) = (visit.reopen, run.dry_from(visit)) else {
        return;
    };
    if run.stops[reopen].span.from < from {
        let problem = format!("the work is over and the floor dry only at {from}");
        found.at_stop(Rule::Order, run, reopen, &problem);
    }
}

/// The order between the visits of each room.
pub(super) fn across(reading: &Reading, found: &mut Findings) {
    for parts in parts_by_room(reading).values() {
        for earlier in parts {
            for later in parts.iter().filter(|p| p.visit != earlier.visit) {
                compare(earlier, later, found);
            }
        }
    }
}

/// A stop of work at a room.
struct Part<'r, 'a> {
    run: &'r ReadRun<'a>,
    at: usize,
    /// Which visit of its room.
    visit: usize,
}

fn parts_by_room<'r, 'a>(reading: &'r Reading<'a>) -> BTreeMap<RoomId, Vec<Part<'r, 'a>>> {
    let mut rooms: BTreeMap<RoomId, Vec<Part>> = BTreeMap::new();
    for (visit, (run, stops)) in reading
        .runs
        .iter()
        .flat_map(|r| r.visits().into_iter().map(move |v| (r, v)))
        .enumerate()
    {
        let parts = stops.stops().map(|at| Part { run, at, visit });
        rooms.entry(stops.room).or_default().extend(parts);
    }
    rooms
}

impl Part<'_, '_> {
    /// The tasks by which it has a place in the order.
    fn steps(&self) -> impl Iterator<Item = DueTask> {
        let what = &self.run.stops[self.at].what;
        let second = matches!(what, What::WipeAndMop(..));
        let again = move |t: &DueTask| second && t.task(self.run.site).method.step() == 1;
        what.tasks().iter().copied().filter(move |t| !again(t))
    }
}

fn compare(earlier: &Part, later: &Part, found: &mut Findings) {
    let step = |task: &DueTask| task.task(earlier.run.site).method.step();
    let (Some(first), Some(last)) = (
        earlier.steps().min_by_key(step),
        later.steps().max_by_key(step),
    ) else {
        return;
    };
    let (a, b) = (
        &earlier.run.stops[earlier.at].span,
        &later.run.stops[later.at].span,
    );
    if step(&first) < step(&last) && a.to > b.from {
        let (first, last) = (
            &first.task(earlier.run.site).name,
            &last.task(later.run.site).name,
        );
        let before = label(earlier.run, earlier.at);
        let problem = format!("`{last}` comes after `{first}`, of {before}");
        found.at_stop(Rule::Order, later.run, later.at, &problem);
    }
}
