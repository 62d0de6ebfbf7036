//! Where a job fits best: every position of every run is guessed at, the most promising are timed exactly.

use super::instance::{FOREVER, NO_WAY, Part, Secs};
use super::near::Near;
use super::order::Visit;
use super::solution::{Run, Scratch, Solution};
use rand::{Rng, RngExt};

/// How far apart, in stops of the run, the parts of one job are tried.
const REACH: usize = 3;

/// How many positions are timed exactly once one has been found to fit, and how many if none fits.
const TIMED: usize = 8;
const TIMED_IF_NONE: usize = 60;

/// One in so many positions is passed over, so that the search does not always take the same way (Christiaens and Vanden
/// Berghe 2020, doi:10.1287/trsc.2019.0914).
const BLINK: f64 = 0.01;

/// A place for a job in a run: before which stop each part goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Position {
    guess: i64,
    pub(super) run: usize,
    at: [u16; 3],
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
        let enough = best.is_some_and(|(price, _)| position.guess >= price || tried >= TIMED);
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

fn guess_positions(solution: &Solution, run: usize, job: u32, positions: &mut Vec<Position>) {
    let instance = solution.instance;
    let how = instance.scope(run, job, solution.scope[job as usize]);
    if !instance.jobs[job as usize].eligible[run] || !how.possible {
        return;
    }
    let guesser = Guesser {
        solution,
        now: &solution.runs[run],
        run,
        table: solution.table(run, solution.runs[run].with_cart || how.cart),
        place: instance.jobs[job as usize].place,
        windows: &instance.jobs[job as usize].windows,
        work: how.parts.iter().map(|p| p.length).sum(),
    };
    let stops = guesser.now.visits.len();
    let first = if instance.jobs[job as usize].last {
        stops
    } else {
        0
    };
    for one in first..=stops {
        if !guesser.may_fit(one, &how.parts[0]) {
            continue;
        }
        match how.parts.as_slice() {
            [_] => guesser.push([one, one, one], &how.parts, positions),
            [_, _] => (one..=stops.min(one + REACH))
                .for_each(|two| guesser.push([one, two, two], &how.parts, positions)),
            _ => {
                for two in one..=stops.min(one + REACH) {
                    for three in two..=stops.min(two + REACH) {
                        guesser.push([one, two, three], &how.parts, positions);
                    }
                }
            }
        }
    }
}

struct Guesser<'a> {
    solution: &'a Solution<'a>,
    now: &'a Run,
    run: usize,
    table: &'a super::instance::WalkTable,
    place: u32,
    windows: &'a [(Secs, Secs)],
    work: Secs,
}

impl Guesser<'_> {
    fn before(&self, index: usize) -> u32 {
        if index == 0 {
            self.solution.instance.workers[self.run].start
        } else {
            self.now.places[index - 1]
        }
    }

    fn after(&self, index: usize) -> u32 {
        self.now
            .places
            .get(index)
            .copied()
            .unwrap_or(self.solution.instance.workers[self.run].start)
    }

    /// Whether a first part may start before stop `index` without making that stop too late, fills and breaks aside.
    fn may_fit(&self, index: usize, part: &Part) -> bool {
        let arrival =
            self.now.free[index] + self.table.walk(self.before(index), self.place).min(NO_WAY);
        let fits = |(from, to): &(Secs, Secs)| {
            (arrival.max(*from) + part.length <= *to).then_some(arrival.max(*from))
        };
        let Some(start) = self.windows.iter().find_map(fits) else {
            return false;
        };
        let leave = start + part.length;
        leave < FOREVER
            && leave + self.table.walk(self.place, self.after(index)).min(NO_WAY)
                <= self.now.latest[index]
    }

    fn detour(&self, index: usize) -> Secs {
        let (before, after) = (self.before(index), self.after(index));
        let there = self
            .table
            .walk(before, self.place)
            .saturating_add(self.table.walk(self.place, after));
        let straight = if self.now.visits.is_empty() {
            0
        } else {
            self.table.walk(before, after)
        };
        there.saturating_sub(straight)
    }

    fn push(&self, at: [usize; 3], parts: &[Part], positions: &mut Vec<Position>) {
        let mut extra: Secs = self.detour(at[0]);
        for index in 1..parts.len() {
            let away = if at[index] == at[index - 1] {
                0
            } else {
                extra = extra.saturating_add(self.detour(at[index]));
                self.now.free[at[index]] - self.now.free[at[index - 1]]
            };
            extra = extra.saturating_add((parts[index].lag - away).max(0));
        }
        if extra >= NO_WAY {
            return;
        }
        if self.now.visits.is_empty() {
            // A new run also needs its set-up and tear-down.
            let worker = &self.solution.instance.workers[self.run];
            extra += worker.set_up + worker.tear_down;
        }
        let load = self.now.ending.load;
        let guess =
            self.solution
                .prices
                .guess(self.solution.instance, self.run, load, self.work, extra);
        positions.push(Position {
            guess,
            run: self.run,
            at: at.map(|i| i as u16),
        });
    }
}
