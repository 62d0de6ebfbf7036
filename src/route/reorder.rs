//! The last touch: no run of an answer can be improved by re-ordering alone.

use super::order::Visit;
use super::solution::Solution;

/// Stretches of up to so many stops are tried elsewhere in their run.
const LONGEST: usize = 3;

/// Moves stretches of stops within their runs for as long as that lowers a run's price (Or-opt; Or 1976), and times every run again
/// around the others.
pub(super) fn reorder(solution: &mut Solution) {
    loop {
        let before = solution.price();
        for run in 0..solution.runs.len() {
            let same = solution.runs[run].visits.clone();
            // The others may have moved out of the way since it was timed.
            if solution
                .try_order(run, &same)
                .is_some_and(|price| price < solution.runs[run].price)
            {
                solution.set_order(run, &same);
            }
            while improve(solution, run) {}
        }
        if solution.price() >= before {
            break;
        }
    }
    solution.commit();
}

/// Makes the first improving move there is. False if there is none.
fn improve(solution: &mut Solution, run: usize) -> bool {
    let visits = solution.runs[run].visits.clone();
    let price = solution.runs[run].price;
    for length in 1..=LONGEST.min(visits.len()) {
        for from in 0..=visits.len() - length {
            for to in (0..=visits.len() - length).filter(|to| *to != from) {
                let moved = moved(&visits, from, length, to);
                if solution
                    .try_order(run, &moved)
                    .is_some_and(|new| new < price)
                    && solution.set_order(run, &moved)
                {
                    return true;
                }
            }
        }
    }
    false
}

/// The order with the stretch at `from` taken out and put back so that it starts at `to`.
fn moved(visits: &[Visit], from: usize, length: usize, to: usize) -> Vec<Visit> {
    let mut rest = visits.to_vec();
    let stretch: Vec<Visit> = rest.drain(from..from + length).collect();
    rest.splice(to..to, stretch);
    rest
}
