//! The last touch: no run of an answer can be improved by moving a stretch of it elsewhere within it, by exchanging two stops, or by
//! doing a stretch backwards.

use super::instance::{NO_WAY, Secs};
use super::order::Visit;
use super::run::refill;
use super::solution::Solution;
use super::stop::Stop;
use itertools::Itertools;

/// Stretches of up to so many stops are tried elsewhere in their run.
const LONGEST: usize = 3;

/// A move that makes the straight walks of a run longer by more than this is not timed: it would have to save as much waiting.
const DETOUR: Secs = 60;

/// Changes the order of every run for as long as that lowers its price, and times it again around the others. Runs that have not
/// been reached when it is time to stop stay as they are.
///
/// # Complexity
/// Each pass over a run tries `4 × stops²` moves, and times those that walk little more.
pub(super) fn reorder(solution: &mut Solution, stop: Stop) {
    solution.be_thorough();
    loop {
        let before = solution.price();
        for run in 0..solution.runs.len() {
            if stop.has_ended() {
                break;
            }
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
pub(super) fn improve(solution: &mut Solution, run: usize, stop: Stop) {
    let stops = solution.runs[run].visits.len();
    let all = moves(stops);
    let mut order = Vec::new();
    let mut untried = true;
    while untried {
        untried = false;
        for change in &all {
            if stop.is_over() {
                return;
            }
            refill(&mut order, solution.runs[run].visits.iter().copied());
            change.make(&mut order);
            untried |= improves(solution, run, &order);
        }
    }
}

/// Gives a run an order if that lowers its price.
fn improves(solution: &mut Solution, run: usize, order: &[Visit]) -> bool {
    let now = &solution.runs[run];
    if walked(solution, run, order) > walked(solution, run, &now.visits) + DETOUR {
        return false;
    }
    let price = now.price;
    let tried = solution.try_order(run, order);
    tried.is_some_and(|new| new < price) && change(solution, run, order)
}

/// The straight walks of an order.
fn walked(solution: &Solution, run: usize, order: &[Visit]) -> Secs {
    let instance = solution.instance;
    let table = solution.table(run, solution.runs[run].with_cart);
    let home = instance.workers[run].start;
    let stops = order.iter().map(|v| instance.jobs[v.job as usize].place);
    let path = std::iter::once(home).chain(stops).chain([home]);
    path.tuple_windows()
        .map(|(from, to)| table.walk(from, to).min(NO_WAY / 1000))
        .sum()
}

/// Another order of the same stops.
#[derive(Clone, Copy, Debug)]
enum Move {
    /// A stretch goes elsewhere (Or-opt; Or 1976): so many stops from one place to another.
    Shift(usize, usize, usize),
    /// Two stops take each other's place.
    Exchange(usize, usize),
    /// A stretch is done backwards (2-opt; Croes 1958, doi:10.1287/opre.6.6.791).
    Turn(usize, usize),
}

impl Move {
    fn make(self, visits: &mut [Visit]) {
        match self {
            Move::Shift(length, from, to) if to < from => {
                visits[to..from + length].rotate_right(length);
            }
            Move::Shift(length, from, to) => visits[from..to + length].rotate_left(length),
            Move::Exchange(a, b) => visits.swap(a, b),
            Move::Turn(from, to) => visits[from..=to].reverse(),
        }
    }
}

/// All moves in a run of so many stops.
fn moves(stops: usize) -> Vec<Move> {
    let shifts = (1..=LONGEST.min(stops)).flat_map(|length| {
        let places = 0..=stops - length;
        let pairs = places.clone().cartesian_product(places);
        pairs
            .filter(|(from, to)| from != to)
            .map(move |(from, to)| Move::Shift(length, from, to))
    });
    let pairs = (0..stops).array_combinations();
    let exchanges = pairs.clone().map(|[a, b]| Move::Exchange(a, b));
    let turns = pairs.map(|[from, to]| Move::Turn(from, to));
    shifts.chain(exchanges).chain(turns).collect()
}
