//! Which jobs are taken out in one step: strings of stops that lie near each other in neighbouring runs.
//!
//! Slack induction by string removals: Christiaens and Vanden Berghe, *Slack Induction by String Removals for Vehicle
//! Routing Problems*, Transportation Science 54(2), 2020, doi:10.1287/trsc.2019.0914. Their constants are kept for plain runs: about
//! ten jobs, strings of at most ten. Where putting back takes exact timing, six pay more for the same time.

use super::before::Known;
use super::near::Near;
use super::recreate::wanting;
use super::solution::Solution;
use itertools::Itertools;
use rand::seq::SliceRandom;
use rand::{Rng, RngExt};

/// How many jobs are taken out on average, and how many next to each other at most.
const PLAIN: f64 = 10.0;
const TIMED: f64 = 6.0;

/// One ruin in so many starts in the run with the highest share.
const FOCUS: f64 = 0.3;

/// Where people know a plan already, at most so many jobs are taken out: what fell free finds its place, all else stays where it is.
const FEW: usize = 6;

/// Jobs to take out.
pub(super) fn choose<R: Rng>(solution: &Solution, near: &Near, rng: &mut R) -> Vec<u32> {
    if let Some(known) = &solution.instance.before.known {
        return choose_calmly(solution, known, near, rng);
    }
    let working = solution
        .runs
        .iter()
        .filter(|r| !r.visits.is_empty())
        .count()
        .max(1);
    let stops: usize = solution.runs.iter().map(|r| r.visits.len()).sum();
    let jobs = if solution.plain { PLAIN } else { TIMED };
    let longest = jobs.min(stops as f64 / working as f64).max(1.0);
    let strings = (4.0 * jobs / (1.0 + longest) - 1.0).max(1.0);
    let strings = rng.random_range(1.0..=strings + 1.0).floor() as usize;
    let mut ruined: Vec<usize> = Vec::new();
    let mut out: Vec<u32> = Vec::new();
    let seed = seed(solution, rng);
    for job in near.of(seed) {
        if ruined.len() >= strings {
            break;
        }
        let Some(run) = solution.run_of[*job as usize].map(usize::from) else {
            continue;
        };
        if out.contains(job) || ruined.contains(&run) {
            continue;
        }
        let most = longest.min(solution.runs[run].visits.len() as f64);
        let length = rng.random_range(1.0..=most + 1.0).floor() as usize;
        take_string(solution, run, *job, length, rng, &mut out);
        ruined.push(run);
    }
    out
}

/// A few jobs around one that is not where it was, or that the busiest worker does.
fn choose_calmly<R: Rng>(solution: &Solution, known: &Known, near: &Near, rng: &mut R) -> Vec<u32> {
    let elsewhere = |job: &u32| {
        let was = known.jobs[*job as usize].as_ref().map(|w| w.worker);
        let now = solution.run_of[*job as usize];
        now.is_some() && now != was
    };
    let loose = (0..solution.scope.len() as u32)
        .filter(elsewhere)
        .collect_vec();
    let first = if loose.is_empty() || rng.random_bool(0.5) {
        seed(solution, rng)
    } else {
        loose[rng.random_range(0..loose.len())]
    };
    let first = undone(solution, rng).unwrap_or(first);
    let most = rng.random_range(1..=FEW);
    let mut out = guests(solution, known, first, rng);
    for job in near.of(first) {
        let taken = *job == first || rng.random_bool(0.4);
        let stays = solution.instance.before.is_open(*job);
        if taken && !stays && !out.contains(job) && solution.run_of[*job as usize].is_some() {
            out.push(*job);
        }
        if out.len() >= most {
            break;
        }
    }
    out
}

/// For a job that is not where it was, now and then: one or two jobs that its worker has and did not have, so that it may go home.
fn guests<R: Rng>(solution: &Solution, known: &Known, job: u32, rng: &mut R) -> Vec<u32> {
    let was = |job: u32| known.jobs[job as usize].as_ref().map(|w| w.worker);
    let Some(home) = was(job).filter(|home| solution.run_of[job as usize] != Some(*home)) else {
        return Vec::new();
    };
    let visits = &solution.runs[usize::from(home)].visits;
    let theirs = visits
        .iter()
        .filter(|v| v.part == 0 && was(v.job) != Some(home));
    let mut guests = theirs
        .map(|v| v.job)
        .filter(|j| !solution.instance.before.is_open(*j))
        .collect_vec();
    guests.shuffle(rng);
    guests.truncate(rng.random_range(0..=2));
    guests
}

/// Every other time a job of which something is undone, if there is one: room is made where it is needed.
fn undone<R: Rng>(solution: &Solution, rng: &mut R) -> Option<u32> {
    if solution.is_complete() || rng.random_bool(0.5) {
        return None;
    }
    let undone = wanting(solution);
    Some(undone[rng.random_range(0..undone.len())])
}

fn seed<R: Rng>(solution: &Solution, rng: &mut R) -> u32 {
    if rng.random_bool(FOCUS) {
        let share = |w: usize| {
            let (load, available) = (
                solution.runs[w].ending.load,
                solution.instance.workers[w].available,
            );
            i64::from(load) * 1_000_000 / i64::from(available)
        };
        let highest = (0..solution.runs.len())
            .max_by_key(|w| share(*w))
            .filter(|w| share(*w) > 0 && !solution.runs[*w].visits.is_empty());
        if let Some(visits) = highest.map(|w| &solution.runs[w].visits) {
            return visits[rng.random_range(0..visits.len())].job;
        }
    }
    rng.random_range(0..solution.scope.len() as u32)
}

/// Takes `length` jobs next to each other, `job` among them; half of the time some in the middle stay.
fn take_string<R: Rng>(
    solution: &Solution,
    run: usize,
    job: u32,
    length: usize,
    rng: &mut R,
    out: &mut Vec<u32>,
) {
    let jobs = solution.runs[run]
        .visits
        .iter()
        .filter(|v| v.part == 0)
        .map(|v| v.job)
        .collect_vec();
    let Some(at) = jobs.iter().position(|j| *j == job) else {
        return;
    };
    let length = length.clamp(1, jobs.len());
    let mut kept = 0;
    if rng.random_bool(0.5) {
        while length + kept < jobs.len() && rng.random_bool(0.5) {
            kept += 1;
        }
    }
    let span = length + kept;
    let first = rng.random_range(at.saturating_sub(span - 1)..=at.min(jobs.len() - span));
    let string = &jobs[first..first + span];
    let skip = if kept > 0 {
        rng.random_range(0..=length)
    } else {
        0
    };
    out.extend(string[..skip].iter().chain(&string[skip + kept..]));
}
