//! The least number of people that no proof rules out, and what no number of people gets done.

use super::MOST;
use crate::balance::{bound, least_people};
use crate::plan::Ground;
use crate::route::{Alone, Instance, Job, Stop};
use crate::site::PlaceId;
use crate::walk::Times;
use std::time::Duration;

/// So much of a budget of time may pass, for each kind of work, before fewer people are no longer ruled out.
const PROOF: f64 = 0.2;

/// How many tasks of each job can be done at all; and how many tasks and duties are left undone however many people there are: nobody may
/// do them, or they fit into no shift even alone.
pub(super) fn possible(ground: &Ground, instance: &Instance) -> (Vec<u8>, usize) {
    let mut alone = Alone::new(instance);
    let most = |(index, job): (usize, &Job)| {
        let fits = |scope: &u8| alone.fits(index as u32, *scope);
        (1..=job.full()).rev().find(fits).unwrap_or(0)
    };
    let scope: Vec<u8> = instance.jobs.iter().enumerate().map(most).collect();
    let jobs = instance.jobs.iter().zip(&scope);
    let left: usize = jobs.map(|(job, most)| usize::from(job.full() - most)).sum();
    let nobody = ground.jobs.nobody.len() + ground.jobs.nobody_duty.len();
    (scope, nobody + left)
}

/// The least number of people that is not ruled out: with fewer, some run would have to be longer than anybody's time, or the rooms' hours
/// are too short for so few hands. Where time is short, not all that could be are ruled out.
pub(super) fn at_least(mut instance: Instance, scope: &[u8], ideal: &Times, stop: Stop) -> usize {
    let Some(worker) = instance.workers.first() else {
        return 1;
    };
    // Reserve may be used where nothing else helps; breaks may not.
    let rest: i32 = worker.breaks.iter().map(|b| b.length).sum();
    let most = f64::from(worker.latest - worker.from - rest);
    let available = f64::from(worker.available);
    let by_windows = least_people(&instance, scope);
    let way = |from, to| ideal.get(PlaceId(from), PlaceId(to)).map_or(0, |t| t.0);
    let mut possible = |people: usize| {
        instance.be_alike(people);
        let fits = |stop: Stop| bound(&instance, scope, &way, stop).share * available <= most;
        // Far too few are ruled out without any look at walking.
        fits(stop.leaving(Duration::MAX)) && fits(stop)
    };
    let begun = stop.used();
    let enough = (begun + stop.left()).mul_f64(PROOF);
    let in_time = || stop.used().saturating_sub(begun) <= enough;
    let (mut ruled_out, mut open) = (0, 1);
    while in_time() && open < MOST && !possible(open) {
        (ruled_out, open) = (open, open * 2);
    }
    // More people never need more: the least one is found by halving.
    while in_time() && open - ruled_out > 1 {
        let middle = usize::midpoint(ruled_out, open);
        if possible(middle) {
            open = middle;
        } else {
            ruled_out = middle;
        }
    }
    (ruled_out + 1).max(by_windows)
}
