//! Ways between halls: stairs, lifts, ramps, links, ways through the open.

use super::Names;
use super::doors::door;
use super::names::Index;
use super::values::{Measure, count, seconds};
use crate::input::at::At;
use crate::input::log::{Log, Pos};
use crate::input::notation::{Along, spot};
use crate::input::raw::{RawDoor, RawLift, RawSite, RawStairs, RawWay};
use crate::site::{Floor, Hall, HallId, Side, Spot, Way, WayKind};
use crate::units::Metres;

/// Length of a ramp, link or way through the open.
const LENGTH: Measure = Measure::length("length_m", "length_ft", 0.0, 20_000.0);
/// Height of a step.
const RISE: Measure = Measure::width("rise_m", "rise_in", 0.05, 0.5);
/// Depth of a step.
const TREAD: Measure = Measure::width("tread_m", "tread_in", 0.05, 2.0);
/// A step if nothing is said: 17 by 28 cm (assumption; near the common rule of two rises and a tread making 63 cm).
const USUAL_STEP: (f64, f64) = (0.17, 0.28);
/// Expected wait for a lift: 25 s is graded good for offices (traffic design practice; here an assumption).
const USUAL_WAIT: f64 = 25.0;
/// Seconds per floor of a lift (assumption).
const USUAL_PER_FLOOR: f64 = 6.0;
/// Seconds for a lift's doors, stepping in and out (assumption).
const USUAL_BOARDING: f64 = 8.0;
/// Most steps of one flight.
const MOST_STEPS: u32 = 2_000;
/// How far a landing may lie beyond the end of its hall, in metres: rounding.
const ROUNDING: f64 = 0.05;

/// What is needed to read a way.
struct Context<'a> {
    floors: &'a [Floor],
    halls: &'a [Hall],
    names: &'a Names,
    log: &'a Log,
}

/// All ways, in the order of the format's own lists.
pub(super) fn ways(
    raw: &RawSite,
    floors: &[Floor],
    halls: &[Hall],
    names: &Names,
    log: &Log,
) -> Vec<Way> {
    let context = Context {
        floors,
        halls,
        names,
        log,
    };
    let mut ids = Index::new("way", "");
    let mut ways = Vec::new();
    for way in &raw.stairs {
        ids.declare(&way.id, log);
        ways.push(stairs(way, &context));
    }
    for way in &raw.lifts {
        ids.declare(&way.id, log);
        ways.push(lift(way, &context));
    }
    let ramp: fn(Metres) -> WayKind = |length| WayKind::Ramp { length };
    let link: fn(Metres) -> WayKind = |length| WayKind::Link { length };
    let outdoor: fn(Metres) -> WayKind = |length| WayKind::Outdoor { length };
    for (list, kind) in [
        (&raw.ramps, ramp),
        (&raw.links, link),
        (&raw.outdoor, outdoor),
    ] {
        for way in list {
            ids.declare(&way.id, log);
            ways.push(level(way, kind, &context));
        }
    }
    ways
}

fn stairs(raw: &RawStairs, context: &Context<'_>) -> Way {
    let log = context.log;
    let landings = landings(&raw.id, &raw.landings, context);
    let rise = RISE
        .read(log, raw.rise_m.as_ref(), raw.rise_in.as_ref())
        .unwrap_or(USUAL_STEP.0);
    let tread = TREAD
        .read(log, raw.tread_m.as_ref(), raw.tread_in.as_ref())
        .unwrap_or(USUAL_STEP.1);
    let steps = steps(raw, &landings, rise, context);
    let kind = WayKind::Stairs {
        steps,
        rise: Metres(rise),
        tread: Metres(tread),
    };
    way(&raw.id, kind, &landings, raw.door.as_ref(), context)
}

/// Steps of each flight: as given, one number for all, or from the heights of the floors.
fn steps(raw: &RawStairs, landings: &[Option<Spot>], rise: f64, context: &Context<'_>) -> Vec<u32> {
    let log = context.log;
    let flights = landings.len().saturating_sub(1);
    let given: Vec<u32> = raw
        .steps
        .iter()
        .map(|s| count(log, "steps", Some(s), 1..=MOST_STEPS, 1))
        .collect();
    match given.as_slice() {
        [] => landings
            .windows(2)
            .map(|pair| steps_between(raw, pair, rise, context))
            .collect(),
        [all] => vec![*all; flights],
        each if each.len() == flights || flights == 0 => each.to_vec(),
        each => {
            let message = format!(
                "stairs `{}` have {flights} flights, but {} numbers of steps",
                raw.id.value,
                each.len()
            );
            let pos = raw.steps.first().map_or(raw.id.pos, |s| s.pos);
            log.error(
                "E405",
                pos,
                message,
                "give one number for all flights, or one for each pair of neighbouring landings",
            );
            vec![1; flights]
        }
    }
}

fn steps_between(raw: &RawStairs, pair: &[Option<Spot>], rise: f64, context: &Context<'_>) -> u32 {
    let elevation = |spot: Spot| {
        let floor = context
            .halls
            .get(spot.hall.index())
            .map(|h| h.floor.index());
        floor
            .and_then(|f| context.floors.get(f))
            .map(|f| f.elevation.0)
    };
    let height = |spot: Option<Spot>| spot.and_then(elevation);
    // A landing that is nowhere was told already.
    let Some((lower, upper)) = height(pair[0]).zip(height(pair[1])) else {
        return 1;
    };
    let height = (upper - lower).abs();
    if height == 0.0 {
        let message = format!(
            "stairs `{}` join two halls of one floor without saying how many steps",
            raw.id.value
        );
        context
            .log
            .error("E405", raw.id.pos, message, "give `steps`");
    }
    ((height / rise).round() as u32).clamp(1, MOST_STEPS)
}

fn lift(raw: &RawLift, context: &Context<'_>) -> Way {
    let landings = landings(&raw.id, &raw.landings, context);
    let kind = WayKind::Lift {
        wait: seconds(context.log, "wait_s", raw.wait_s.as_ref(), USUAL_WAIT),
        per_floor: seconds(
            context.log,
            "per_floor_s",
            raw.per_floor_s.as_ref(),
            USUAL_PER_FLOOR,
        ),
        boarding: seconds(
            context.log,
            "boarding_s",
            raw.boarding_s.as_ref(),
            USUAL_BOARDING,
        ),
    };
    way(&raw.id, kind, &landings, raw.door.as_ref(), context)
}

fn level(raw: &RawWay, kind: fn(Metres) -> WayKind, context: &Context<'_>) -> Way {
    let landings = landings(&raw.id, &raw.landings, context);
    let length = LENGTH.required(
        context.log,
        raw.length_m.as_ref(),
        raw.length_ft.as_ref(),
        raw.id.pos,
    );
    way(
        &raw.id,
        kind(Metres(length)),
        &landings,
        raw.door.as_ref(),
        context,
    )
}

fn way(
    id: &At<String>,
    kind: WayKind,
    landings: &[Option<Spot>],
    raw_door: Option<&RawDoor>,
    context: &Context<'_>,
) -> Way {
    let door = raw_door.map(|d| door(d, context.names, context.log));
    let landings = landings.iter().flatten().copied().collect();
    Way {
        id: id.value.trim().to_string(),
        kind,
        landings,
        door,
    }
}

/// Where a way is entered and left, `None` where that is not known; there must be two spots at least.
fn landings(id: &At<String>, raw: &[At<String>], context: &Context<'_>) -> Vec<Option<Spot>> {
    if raw.len() < 2 && id.sound {
        let message = format!(
            "`{}` has {} landing{}",
            id.value,
            raw.len(),
            if raw.len() == 1 { "" } else { "s" }
        );
        context.log.error(
            "E406",
            raw.first().map_or(id.pos, |l| l.pos),
            message,
            "give two `landings` or more",
        );
    }
    raw.iter()
        .map(|landing| landing_spot(landing, context))
        .collect()
}

fn landing_spot(raw: &At<String>, context: &Context<'_>) -> Option<Spot> {
    let log = context.log;
    let Some(written) = spot(&raw.value) else {
        if raw.sound {
            let message = format!("`{}` is not a spot on a hall", raw.value);
            log.error(
                "E212",
                raw.pos,
                message,
                "write a spot like `G-East@start`, `G-East@end`, `G-East@12` or `G-East@40ft`",
            );
        }
        return None;
    };
    let Some(number) = context.names.halls.number(written.hall) else {
        let message = format!("there is no hall `{}`", written.hall);
        log.error(
            "E303",
            raw.pos,
            message,
            log.near(written.hall, context.names.halls.ids()),
        );
        return None;
    };
    let length = context.halls[number].length.0;
    let along = match written.along {
        Along::Start => 0.0,
        Along::End => length,
        Along::Metres(metres) => metres,
    };
    beyond(along, length, &raw.value, raw.pos, log);
    Some(Spot {
        hall: HallId::from(number),
        along: Metres(along.min(length)),
        side: Side::Ahead,
    })
}

fn beyond(along: f64, length: f64, spot: &str, pos: Pos, log: &Log) {
    if along > length + ROUNDING {
        let message = format!("`{spot}` is beyond the end of its hall");
        log.error(
            "E403",
            pos,
            message,
            format!("the hall is {length:.2} m long"),
        );
    }
}
