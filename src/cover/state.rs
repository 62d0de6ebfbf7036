//! In what state a worker goes on after what is frozen: where, since when, with what on the cart and in the bucket.
//!
//! Amounts are rounded against the worker, so that no rule is broken by rounding.

use super::frozen::Past;
use crate::plan::{PlannedStop, What};
use crate::route::{Begun, Open, Secs, Visit};
use crate::site::{Cart, Method, Moves, Site, WorkerId};
use crate::units::Clock;
use crate::work::DueTask;

/// The state after a worker's past. `jobs` gives the job of each open room, in the past's order.
pub(super) fn state_after(site: &Site, worker: WorkerId, past: &Past, jobs: &[u32]) -> Begun {
    let cart = match site.crew[worker.index()].moves {
        Moves::Cart(cart) => Some(cart),
        Moves::Foot => None,
    };
    let mut begun = Begun {
        place: past.stops.last().map_or(0, |s| s.place.0),
        with_cart: past.with_cart,
        ..Begun::default()
    };
    for stop in &past.stops {
        follow(site, cart, stop, &mut begun);
    }
    begun.open = past
        .open
        .iter()
        .zip(jobs)
        .map(|(room, job)| open(past, room.room, *job))
        .collect();
    begun
}

/// The visits that finish the open rooms, in the order in which they were planned.
pub(super) fn to_finish(past: &Past, jobs: &[u32], to_come: &[PlannedStop]) -> Vec<Visit> {
    let mut next: Vec<u8> = past.open.iter().map(|o| o.parts).collect();
    let mut visits = Vec::new();
    for room in to_come.iter().filter_map(|s| s.what.room()) {
        if let Some(at) = past.open.iter().position(|o| o.room == room) {
            visits.push(Visit {
                job: jobs[at],
                part: next[at],
            });
            next[at] += 1;
        }
    }
    visits
}

/// When the worker is free to do something else.
pub(super) fn free_from(past: &Past, now: Clock) -> Clock {
    past.stops.last().map_or(now, |s| s.span.to.max(now))
}

fn open(past: &Past, room: crate::site::RoomId, job: u32) -> Open {
    let mut stops = past.stops.iter().filter(|s| s.what.room() == Some(room));
    let start = stops.next().map_or(0, |s| s.span.from.0 as Secs);
    let last = past
        .stops
        .iter()
        .rev()
        .find(|s| s.what.room() == Some(room));
    Open {
        job,
        start,
        end: last.map_or(start, |s| s.span.to.0 as Secs),
    }
}

fn follow(site: &Site, cart: Option<Cart>, stop: &PlannedStop, begun: &mut Begun) {
    match &stop.what {
        What::Dump => begun.waste = 0,
        What::Fill => {
            let Some(cart) = cart else { return };
            begun.water = (
                (cart.bucket.0 * 1000.0).floor() as i32,
                cart.bucket_rooms.min(250) as u8,
            );
            begun.used = None;
        }
        What::Fetch(machine) => {
            begun.machines |= 1 << machine.0;
            begun.fetched |= 1 << machine.0;
        }
        What::Return(machine) => begun.machines &= !(1 << machine.0),
        what => {
            let Some(cart) = cart else { return };
            begun.waste = waste_after(site, cart, what, begun.waste);
            mop(site, cart, what, begun);
        }
    }
}

fn waste_after(site: &Site, cart: Cart, what: &What, before: i32) -> i32 {
    let second = matches!(what, What::WipeAndMop(..));
    let sprayed = |t: &DueTask| matches!(t.task(site).method, Method::Spray { .. });
    let here = what.tasks().iter().filter(|t| !(second && sprayed(t)));
    let litres: f64 = here.map(|t| t.waste_litres(site)).sum();
    let trips = (litres / cart.waste.0 - 1e-9).ceil() - 1.0;
    if trips >= 1.0 {
        return ((litres - trips * cart.waste.0) * 1000.0).ceil() as i32;
    }
    before + (litres * 1000.0).ceil() as i32
}

fn mop(site: &Site, cart: Cart, what: &What, begun: &mut Begun) {
    let (Some(room), true) = (what.room(), what.tasks().iter().any(|t| t.is_mopping(site))) else {
        return;
    };
    let room = &site.rooms[room.index()];
    let area = room.area.0;
    let buckets = (area / cart.bucket.0 - 1e-9).ceil().max(1.0);
    let left = if buckets > 1.0 {
        ((buckets * cart.bucket.0 - area) * 1000.0).floor() as i32
    } else {
        begun.water.0 - ((area * 1000.0).ceil() as i32).max(1)
    };
    begun.water = (left.max(0), begun.water.1.saturating_sub(1));
    begun.used = Some(site.kinds[room.kind.index()].restroom);
}
