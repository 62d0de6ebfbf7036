//! What to mind at a stop: dwell, drying, ways out, trips on the way, what fresh water is for.

use super::words;
use crate::plan::{PlannedStop, What};
use crate::report::Answer;
use crate::site::{Method, Moves, Site, Worker};
use crate::work::DueTask;

/// Areas closer than this count as equal, as in the rules for water.
const AREA_TOLERANCE: f64 = 1e-9;

/// All of them, in the order they matter.
pub(super) fn notes(
    answer: &Answer,
    worker: &Worker,
    stop: &PlannedStop,
    after: &[PlannedStop],
) -> Vec<String> {
    let mut notes = Vec::new();
    notes.extend(dwell_note(answer, stop, after));
    notes.extend(half_note(answer.site, stop));
    notes.extend(drying_note(answer, stop, after));
    notes.extend(trip_notes(answer.site, worker, stop));
    notes.extend(water_note(answer.site, stop, after));
    notes
}

fn dwell_note(answer: &Answer, stop: &PlannedStop, after: &[PlannedStop]) -> Option<String> {
    let What::OpenAndWet(room, tasks) = &stop.what else {
        return None;
    };
    let dwell = tasks
        .iter()
        .filter_map(|t| match t.task(answer.site).method {
            Method::Spray { dwell } => Some(dwell),
            _ => None,
        });
    let dwell = dwell.max()?;
    let wipe = after
        .iter()
        .find(|s| matches!(&s.what, What::WipeAndMop(r, _) if r == room))?;
    let then = words::clock(answer.calendar, wipe.span.from);
    Some(format!(
        "Wet for at least {} (label decides); wipe at {then}.",
        words::short(dwell)
    ))
}

fn drying_note(answer: &Answer, stop: &PlannedStop, after: &[PlannedStop]) -> Option<String> {
    let room = stop.what.room()?;
    let drying = stop
        .what
        .tasks()
        .iter()
        .filter_map(|t| match t.task(answer.site).method {
            Method::Mop { drying } => Some(drying),
            _ => None,
        });
    let drying = words::short(drying.max()?);
    let reopen = after.iter().find(|s| s.what == What::Reopen(room));
    Some(
        match reopen.map(|s| words::clock(answer.calendar, s.span.from)) {
            Some(then) => format!("Floor dries at least {drying}; opens at {then} if dry."),
            None => format!("Floor dries at least {drying}; sign stays till dry."),
        },
    )
}

/// Which room fresh water is for first, and that a restroom's is used nowhere else.
fn water_note(site: &Site, stop: &PlannedStop, after: &[PlannedStop]) -> Option<String> {
    if stop.what != What::Fill {
        return None;
    }
    let mopped = |s: &&PlannedStop| {
        s.what.tasks().iter().any(|t| t.is_mopping(site)) && !matches!(s.what, What::OpenAndWet(..))
    };
    let first = after.iter().find(mopped)?;
    let room = &site.rooms[first.what.room()?.index()];
    let only = if site.kinds[room.kind.index()].restroom {
        "Only for"
    } else {
        "For"
    };
    Some(format!("{only} {}.", words::place(site, first.place)))
}

/// Halls and stairs that are ways out are mopped in halves, so that people can pass.
fn half_note(site: &Site, stop: &PlannedStop) -> Option<String> {
    let room = stop.what.room()?;
    let mops = stop.what.tasks().iter().any(|t| t.is_mopping(site));
    let way_out = site
        .policy
        .exit_pairs
        .iter()
        .any(|pair| pair.contains(&room));
    (mops && way_out).then(|| "Way out: mop one half, let it dry, then the other.".into())
}

/// Fills and emptyings inside a stop, where the room is larger than a bucket or brings more than the cart holds.
fn trip_notes(site: &Site, worker: &Worker, stop: &PlannedStop) -> Vec<String> {
    let (Some(room), Moves::Cart(cart)) = (stop.what.room(), worker.moves) else {
        return Vec::new();
    };
    let tasks = match &stop.what {
        // Waste is collected in the first stop, which has listed the sprayed tasks already.
        What::WipeAndMop(_, tasks) => tasks
            .iter()
            .filter(|t| !is_spray(site, t))
            .collect::<Vec<_>>(),
        what => what.tasks().iter().collect(),
    };
    let mopped = tasks.iter().any(|t| t.is_mopping(site));
    let area = if mopped {
        site.rooms[room.index()].area.0
    } else {
        0.0
    };
    let waste = tasks.iter().map(|t| t.waste_litres(site)).sum::<f64>();
    let trips =
        |amount: f64, holds: f64| ((amount - AREA_TOLERANCE) / holds).ceil().max(1.0) as usize - 1;
    let told = |trips: usize, what: &str| {
        (trips > 0).then(|| {
            format!(
                "Time for {} {what} included.",
                words::count(trips, "trip", "trips")
            )
        })
    };
    [
        told(trips(area, cart.bucket.0), "to change the water"),
        told(trips(waste, cart.waste.0), "to empty the cart"),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn is_spray(site: &Site, due: &DueTask) -> bool {
    matches!(due.task(site).method, Method::Spray { .. })
}
