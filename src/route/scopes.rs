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

/// What the tasks of a room take, before they are put into stops.
#[derive(Clone, Copy, Default)]
struct Tally {
    /// Open steps, spraying and dry work; and of that, open steps and spraying.
    before: Secs,
    sprayed: Secs,
    /// Wiping and mopping; and of that, mopping.
    after: Secs,
    mopping: Secs,
    /// The longest dwell and the longest drying.
    dwell: Secs,
    drying: Secs,
    mops: bool,
    /// Waste of the first kind of work and of the second.
    litres: [f64; 2],
}

impl Tally {
    fn of(question: &Question, profile: &Profile, tasks: &[DueTask]) -> Tally {
        let site = question.site;
        let time = |minutes: f64| secs(Seconds::of_work(minutes, profile.pace));
        let mut tally = Tally::default();
        for task in tasks {
            let length = time(task.minutes(site));
            let method = task.task(site).method;
            let second = matches!(method, Method::Wipe | Method::Mop { .. });
            tally.litres[usize::from(second)] += task.waste_litres(site);
            *(if second {
                &mut tally.after
            } else {
                &mut tally.before
            }) += length;
            match method {
                Method::Open => tally.sprayed += length,
                Method::Spray { dwell } => {
                    tally.sprayed += length;
                    tally.after += time(task.wipe_minutes(site));
                    tally.dwell = tally.dwell.max(secs(dwell));
                }
                Method::Mop { drying } => {
                    tally.mopping += length;
                    tally.drying = tally.drying.max(secs(drying));
                    tally.mops = true;
                }
                Method::Dry | Method::Wipe => {}
            }
        }
        tally
    }
}

/// The parts without trips inside them: one stop, or wet and wipe; then reopening, where the room was closed.
fn stops(question: &Question, profile: &Profile, tasks: &[DueTask]) -> Vec<Part> {
    let site = question.site;
    let room = &site.rooms[tasks[0].room.index()];
    let tally = Tally::of(question, profile, tasks);
    let waste = tally.litres.map(|l| (l * 1000.0 - 1e-6).ceil() as i32);
    let mop = ((room.area.0 * 1000.0 - 1e-6).ceil() as i32).max(1);
    let wet = Part {
        mop: if tally.mops { mop } else { 0 },
        wet_before: tally.mopping,
        wet_after: tally.drying,
        ..Part::default()
    };
    let mut parts = if tally.dwell > 0 {
        let first = Part {
            length: tally.before,
            waste: waste[0],
            ..Part::default()
        };
        let second = Part {
            length: tally.after,
            lag: (tally.sprayed + tally.dwell - tally.before).max(0),
            waste: waste[1],
            ..wet
        };
        vec![first, second]
    } else {
        vec![Part {
            length: tally.before + tally.after,
            waste: waste[0] + waste[1],
            ..wet
        }]
    };
    if let Some(reopen) = site.kinds[room.kind.index()].reopen {
        parts.push(Part {
            length: secs(Seconds::of_work(reopen.as_minutes(), profile.pace)),
            lag: tally.drying,
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
