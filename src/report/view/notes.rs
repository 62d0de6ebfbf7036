//! What to mind at a stop: dwell, drying, ways out, trips on the way, what fresh water is for.

use super::names;
use crate::plan::{PlannedStop, What};
use crate::report::Answer;
use crate::report::words::{Words, short};
use crate::site::{Method, Moves, Site, Worker};
use crate::work::DueTask;

/// Areas closer than this count as equal, as in the rules for water.
const AREA_TOLERANCE: f64 = 1e-9;

/// All of them, in the order they matter.
pub(super) fn notes(
    answer: &Answer,
    words: &Words,
    worker: &Worker,
    stop: &PlannedStop,
    after: &[PlannedStop],
) -> Vec<String> {
    let site = answer.site;
    let mut notes = Vec::new();
    notes.extend(dwell_note(answer, words, stop, after));
    notes.extend(half_note(site, words, stop));
    notes.extend(drying_note(answer, words, stop, after));
    notes.extend(trip_notes(site, words, worker, stop));
    notes.extend(next_water_note(answer, words, stop, after));
    notes.extend(water_note(site, words, stop, after));
    notes
}

fn dwell_note(
    answer: &Answer,
    words: &Words,
    stop: &PlannedStop,
    after: &[PlannedStop],
) -> Option<String> {
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
    let then = words.clock(answer.calendar, wipe.span.from);
    let about = [("time", short(dwell).into()), ("then", then.into())];
    Some(words.tell("note-dwell", &about))
}

fn drying_note(
    answer: &Answer,
    words: &Words,
    stop: &PlannedStop,
    after: &[PlannedStop],
) -> Option<String> {
    let room = stop.what.room()?;
    let drying = stop
        .what
        .tasks()
        .iter()
        .filter_map(|t| match t.task(answer.site).method {
            Method::Mop { drying } => Some(drying),
            _ => None,
        });
    let time = ("time", short(drying.max()?).into());
    let reopen = after.iter().find(|s| s.what == What::Reopen(room));
    Some(match reopen {
        Some(reopen) => {
            let then = words.clock(answer.calendar, reopen.span.from);
            words.tell("note-dries-opens", &[time, ("then", then.into())])
        }
        None => words.tell("note-dries", &[time]),
    })
}

/// After mopping, where and when the next fresh water is, unless it is the very next stop.
fn next_water_note(
    answer: &Answer,
    words: &Words,
    stop: &PlannedStop,
    after: &[PlannedStop],
) -> Option<String> {
    let site = answer.site;
    if !stop.what.tasks().iter().any(|t| t.is_mopping(site))
        || matches!(stop.what, What::OpenAndWet(..))
    {
        return None;
    }
    let mops = |s: &PlannedStop| {
        !matches!(s.what, What::OpenAndWet(..)) && s.what.tasks().iter().any(|t| t.is_mopping(site))
    };
    let next = after.iter().position(|s| s.what == What::Fill)?;
    if next == 0 || after[..next].iter().any(mops) {
        return None;
    }
    let fill = &after[next];
    let about = [
        ("place", names::place(site, fill.place).into()),
        ("then", words.clock(answer.calendar, fill.span.from).into()),
    ];
    Some(words.tell("note-next-water", &about))
}

/// Which room fresh water is for first, and that a restroom's is used nowhere else.
fn water_note(
    site: &Site,
    words: &Words,
    stop: &PlannedStop,
    after: &[PlannedStop],
) -> Option<String> {
    if stop.what != What::Fill {
        return None;
    }
    let mopped = |s: &&PlannedStop| {
        s.what.tasks().iter().any(|t| t.is_mopping(site)) && !matches!(s.what, What::OpenAndWet(..))
    };
    let first = after.iter().find(mopped)?;
    let room = &site.rooms[first.what.room()?.index()];
    let id = if site.kinds[room.kind.index()].restroom {
        "note-water-only"
    } else {
        "note-water-for"
    };
    let place = names::place(site, first.place);
    Some(words.tell(id, &[("place", place.into())]))
}

/// Halls and stairs that are ways out are mopped in halves, so that people can pass.
fn half_note(site: &Site, words: &Words, stop: &PlannedStop) -> Option<String> {
    let room = stop.what.room()?;
    let mops = stop.what.tasks().iter().any(|t| t.is_mopping(site));
    let way_out = site
        .policy
        .exit_pairs
        .iter()
        .any(|pair| pair.contains(&room));
    (mops && way_out).then(|| words.say("note-halves"))
}

/// Fills and emptyings inside a stop, where the room is larger than a bucket or brings more than the cart holds.
fn trip_notes(site: &Site, words: &Words, worker: &Worker, stop: &PlannedStop) -> Vec<String> {
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
    let told = |trips: usize, id: &str| (trips > 0).then(|| words.count(id, trips));
    [
        told(trips(area, cart.bucket.0), "note-water-trips"),
        told(trips(waste, cart.waste.0), "note-waste-trips"),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn is_spray(site: &Site, due: &DueTask) -> bool {
    matches!(due.task(site).method, Method::Spray { .. })
}
