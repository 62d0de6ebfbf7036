//! Placing: every piece begins on its own day, and single pieces change days for as long as rounds are left.

use super::{Month, Track};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// Rounds for each piece that is free to move. On 2,000 tasks over 20 days, a quarter as many end half a percent above the bound.
const ROUNDS: u64 = 600;

/// Least rounds, for few pieces.
const LEAST_ROUNDS: u64 = 20_000;

/// Price of one working day out of step in each cooling: first so much that it hardly pays, at the end more than any day's share ever is.
const OUT_OF_STEP: [f64; 2] = [50.0, 1e12];

/// How much everybody's days count beside those of one owner: a percent of everybody's is many people's.
const EVERYBODY: f64 = 12.0;

/// Up to so many pieces easily get stuck: two of them may then change days at the end, and so many starts are made.
const FEW: usize = 100;
const STARTS: u64 = 8;

/// Two coolings, each with how often the share is squared for its price, and its temperatures at the start and at the end, in the price of a
/// day at the mean share. Eighth powers level all days, from half of what a move usually brings at the start. Thirty-second powers then look at
/// the heaviest; they begin cold, or they would undo what is level.
const COOLINGS: [(u32, Option<f64>, f64); 2] = [(3, None, 1e-4), (5, Some(1.0), 1e-6)];

/// So many moves are looked at to find out what a move usually brings.
const SAMPLES: usize = 501;

/// The day of each piece.
///
/// # Complexity
/// `ROUNDS` steps for each piece that is free, each in constant time; where they are few, so many starts of that.
pub fn spread(month: &Month, seed: u64) -> Vec<usize> {
    let free: Vec<usize> = (0..month.pieces.len())
        .filter(|p| !month.pieces[*p].fixed && month.pieces[*p].days.len() > 1)
        .collect();
    // Chance may end above where it began.
    let mut began = Placing::new(month);
    began.price_by(COOLINGS[1].0, OUT_OF_STEP[1]);
    if free.is_empty() {
        return began.day;
    }
    let starts = if free.len() <= FEW { STARTS } else { 1 };
    let placed = (0..starts).map(|start| cooled(month, &free, seed.wrapping_add(start)));
    placed
        .chain([began])
        .min_by(|a, b| a.price().total_cmp(&b.price()))
        .map_or_else(Vec::new, |best| best.day)
}

/// What one pair of coolings comes to.
fn cooled<'a>(month: &'a Month, free: &[usize], seed: u64) -> Placing<'a> {
    let mut placing = Placing::new(month);
    let mut rng = Pcg64Mcg::seed_from_u64(seed);
    let rounds = (ROUNDS * free.len() as u64).max(LEAST_ROUNDS) / COOLINGS.len() as u64;
    for ((squarings, first, last), out_of_step) in COOLINGS.into_iter().zip(OUT_OF_STEP) {
        placing.price_by(squarings, out_of_step);
        let first = first.unwrap_or_else(|| placing.usual_change(free, &mut rng) / 2.0);
        let mut temperature = first.max(last);
        let cooling = (last / temperature).powf(1.0 / rounds as f64);
        for _ in 0..rounds {
            let (piece, to) = placing.draw(free, &mut rng);
            let change = placing.change(piece, to);
            let drawn: f64 = rng.random();
            if change <= 0.0 || drawn < (-change / temperature).exp() {
                placing.put(piece, to);
            }
            temperature *= cooling;
        }
    }
    placing.settle(free);
    placing
}

/// Seconds by day against the time there is.
struct Loads<'a> {
    track: &'a Track,
    seconds: Vec<i64>,
    /// Mean share: shares are priced in multiples of it.
    mean: f64,
    /// How often shares are squared.
    squarings: u32,
}

impl<'a> Loads<'a> {
    fn new(track: &'a Track, placed: i64) -> Loads<'a> {
        let available: i64 = track.available.iter().sum();
        let work: i64 = track.base.iter().sum::<i64>() + placed;
        Loads {
            track,
            seconds: track.base.clone(),
            mean: (work as f64 / available.max(1) as f64).max(1e-9),
            squarings: 0,
        }
    }

    /// Price of a day that has so many seconds: a high power of its share, so that the heaviest weigh most.
    fn price(&self, day: usize, seconds: i64) -> f64 {
        let available = self.track.available[day].max(1) as f64;
        let relative = seconds as f64 / available / self.mean;
        (0..self.squarings).fold(relative, |power, _| power * power)
    }

    fn change(&self, from: usize, to: usize, seconds: i64) -> f64 {
        let (before, after) = (self.seconds[from], self.seconds[to]);
        self.price(from, before - seconds) + self.price(to, after + seconds)
            - self.price(from, before)
            - self.price(to, after)
    }

    fn all(&self) -> f64 {
        let days = self.seconds.iter().enumerate();
        days.map(|(day, seconds)| self.price(day, *seconds)).sum()
    }
}

struct Placing<'a> {
    month: &'a Month,
    day: Vec<usize>,
    /// The turn after each piece.
    after: Vec<Option<usize>>,
    all: Loads<'a>,
    owners: Vec<Loads<'a>>,
    /// Price of one working day out of step.
    out_of_step: f64,
}

impl<'a> Placing<'a> {
    fn new(month: &'a Month) -> Placing<'a> {
        let placed = |owner: Option<usize>| -> i64 {
            let own = month
                .pieces
                .iter()
                .filter(|p| owner.is_none_or(|o| p.owner == o));
            own.map(|p| p.seconds).sum()
        };
        let owners = month.owners.iter().enumerate();
        let mut placing = Placing {
            month,
            day: month.pieces.iter().map(|p| p.start).collect(),
            after: vec![None; month.pieces.len()],
            all: Loads::new(&month.all, placed(None)),
            owners: owners
                .map(|(o, track)| Loads::new(track, placed(Some(o))))
                .collect(),
            out_of_step: OUT_OF_STEP[0],
        };
        for (index, piece) in month.pieces.iter().enumerate() {
            if let Some(before) = piece.before {
                placing.after[before] = Some(index);
            }
            placing.all.seconds[piece.start] += piece.seconds;
            placing.owners[piece.owner].seconds[piece.start] += piece.seconds;
        }
        placing
    }

    /// A piece and a day it may fall on.
    fn draw(&self, free: &[usize], rng: &mut Pcg64Mcg) -> (usize, usize) {
        let piece = free[rng.random_range(0..free.len())];
        let days = &self.month.pieces[piece].days;
        (piece, days[rng.random_range(0..days.len())])
    }

    /// By how much a move changes the price, of those that change it: the median, which a few dear ones do not move.
    fn usual_change(&self, free: &[usize], rng: &mut Pcg64Mcg) -> f64 {
        let draw = |_| {
            let (piece, to) = self.draw(free, rng);
            self.change(piece, to).abs()
        };
        let mut changes: Vec<f64> = (0..SAMPLES).map(draw).filter(|c| *c > 0.0).collect();
        changes.sort_by(f64::total_cmp);
        changes.get(changes.len() / 2).copied().unwrap_or(1e-9)
    }

    fn price_by(&mut self, squarings: u32, out_of_step: f64) {
        self.out_of_step = out_of_step;
        self.all.squarings = squarings;
        for owner in &mut self.owners {
            owner.squarings = squarings;
        }
    }

    /// How many working days the turns beside a piece would be out of step with it on a day.
    fn out_of_step(&self, index: usize, day: usize) -> i64 {
        let piece = &self.month.pieces[index];
        let before = piece
            .before
            .map_or(0, |b| self.month.out_of_step(piece.gap, self.day[b], day));
        let after = self.after[index].map_or(0, |a| {
            self.month
                .out_of_step(self.month.pieces[a].gap, day, self.day[a])
        });
        before + after
    }

    /// By how much the price rises if a piece goes to another day.
    fn change(&self, index: usize, to: usize) -> f64 {
        let (loads, steps) = self.changes(index, to);
        loads + self.out_of_step * steps as f64
    }

    /// By how much the price of loads rises, and by how many working days more the turns are out of step.
    fn changes(&self, index: usize, to: usize) -> (f64, i64) {
        let (piece, from) = (&self.month.pieces[index], self.day[index]);
        if from == to {
            return (0.0, 0);
        }
        let loads = EVERYBODY * self.all.change(from, to, piece.seconds)
            + self.owners[piece.owner].change(from, to, piece.seconds);
        let steps = self.out_of_step(index, to) - self.out_of_step(index, from);
        (loads, steps)
    }

    /// The least fall of the price that is more than rounding: prices may be huge, and two pieces alike would else change days for ever.
    fn least(&self, index: usize, to: usize) -> f64 {
        let owner = &self.owners[self.month.pieces[index].owner];
        let price = |loads: &Loads, day: usize| loads.price(day, loads.seconds[day]);
        let both = [self.day[index], to];
        let prices = both.map(|day| EVERYBODY * price(&self.all, day) + price(owner, day));
        1e-9 * (1.0 + prices.iter().sum::<f64>())
    }

    fn put(&mut self, index: usize, to: usize) {
        let (piece, from) = (&self.month.pieces[index], self.day[index]);
        for loads in [&mut self.all, &mut self.owners[piece.owner]] {
            loads.seconds[from] -= piece.seconds;
            loads.seconds[to] += piece.seconds;
        }
        self.day[index] = to;
    }

    /// Moves single pieces, and where they are few lets two of them change days, until neither makes it better.
    ///
    /// # Complexity
    /// Pieces × days, or pieces² where they are few, for each of a few passes.
    fn settle(&mut self, free: &[usize]) {
        self.move_single(free);
        if free.len() <= FEW {
            while self.exchange(free) {
                self.move_single(free);
            }
        }
    }

    /// Lets the first two pieces change days for which that makes it better; whether there were any.
    fn exchange(&mut self, free: &[usize]) -> bool {
        for (at, a) in free.iter().enumerate() {
            for b in &free[at + 1..] {
                let (day_a, day_b) = (self.day[*a], self.day[*b]);
                let may = |piece: usize, day| self.month.pieces[piece].days.contains(&day);
                if day_a == day_b || !may(*a, day_b) || !may(*b, day_a) {
                    continue;
                }
                let ((loads, steps), least) = (self.changes(*a, day_b), self.least(*a, day_b));
                self.put(*a, day_b);
                let (then, more) = self.changes(*b, day_a);
                let change = loads + then + self.out_of_step * (steps + more) as f64;
                if change < -least.max(self.least(*b, day_a)) {
                    self.put(*b, day_a);
                    return true;
                }
                self.put(*a, day_a);
            }
        }
        false
    }

    /// Moves single pieces until no move makes it better.
    fn move_single(&mut self, free: &[usize]) {
        /// Passes that bring nothing any more are not worth their time.
        const PASSES: usize = 20;
        for _ in 0..PASSES {
            let mut moved = false;
            for index in free {
                let days = &self.month.pieces[*index].days;
                let changes = days.iter().map(|to| (self.change(*index, *to), *to));
                let best = changes.min_by(|a, b| a.0.total_cmp(&b.0));
                if let Some((change, to)) = best
                    && change < -1e-12
                {
                    self.put(*index, to);
                    moved = true;
                }
            }
            if !moved {
                break;
            }
        }
    }

    fn price(&self) -> f64 {
        let steps = (0..self.day.len()).filter_map(|index| {
            let before = self.month.pieces[index].before?;
            let gap = self.month.pieces[index].gap;
            Some(
                self.month
                    .out_of_step(gap, self.day[before], self.day[index]),
            )
        });
        let steps: i64 = steps.sum();
        let owners: f64 = self.owners.iter().map(Loads::all).sum();
        EVERYBODY * self.all.all() + owners + self.out_of_step * steps as f64
    }
}
