//! The stops of a job at every scope: how many tasks are done decides how many parts there are and how long each takes.

use super::instance::{NO_WAY, Part, Scope, Secs};
use super::pose::{Profile, Question, secs};
use crate::site::{Method, PlaceId};
use crate::units::Seconds;
use crate::work::{DueTask, Job, Target};
use itertools::Itertools;

/// The job of one profile at scope 0 (nothing), 1 (its most important task), ... to everything.
pub(super) fn scopes_of(question: &Question, profile: &Profile, job: &Job) -> Vec<Scope> {
    match &job.target {
        Target::Duty(index) => {
            let length = secs(Seconds::of_work(
                question.site.duties[*index].minutes,
                profile.pace,
            ));
            let parts = vec![Part {
                length,
                ..Part::default()
            }];
            vec![
                Scope::default(),
                Scope {
                    parts,
                    closed: length,
                    possible: true,
                    ..Scope::default()
                },
            ]
        }
        Target::Room(tasks) => (0..=tasks.len())
            .map(|n| room_scope(question, profile, &tasks[..n]))
            .collect(),
    }
}

fn room_scope(question: &Question, profile: &Profile, tasks: &[DueTask]) -> Scope {
    let site = question.site;
    let Some(first) = tasks.first() else {
        return Scope::default();
    };
    let mut parts = stops(question, profile, tasks);
    let cart = tasks.iter().any(|t| t.needs_cart(site));
    let machines = tasks
        .iter()
        .filter_map(|t| t.task(site).machine)
        .fold(0u32, |all, m| all | 1 << m.0);
    let place = site.place_of_room(first.room);
    let possible = (!cart || profile.cart.is_some())
        && parts
            .iter_mut()
            .all(|p| add_trips(question, profile, place, p));
    let closed = parts.iter().map(|p| p.lag + p.length).sum();
    Scope {
        parts,
        cart,
        machines,
        closed,
        possible,
    }
}

/// The parts without trips inside them: one stop, or wet and wipe; then reopening, where the room was closed.
fn stops(question: &Question, profile: &Profile, tasks: &[DueTask]) -> Vec<Part> {
    let site = question.site;
    let room = &site.rooms[tasks[0].room.index()];
    let time = |minutes: f64| secs(Seconds::of_work(minutes, profile.pace));
    let (mut before, mut after, mut sprayed, mut mopping) = (0, 0, 0, 0);
    let (mut dwell, mut drying, mut mops) = (0, 0, false);
    let mut litres = [0.0; 2];
    for task in tasks {
        let length = time(task.minutes(site));
        let waste = task.waste_litres(site);
        match task.task(site).method {
            Method::Open => {
                (before, sprayed, litres[0]) =
                    (before + length, sprayed + length, litres[0] + waste);
            }
            Method::Dry => (before, litres[0]) = (before + length, litres[0] + waste),
            Method::Spray { dwell: needed } => {
                (before, sprayed, litres[0]) =
                    (before + length, sprayed + length, litres[0] + waste);
                after += time(task.wipe_minutes(site));
                dwell = dwell.max(secs(needed));
            }
            Method::Wipe => (after, litres[1]) = (after + length, litres[1] + waste),
            Method::Mop { drying: needed } => {
                (after, mopping, litres[1]) = (after + length, mopping + length, litres[1] + waste);
                (drying, mops) = (drying.max(secs(needed)), true);
            }
        }
    }
    let waste = litres.map(|l| (l * 1000.0 - 1e-6).ceil() as i32);
    let mop = if mops {
        ((room.area.0 * 1000.0 - 1e-6).ceil() as i32).max(1)
    } else {
        0
    };
    let wet = |part: Part| Part {
        mop,
        wet_before: mopping,
        wet_after: drying,
        ..part
    };
    let mut parts = if dwell > 0 {
        let lag = (sprayed + dwell - before).max(0);
        let first = Part {
            length: before,
            waste: waste[0],
            ..Part::default()
        };
        vec![
            first,
            wet(Part {
                length: after,
                lag,
                waste: waste[1],
                ..Part::default()
            }),
        ]
    } else {
        vec![wet(Part {
            length: before + after,
            waste: waste[0] + waste[1],
            ..Part::default()
        })]
    };
    if let Some(reopen) = site.kinds[room.kind.index()].reopen {
        parts.push(Part {
            length: time(reopen.as_minutes()),
            lag: drying,
            ..Part::default()
        });
    }
    parts
}

/// Adds the trips inside a stop whose floor needs more than one bucket or whose waste needs more than one cart. False if that cannot be
/// done.
fn add_trips(question: &Question, profile: &Profile, place: PlaceId, part: &mut Part) -> bool {
    let Some(cart) = profile.cart else {
        return part.mop == 0 && part.waste == 0;
    };
    let site = question.site;
    if part.mop > 0 {
        let area = site
            .room_at(place)
            .map_or(0.0, |r| site.rooms[r.index()].area.0);
        let Some(round) = round_trip(question, profile, place, site.fill_points().collect_vec())
        else {
            return false;
        };
        let buckets = trips(area, cart.bucket.0) + 1;
        if buckets > 1 {
            let left = f64::from(buckets) * cart.bucket.0 - area;
            part.mop_left = Some((left * 1000.0 + 1e-6).floor() as i32);
            let extra = (buckets - 1) * (round + secs(site.policy.fill));
            (part.length, part.trips, part.wet_before) = (
                part.length + extra,
                part.trips + extra,
                part.wet_before + extra,
            );
        }
    }
    if part.waste > 0 {
        let Some(round) = round_trip(question, profile, place, site.waste_points().collect_vec())
        else {
            return false;
        };
        let litres = f64::from(part.waste) / 1000.0;
        let extra = trips(litres, cart.waste.0);
        if extra > 0 {
            part.waste_left =
                Some(((litres - f64::from(extra) * cart.waste.0) * 1000.0).ceil() as i32);
            let time = extra * (round + secs(site.policy.dump));
            (part.length, part.trips) = (part.length + time, part.trips + time);
        }
    }
    part.length < NO_WAY
}

/// Trips beyond the first load: `ceil(amount / capacity) - 1`, with a billionth forgiven.
fn trips(amount: f64, capacity: f64) -> Secs {
    ((amount / capacity - 1e-9).ceil().clamp(1.0, 1e4) as Secs) - 1
}

fn round_trip(
    question: &Question,
    profile: &Profile,
    place: PlaceId,
    points: Vec<PlaceId>,
) -> Option<Secs> {
    let times = &question.walks.tables()[profile.cart_walks];
    let round = |p: PlaceId| Some(secs(times.get(place, p)? + times.get(p, place)?));
    points.into_iter().filter_map(round).min()
}
