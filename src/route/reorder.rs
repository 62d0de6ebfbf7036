//! The last touch: no run of an answer can be improved by moving a stretch of it elsewhere within it.

use super::instance::Secs;
use super::order::Visit;
use super::solution::Solution;
use super::stop::Stop;

/// Stretches of up to so many stops are tried elsewhere in their run.
const LONGEST: usize = 3;

/// A move that makes the straight walks of a run longer by more than this is not timed: it would have to save as much waiting.
const DETOUR: Secs = 60;

/// Moves stretches of stops within their runs for as long as that lowers a run's price (Or-opt; Or 1976), and times every run again
/// around the others. Runs that have not been reached when it is time to stop stay as they are.
///
/// # Complexity
/// Each pass over a run tries `3 × stops²` moves, and times those that walk little more.
pub(super) fn reorder(solution: &mut Solution, stop: Stop) {
    solution.be_thorough();
    loop {
        let before = solution.price();
        for run in 0..solution.runs.len() {
            // The others may have moved out of the way since it was timed.
            let same = solution.runs[run].visits.clone();
            change(solution, run, &same);
            improve(solution, run, stop);
        }
        if solution.price() >= before || stop.is_over() {
            break;
        }
    }
    solution.commit();
}

/// Gives a run an order if that, timed thoroughly, lowers its price.
fn change(solution: &mut Solution, run: usize, visits: &[Visit]) -> bool {
    let before = solution.runs[run].price;
    solution.commit();
    let better = solution.set_order(run, visits) && solution.runs[run].price < before;
    if !better {
        solution.roll_back();
    }
    better
}

/// Tries all moves in a run over and over, until none of them has improved it.
fn improve(solution: &mut Solution, run: usize, stop: Stop) {
    let stops = solution.runs[run].visits.len();
    let mut untried = true;
    while untried {
        untried = false;
        for length in 1..=LONGEST.min(stops) {
            for from in 0..=stops - length {
                if stop.is_over() {
                    return;
                }
                for to in (0..=stops - length).filter(|to| *to != from) {
                    untried |= improves(solution, run, from, length, to);
                }
            }
        }
    }
}

/// Moves a stretch if that lowers the run's price.
fn improves(solution: &mut Solution, run: usize, from: usize, length: usize, to: usize) -> bool {
    if detour(solution, run, from, length, to) > DETOUR {
        return false;
    }
    let moved = moved(&solution.runs[run].visits, from, length, to);
    let price = solution.try_order(run, &moved);
    price.is_some_and(|new| new < solution.runs[run].price) && change(solution, run, &moved)
}

/// By how much the straight walks of a run grow.
fn detour(solution: &Solution, run: usize, from: usize, length: usize, to: usize) -> Secs {
    let now = &solution.runs[run];
    let place = |stop: usize| match now.visits.get(stop) {
        Some(visit) => solution.instance.jobs[visit.job as usize].place,
        None => solution.instance.workers[run].start,
    };
    let before = |stop: usize| stop.checked_sub(1).map_or(place(usize::MAX), place);
    // The stretch goes before this stop of the present order.
    let next = if to < from { to } else { to + length };
    let table = solution.table(run, now.with_cart);
    let (first, last) = (place(from), place(from + length - 1));
    let gone = table.walk(before(from), first) + table.walk(last, place(from + length));
    let closed = table.walk(before(from), place(from + length));
    let opened = table.walk(before(next), place(next));
    let come = table.walk(before(next), first) + table.walk(last, place(next));
    closed - gone + come - opened
}

/// The order with the stretch at `from` taken out and put back so that it starts at `to`.
fn moved(visits: &[Visit], from: usize, length: usize, to: usize) -> Vec<Visit> {
    let mut rest = visits.to_vec();
    let stretch: Vec<Visit> = rest.drain(from..from + length).collect();
    rest.splice(to..to, stretch);
    rest
}
