//! What a plan costs: the order of goals as one number for the search, and exactly, for the final say.
//!
//! The search follows a *price*: whole numbers in which a busy second of an averagely loaded worker costs [`SECOND`]. A share
//! is priced by a power, so that the highest shares weigh most (a p-norm; as p grows its order becomes the lexicographic
//! min-max of the goals). The power grows during the search: first short runs, then even ones. The price rises with every
//! run's load, so nobody's run is ever made longer to look even.
//! Which of two plans is better is decided by [`Standing`], never by the price.

use super::instance::{Goal, Instance, Secs};
use super::timing::Ending;
use itertools::Itertools;

/// Price of one busy second at the reference share.
pub(super) const SECOND: i64 = 1000;

/// Price of a second of undone work, by priority: one health minute outweighs a night of expected work.
const UNDONE: [i64; 3] = [4_000_000_000, 2_000_000, 40_000];

/// Price of a second of overtime.
const OVERTIME: i64 = 20_000;

/// Price of a second not spent cleaning (level 4): enough to decide among equally even plans, too little to spoil evenness.
const NOT_CLEANING: i64 = 60;

/// Price of a second during which a room is closed, of a further floor in a run, and of a job done by someone else than wished
/// (level 5). At a tenth of the first one, rooms of the demo are closed half as long again, for hardly any walking saved.
const CLOSED: i64 = 20;
const FLOOR: i64 = 2_000;
const DISLIKE: i64 = 2_000;

/// How much the square of every share counts beside its high power, which alone would not see any difference between runs that are
/// far from the highest: those would be filled up in any order.
const EVEN: f64 = 0.05;

/// Prices of one instance.
#[derive(Clone, Copy, Debug)]
pub(super) struct Prices {
    /// The share at which a busy second costs [`SECOND`]: about what everyone would have in an even plan.
    reference: f64,
    /// The power shares are raised to.
    power: u32,
    /// Whether a run is priced by the order of goals instead, each level outweighing all below it.
    strict: bool,
}

/// Powers at the start and the end of a search. On the demo a search that holds the last one throughout ends with runs a
/// hundredth longer: with a high power almost every exchange looks bad at first.
const POWERS: (f64, f64) = (2.0, 64.0);

/// What the order alone says of a run.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct OrderCosts {
    pub(super) work: Secs,
    pub(super) floors: u32,
    pub(super) dislike: i32,
    /// Change against the plan before, in points.
    pub(super) change: i32,
}

impl Prices {
    /// Prices fitting an instance.
    pub(super) fn new(instance: &Instance) -> Prices {
        let least = |job: usize| {
            let full = instance.jobs[job].full();
            let able = (0..instance.workers.len()).filter(|w| instance.jobs[job].eligible[*w]);
            able.map(|w| i64::from(instance.work(w, job as u32, full)))
                .min()
                .unwrap_or(0)
        };
        let work: i64 = (0..instance.jobs.len()).map(least).sum();
        let available: i64 = instance
            .workers
            .iter()
            .map(|w| i64::from(w.available))
            .sum();
        // Walking, fills and waits add about an eighth to the work in a usual building.
        let reference = work as f64 * 1.125 / available.max(1) as f64;
        Prices {
            reference: reference.clamp(0.02, 2.0),
            power: POWERS.1 as u32,
            strict: false,
        }
    }

    /// The same prices with the power that fits a search's progress, from 0 to 1, and `share`, the highest one by now, for
    /// reference.
    pub(super) fn at(self, progress: f64, share: f64) -> Prices {
        let (first, last) = POWERS;
        let power = (first * (last / first).powf(progress)).round() as u32;
        let reference = if share > 0.0 { share } else { self.reference };
        Prices {
            reference,
            power,
            strict: false,
        }
    }

    /// Prices for the last touches: of two timings of a run the one that the order of goals prefers is the cheaper one.
    pub(super) fn strict(self) -> Prices {
        Prices {
            strict: true,
            ..self
        }
    }

    /// Price of a load against the time available.
    pub(super) fn load(&self, load: Secs, available: Secs) -> i64 {
        let relative = f64::from(load) / (f64::from(available) * self.reference);
        let powered = power(relative, self.power) / f64::from(self.power);
        let even = relative * relative / 2.0;
        let one = f64::from(available) * self.reference * SECOND as f64;
        let priced = (powered + EVEN * even) * one;
        priced.min(1e15).round() as i64
    }

    /// Price of a run.
    pub(super) fn run(
        &self,
        instance: &Instance,
        worker: usize,
        order: OrderCosts,
        ending: &Ending,
    ) -> i64 {
        let who = &instance.workers[worker];
        if instance.goal == Goal::Shortest {
            return SECOND * i64::from(ending.load - order.work);
        }
        if self.strict {
            return by_goals(instance, worker, order, ending);
        }
        self.load(ending.load, who.available)
            + NOT_CLEANING * i64::from(ending.load - order.work + ending.idle)
            + OVERTIME * i64::from((ending.end - who.to).max(0))
            + change(order, ending) * instance.before.known.as_ref().map_or(0, |k| k.price)
            + calm(order, ending)
    }

    /// Price of a change of load and of time not spent cleaning, before it is timed exactly.
    pub(super) fn guess(
        &self,
        instance: &Instance,
        worker: usize,
        load: Secs,
        more: Secs,
        detour: Secs,
    ) -> i64 {
        let available = instance.workers[worker].available;
        self.load(load + more + detour, available) - self.load(load, available)
            + NOT_CLEANING * i64::from(detour)
    }

    /// Price of undone work, in seconds by priority.
    pub(super) fn undone(undone: [i64; 3]) -> i64 {
        undone
            .iter()
            .zip(UNDONE)
            .map(|(seconds, price)| seconds.saturating_mul(price))
            .fold(0, i64::saturating_add)
    }
}

/// Price of level 5.
fn calm(order: OrderCosts, ending: &Ending) -> i64 {
    CLOSED * i64::from(ending.closed)
        + FLOOR * i64::from(order.floors)
        + DISLIKE * i64::from(order.dislike)
}

/// Change against the plan before, in points.
fn change(order: OrderCosts, ending: &Ending) -> i64 {
    i64::from(order.change + ending.moved)
}

/// A run's part in the order of goals as one number; among equals, the shorter run. The caps keep each level from reaching into the
/// one above, in any plan that a crew would work by.
fn by_goals(instance: &Instance, worker: usize, order: OrderCosts, ending: &Ending) -> i64 {
    let who = &instance.workers[worker];
    let overtime = (i64::from((ending.end - who.to).max(0)), 7_200);
    let share = (bands(instance, ending.load, who.available), 1_000);
    let walking = (i64::from(ending.load - order.work + ending.idle), 200_000);
    let rest = calm(order, ending) + i64::from(ending.load);
    let add = |sum, (level, cap): (i64, i64)| sum * cap + level.clamp(0, cap - 1);
    let Some(known) = &instance.before.known else {
        let levels = [overtime, share, walking, (rest, 5_000_000)];
        return levels.into_iter().fold(0, add);
    };
    let changed = (change(order, ending), 1_000);
    let (one, two) = if known.first {
        (changed, share)
    } else {
        (share, changed)
    };
    let levels = [overtime, one, two, walking, (rest / 10_000, 500)];
    levels.into_iter().fold(0, add)
}

/// By squaring: `powi` may differ in the last bit from one machine to another.
fn power(base: f64, exponent: u32) -> f64 {
    let (mut product, mut square, mut left) = (1.0, base, exponent);
    while left > 0 {
        if left & 1 == 1 {
            product *= square;
        }
        square *= square;
        left >>= 1;
    }
    product
}

/// Where a plan stands in the order of goals; smaller is better, compared from the front.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Standing {
    /// Seconds undone, by priority.
    pub undone: [i64; 3],
    /// Seconds of overtime over all runs.
    pub overtime: i64,
    /// Change against the plan before, in points, where it counts before evenness.
    pub change_first: i64,
    /// Shares in bands, rounded up, highest first.
    pub shares: Vec<i64>,
    /// Change against the plan before, in points.
    pub change: i64,
    /// Seconds not spent cleaning over all runs: walking, fills, dumps, waiting.
    pub not_cleaning: i64,
    /// Price of closed rooms, floors and unwished workers.
    pub calm: i64,
}

impl Standing {
    pub(super) fn of<'a>(
        instance: &Instance,
        undone: [i64; 3],
        runs: impl Iterator<Item = (usize, OrderCosts, &'a Ending)>,
    ) -> Standing {
        let mut standing = Standing {
            undone,
            overtime: 0,
            change_first: 0,
            shares: Vec::new(),
            change: 0,
            not_cleaning: 0,
            calm: 0,
        };
        for (worker, order, ending) in runs {
            let who = &instance.workers[worker];
            if instance.goal == Goal::Shortest {
                standing.not_cleaning += i64::from(ending.load - order.work);
                continue;
            }
            standing.overtime += i64::from((ending.end - who.to).max(0));
            standing
                .shares
                .push(bands(instance, ending.load, who.available));
            standing.not_cleaning += i64::from(ending.load - order.work + ending.idle);
            let changed = change(order, ending);
            match &instance.before.known {
                Some(known) if known.first => standing.change_first += changed,
                _ => standing.change += changed,
            }
            standing.calm += calm(order, ending);
        }
        standing.shares = standing
            .shares
            .into_iter()
            .sorted_unstable()
            .rev()
            .collect();
        standing
    }
}

/// How many bands a load fills, the last one counted whole.
pub(super) fn bands(instance: &Instance, load: Secs, available: Secs) -> i64 {
    let (load, available) = (i64::from(load) * 1_000_000, i64::from(available));
    (load + available * instance.band_ppm - 1) / (available * instance.band_ppm)
}
