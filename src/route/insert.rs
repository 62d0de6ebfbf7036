//! Where a job fits best. In a plain run that follows from its summaries; in any other, every position is guessed at, and the
//! most promising are timed exactly.

use super::guess::guess_positions;
use super::instance::{Goal, NO_WAY};
use super::near::Near;
use super::order::Visit;
use super::plain::{Gap, Stop, stop_of};
use super::solution::Solution;
use rand::{Rng, RngExt};

/// How many positions that fit are timed exactly, at most and at least, of jobs of one stop and of those that come back to
/// their room, and how many are tried until one fits.
const FITTING: [usize; 2] = [2, 6];
const FITTING_AT_LEAST: [usize; 2] = [1, 3];
const TRIED: usize = 20;

/// One in so many positions is passed over, so that the search does not always take the same way (Christiaens and Vanden
/// Berghe 2020, doi:10.1287/trsc.2019.0914).
const BLINK: f64 = 0.01;

/// A place for a job in a run: before which stop each part goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Position {
    pub(super) guess: i64,
    pub(super) run: usize,
    pub(super) at: [u16; 3],
}

/// Puts a job, at its present scope, where it costs least. False if it fits nowhere.
pub(super) fn insert<R: Rng>(solution: &mut Solution, job: u32, near: &Near, rng: &mut R) -> bool {
    let mut runs = std::mem::take(&mut solution.candidates);
    near.runs_worth_trying(solution, job, rng, &mut runs);
    let fits = insert_into(solution, job, &runs, rng);
    solution.candidates = runs;
    fits
}

/// The same, into one of some runs.
pub(super) fn insert_into<R: Rng>(
    solution: &mut Solution,
    job: u32,
    runs: &[u16],
    rng: &mut R,
) -> bool {
    if solution.plain {
        return insert_plain(solution, job, runs, rng);
    }
    let best = best_by_timing(solution, job, runs, rng);
    best.is_some_and(|position| {
        let mut visits = std::mem::take(&mut solution.visits);
        place(solution, job, position, &mut visits);
        let fits = solution.set_order(position.run, &visits);
        solution.visits = visits;
        fits
    })
}

/// Puts a job where the summaries of all runs say that it costs least.
fn insert_plain<R: Rng>(solution: &mut Solution, job: u32, runs: &[u16], rng: &mut R) -> bool {
    let instance = solution.instance;
    let mut best: Option<(i64, usize, Gap, Stop)> = None;
    let mut known: Option<(usize, Stop)> = None;
    for run in runs.iter().copied().map(usize::from) {
        // Workers of one profile stop equally long.
        let profile = instance.workers[run].profile;
        let stop = match known {
            Some((of, stop)) if of == profile => stop,
            _ => match stop_of(instance, run, job, &solution.scope) {
                Some(stop) => stop,
                None => continue,
            },
        };
        known = Some((profile, stop));
        let now = &solution.runs[run];
        // Where only walking counts, nothing longer than the best detour so far is of interest.
        let below = match (instance.goal, &best) {
            (Goal::Shortest, Some((_, _, found, _))) => found.detour,
            _ => NO_WAY,
        };
        let Some(gap) = now.best_gap(instance, run, &stop, below, BLINK, rng) else {
            continue;
        };
        let change = match instance.goal {
            Goal::Shortest => i64::from(gap.detour),
            Goal::Even => {
                let (costs, ending) = now.with_stop(instance, run, gap, &stop);
                solution.prices.run(instance, run, costs, &ending) - now.price
            }
        };
        if best.as_ref().is_none_or(|(least, ..)| change < *least) {
            best = Some((change, run, gap, stop));
        }
    }
    best.is_some_and(|(_, run, gap, stop)| solution.insert_plain(run, gap, stop))
}

/// The best position by exact timing of those that look best.
fn best_by_timing<R: Rng>(
    solution: &mut Solution,
    job: u32,
    runs: &[u16],
    rng: &mut R,
) -> Option<Position> {
    let positions = promising(solution, job, runs, rng);
    let mut visits = std::mem::take(&mut solution.visits);
    let mut best: Option<(i64, Position)> = None;
    let kind = usize::from(solution.instance.jobs[job as usize].closure.is_some());
    let mut fitting = 0;
    for position in positions.iter().take(TRIED) {
        // A guess rarely says more than the timing does: what looks worse than what has been found is soon left alone.
        let enough = best.is_some_and(|(least, _)| {
            fitting >= FITTING[kind]
                || (fitting >= FITTING_AT_LEAST[kind] && position.guess >= least)
        });
        if enough {
            break;
        }
        place(solution, job, *position, &mut visits);
        if let Some(price) = solution.try_order(position.run, &visits) {
            fitting += 1;
            let change = price - solution.runs[position.run].price;
            if best.is_none_or(|(least, _)| change < least) {
                best = Some((change, *position));
            }
        }
    }
    (solution.visits, solution.positions) = (visits, positions);
    best.map(|(_, position)| position)
}

/// All positions at which the job seems to fit, the cheapest first.
fn promising<R: Rng>(
    solution: &mut Solution,
    job: u32,
    runs: &[u16],
    rng: &mut R,
) -> Vec<Position> {
    let mut positions = std::mem::take(&mut solution.positions);
    positions.clear();
    for run in runs {
        guess_positions(solution, usize::from(*run), job, &mut positions);
    }
    positions.retain(|_| !rng.random_bool(BLINK));
    positions.sort_unstable();
    positions
}

/// The order of a run with a job put in.
pub(super) fn place(solution: &Solution, job: u32, position: Position, visits: &mut Vec<Visit>) {
    let run = &solution.runs[position.run];
    let how = solution
        .instance
        .scope(position.run, job, solution.scope[job as usize]);
    visits.clear();
    let mut next = 0;
    for index in 0..=run.visits.len() {
        while next < how.parts.len() && usize::from(position.at[next]) == index {
            visits.push(Visit {
                job,
                part: next as u8,
            });
            next += 1;
        }
        visits.extend(run.visits.get(index));
    }
}
