//! Runs of plain instances ([`Instance::is_plain`]): timed in one pass forward and one back, and one more job's place
//! in them found without timing them again.
//!
//! With when the worker is free before each stop and when each may begin at the latest, it takes a constant time to tell whether
//! a job fits in a gap and how much longer the run is then (Savelsbergh 1992, doi:10.1287/ijoc.4.2.146).

use super::instance::{Instance, Part, Secs};
use super::order::Visit;
use super::prices::OrderCosts;
use super::run::{Run, refill};
use super::timing::{Ending, in_windows, last_start};
use rand::{Rng, RngExt};

/// A gap of a run into which a job fits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Gap {
    /// Before which stop.
    pub(super) at: usize,
    /// How much more is walked.
    pub(super) detour: Secs,
}

/// The one stop of a job; `None` if the worker may not do it.
#[inline]
fn stop_of<'a>(instance: &'a Instance, worker: usize, job: u32, scope: &[u8]) -> Option<&'a Part> {
    let how = instance.scope(worker, job, scope[job as usize]);
    let may = instance.jobs[job as usize].eligible[worker] && how.possible;
    how.parts.first().filter(|_| may)
}

/// Times an order into `run`. False, and `run` is of no use, if it cannot be kept.
///
/// # Complexity
/// Linear in the stops.
pub(super) fn time(
    instance: &Instance,
    worker: usize,
    visits: &[Visit],
    scope: &[u8],
    run: &mut Run,
) -> bool {
    let who = &instance.workers[worker];
    let table = &instance.walks[who.on_foot];
    let (mut time, mut here) = (who.from + who.set_up, who.start);
    refill(&mut run.visits, visits.iter().copied());
    refill(&mut run.path, [here]);
    refill(&mut run.free, [time]);
    run.legs.clear();
    run.waste = 0;
    let mut costs = OrderCosts::default();
    let mut ending = Ending {
        load: who.set_up + who.tear_down,
        ..Ending::default()
    };
    let mut floors = 0u128;
    for visit in visits {
        let job = &instance.jobs[visit.job as usize];
        let Some(part) = stop_of(instance, worker, visit.job, scope) else {
            return false;
        };
        let leg = table.walk(here, job.place);
        let Some(start) = in_windows(&job.windows, time + leg, part.length) else {
            return false;
        };
        ending.idle += start - time - leg;
        ending.load += leg + part.length;
        (time, here) = (start + part.length, job.place);
        costs.work += part.length;
        costs.dislike += job.dislike[worker];
        floors |= 1 << (job.floor & 127);
        run.waste += i64::from(part.waste);
        run.legs.push(leg);
        run.path.push(here);
        run.free.push(time);
    }
    let home = table.walk(here, who.start);
    run.legs.push(home);
    run.path.push(who.start);
    ending.load += home;
    ending.end = time + home + who.tear_down;
    costs.floors = floors.count_ones();
    (run.costs, run.ending) = (costs, ending);
    let by = who.latest.min(who.latest_unless_last);
    if ending.end > by || run.waste > i64::from(who.cart) {
        return false;
    }
    look_back(instance, worker, scope, by - who.tear_down, run);
    true
}

/// When each stop may begin at the latest, from the end backwards.
fn look_back(instance: &Instance, worker: usize, scope: &[u8], mut by: Secs, run: &mut Run) {
    run.latest.clear();
    run.latest.resize(run.visits.len() + 1, by);
    for (index, visit) in run.visits.iter().enumerate().rev() {
        let length = stop_of(instance, worker, visit.job, scope).map_or(0, |part| part.length);
        let windows = &instance.jobs[visit.job as usize].windows;
        by = last_start(windows, by - run.legs[index + 1] - length, length);
        run.latest[index] = by;
    }
}

/// The gap of a run into which a job fits with the least detour below `below`; one in so many, `blink`, is overlooked.
///
/// # Complexity
/// Linear in the stops of the run, a few operations each.
pub(super) fn best_gap<R: Rng>(
    instance: &Instance,
    worker: usize,
    run: &Run,
    (job, scope): (u32, &[u8]),
    below: Secs,
    blink: f64,
    rng: &mut R,
) -> Option<Gap> {
    let who = &instance.workers[worker];
    let part = stop_of(instance, worker, job, scope)?;
    if run.waste + i64::from(part.waste) > i64::from(who.cart) {
        return None;
    }
    let table = &instance.walks[who.on_foot];
    let job = &instance.jobs[job as usize];
    let (to, away) = (table.towards(job.place), table.away_from(job.place));
    let mut best = None;
    let mut least = below;
    for (at, ((ends, leg), (free, latest))) in (run.path.windows(2).zip(&run.legs))
        .zip(run.free.iter().zip(&run.latest))
        .enumerate()
    {
        let (there, onward) = (to[ends[0] as usize], away[ends[1] as usize]);
        let detour = there + onward - leg;
        if detour >= least {
            continue;
        }
        let Some(start) = in_windows(&job.windows, free + there, part.length) else {
            // Walks being shortest, no later gap is reached in time either.
            break;
        };
        if start + part.length + onward <= *latest && !rng.random_bool(blink) {
            (best, least) = (Some(Gap { at, detour }), detour);
        }
    }
    best
}
