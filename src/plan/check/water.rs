//! Rule 8: a bucket is filled before it is used, mops no more than its area and number of rooms, and its water is used either in
//! restrooms or elsewhere. A room larger than a bucket takes a fresh one and is mopped with trips for more.

use super::findings::{Findings, exact};
use super::rule::Rule;
use crate::plan::What;
use crate::plan::reading::{ReadRun, Reading, TOLERANCE, loads};
use crate::site::Cart;

/// What is left in the bucket.
struct Bucket {
    area: f64,
    rooms: u32,
    /// Used since it was filled: in a restroom or not.
    used_in_restroom: Option<bool>,
}

/// The bucket along one run.
pub(super) fn of_run(_: &Reading, run: &ReadRun, found: &mut Findings) {
    let mut bucket = None;
    for at in 0..run.stops.len() {
        match run.stops[at].what {
            What::Fill => bucket = filled(run, at, found),
            _ => mop(run, at, &mut bucket, found),
        }
    }
}

fn filled(run: &ReadRun, at: usize, found: &mut Findings) -> Option<Bucket> {
    let (stop, fill) = (&run.stops[at], run.site.policy.fill);
    if !run.site.fill_points().any(|point| point == stop.place) {
        found.at_stop(Rule::Water, run, at, "there is no fill point here");
    }
    let planned = stop.span.to - stop.span.from;
    if planned != fill {
        let problem = format!("takes {}, planned are {}", exact(fill), exact(planned));
        found.at_stop(Rule::Water, run, at, &problem);
    }
    let Some(cart) = run.cart else {
        found.at_stop(
            Rule::Water,
            run,
            at,
            "this run goes on foot, without a bucket",
        );
        return None;
    };
    Some(Bucket {
        area: cart.bucket.0,
        rooms: cart.bucket_rooms,
        used_in_restroom: None,
    })
}

fn mop(run: &ReadRun, at: usize, bucket: &mut Option<Bucket>, found: &mut Findings) {
    let Some(area) = run.mopped(&run.stops[at]) else {
        return;
    };
    let problem = match (run.cart, &bucket) {
        (None, _) => Some("is mopped without a cart, so without a bucket".to_string()),
        (Some(_), None) => Some("is mopped before the bucket was filled".to_string()),
        (Some(cart), Some(bucket)) => misuse(run, at, area, cart, bucket),
    };
    if let Some(problem) = problem {
        found.at_stop(Rule::Water, run, at, &problem);
    }
    if let (Some(cart), Some(bucket)) = (run.cart, bucket) {
        let trips = loads(area, cart.bucket.0) - 1;
        if trips > 0 {
            bucket.area = cart.bucket.0 * (trips as f64 + 1.0);
            bucket.rooms = cart.bucket_rooms;
        }
        bucket.area -= area;
        bucket.rooms = bucket.rooms.saturating_sub(1);
        bucket.used_in_restroom = Some(is_restroom(run, at));
    }
}

fn misuse(run: &ReadRun, at: usize, area: f64, cart: Cart, bucket: &Bucket) -> Option<String> {
    if loads(area, cart.bucket.0) > 1 {
        if run.fill_trips(&run.stops[at]).is_none() {
            return Some("no fill point can be reached for the trips this needs".to_string());
        }
        let used = bucket.used_in_restroom.is_some();
        return used.then(|| "a room larger than a bucket needs a fresh one first".to_string());
    }
    let restroom = is_restroom(run, at);
    match bucket.used_in_restroom {
        Some(true) if !restroom => return Some("is mopped with water from a restroom".to_string()),
        Some(false) if restroom => {
            return Some("a restroom needs water used nowhere else".to_string());
        }
        _ => {}
    }
    if bucket.rooms == 0 {
        let most = cart.bucket_rooms;
        return Some(format!(
            "one fill serves {most} rooms at most, and this is one more"
        ));
    }
    let short = area > bucket.area + TOLERANCE;
    short.then(|| {
        format!(
            "{area:.1} m² to mop, but the bucket is good for {:.1} m² more",
            bucket.area.max(0.0)
        )
    })
}

fn is_restroom(run: &ReadRun, at: usize) -> bool {
    let room = run.stops[at]
        .what
        .room()
        .map(|room| &run.site.rooms[room.index()]);
    room.is_some_and(|room| run.site.kinds[room.kind.index()].restroom)
}
