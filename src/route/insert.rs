//! Where a job fits best: every position of every run is guessed at, the most promising are timed exactly.

use super::guess::guess_positions;
use super::near::Near;
use super::order::Visit;
use super::solution::{Run, Scratch, Solution};
use rand::{Rng, RngExt};

/// How many positions are timed exactly once one has been found to fit, and how many if none fits.
const TIMED: usize = 6;
const TIMED_IF_NONE: usize = 60;

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
pub(super) fn insert<R: Rng>(
    solution: &mut Solution,
    job: u32,
    near: &Near,
    scratch: &mut Scratch,
    positions: &mut Vec<Position>,
    rng: &mut R,
) -> bool {
    positions.clear();
    for run in near.runs_worth_trying(solution, job, rng) {
        guess_positions(solution, run, job, positions);
    }
    positions.retain(|_| !rng.random_bool(BLINK));
    positions.sort_unstable();
    let mut best: Option<(i64, Position)> = None;
    for (tried, position) in positions.iter().enumerate() {
        let enough = best.is_some() && tried >= TIMED;
        if enough || tried >= TIMED_IF_NONE {
            break;
        }
        let mut visits = std::mem::take(&mut scratch.visits);
        place(
            &solution.runs[position.run],
            solution,
            job,
            *position,
            &mut visits,
        );
        if let Some(price) = solution.try_order(position.run, &visits, scratch) {
            let change = price - solution.runs[position.run].price;
            if best.is_none_or(|(least, _)| change < least) {
                best = Some((change, *position));
            }
        }
        scratch.visits = visits;
    }
    let Some((_, position)) = best else {
        return false;
    };
    let mut visits = Vec::new();
    place(
        &solution.runs[position.run],
        solution,
        job,
        position,
        &mut visits,
    );
    solution.set_order(position.run, &visits)
}

/// The order of a run with a job put in.
fn place(run: &Run, solution: &Solution, job: u32, position: Position, visits: &mut Vec<Visit>) {
    let parts = solution
        .instance
        .scope(position.run, job, solution.scope[job as usize])
        .parts
        .len();
    visits.clear();
    let mut next = 0;
    for index in 0..=run.visits.len() {
        while next < parts && usize::from(position.at[next]) == index {
            visits.push(Visit {
                job,
                part: next as u8,
            });
            next += 1;
        }
        visits.extend(run.visits.get(index));
    }
}
