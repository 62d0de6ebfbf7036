//! How much everyone has to do, and how even it is: the plan's own arithmetic, for reports and for the lead.
//!
//! Load is everything in which a worker is busy: set-up and tear-down, work, walks, fills, dumps, machines, and *attended*
//! waiting, that is, for a dwell or for a floor to dry. Other waiting is not load. Share is load over available time: the shift
//! less all breaks, paid or not, and less the site's reserve.

use super::reading::{ReadRun, Reading};
use super::{Plan, PlannedStop, ReadWalks, What};
use crate::site::{FloorId, Site, WorkerId};
use crate::units::{Clock, Seconds, Span};

/// A measured plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Measures {
    /// One for each run, in the plan's order.
    pub runs: Vec<RunMeasures>,
    /// The parts of all runs together.
    pub total: Parts,
    /// How the shares compare.
    pub evenness: Evenness,
}

/// A measured run.
#[derive(Clone, Debug, PartialEq)]
pub struct RunMeasures {
    /// Whose.
    pub worker: WorkerId,
    /// Whether the run moves with a cart.
    pub with_cart: bool,
    /// Time in which the worker is busy.
    pub load: Seconds,
    /// Time there is: the shift less breaks and reserve; may be negative in a strange site.
    pub available: Seconds,
    /// Load over available time.
    pub share: f64,
    /// What the time goes into.
    pub parts: Parts,
    /// Floors with work on them, lowest first.
    pub floors: Vec<FloorId>,
    /// From the first stop's start to the last one's end; none for an idle worker.
    pub span: Option<Span>,
    /// How long after the end of the shift the run ends.
    pub overtime: Seconds,
    /// The walk before each stop, by stop; nothing before the first, nor where there is no way.
    pub walks: Vec<Seconds>,
}

/// Where time goes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Parts {
    /// Cleaning, reopening and duties, without trips in the middle of a stop.
    pub work: Seconds,
    /// Walking, trips in the middle of a stop included.
    pub walk: Seconds,
    /// Filling buckets.
    pub fill: Seconds,
    /// Emptying carts.
    pub dump: Seconds,
    /// Fetching machines and bringing them back.
    pub machine: Seconds,
    /// Set-up and tear-down.
    pub set_up: Seconds,
    /// Attended waiting: for a dwell or for a floor to dry.
    pub wait: Seconds,
    /// Other waiting; not load.
    pub idle: Seconds,
    /// Breaks; not load.
    pub rest: Seconds,
}

impl Parts {
    /// All that is load.
    pub fn load(self) -> Seconds {
        self.work + self.walk + self.fill + self.dump + self.machine + self.set_up + self.wait
    }

    fn add(&mut self, other: Parts) {
        self.work += other.work;
        self.walk += other.walk;
        self.fill += other.fill;
        self.dump += other.dump;
        self.machine += other.machine;
        self.set_up += other.set_up;
        self.wait += other.wait;
        self.idle += other.idle;
        self.rest += other.rest;
    }
}

/// Shares of all runs side by side, also of those with nothing to do.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Evenness {
    /// The highest share.
    pub highest: f64,
    /// The lowest share.
    pub lowest: f64,
    /// Between the two.
    pub range: f64,
    /// Standard deviation, of the whole crew and not of a sample.
    pub sd: f64,
    /// Gini coefficient: the mean difference between any two shares over twice their mean; 0 is even.
    pub gini: f64,
}

impl Evenness {
    /// Of these shares; all zero if there are none.
    pub fn of(shares: &[f64]) -> Evenness {
        if shares.is_empty() {
            return Evenness::default();
        }
        let count = shares.len() as f64;
        let highest = shares.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let lowest = shares.iter().copied().fold(f64::INFINITY, f64::min);
        let mean = shares.iter().sum::<f64>() / count;
        let variance = shares.iter().map(|s| (s - mean).powi(2)).sum::<f64>() / count;
        let pairs = shares
            .iter()
            .flat_map(|a| shares.iter().map(move |b| (a - b).abs()));
        let differences: f64 = pairs.sum();
        let gini = if mean > 0.0 {
            differences / (2.0 * count * count * mean)
        } else {
            0.0
        };
        Evenness {
            highest,
            lowest,
            range: highest - lowest,
            sd: variance.sqrt(),
            gini,
        }
    }
}

/// Measures a plan whose ids are the site's; it need not be sound.
pub fn measure(site: &Site, plan: &Plan) -> Measures {
    measure_with(site, plan, &mut ReadWalks::default())
}

/// The same with walks that are known already.
pub(crate) fn measure_with(site: &Site, plan: &Plan, walks: &mut ReadWalks) -> Measures {
    let reading = Reading::again(site, plan, walks);
    let runs: Vec<RunMeasures> = reading.runs.iter().map(measured).collect();
    let mut total = Parts::default();
    for run in &runs {
        total.add(run.parts);
    }
    let shares: Vec<f64> = runs.iter().map(|run| run.share).collect();
    Measures {
        runs,
        total,
        evenness: Evenness::of(&shares),
    }
}

fn measured(run: &ReadRun) -> RunMeasures {
    let walks = walks(run);
    let mut parts = Parts::default();
    for stop in run.stops {
        parts.add(parts_of(run, stop));
    }
    parts.walk += walks.iter().copied().sum();
    let (attended, idle) = waiting(run, &walks);
    (parts.wait, parts.idle) = (attended, idle);
    let (load, available) = (parts.load(), available(run));
    let (first, last) = (run.stops.first(), run.stops.last());
    let span = first
        .zip(last)
        .map(|(first, last)| Span::new(first.span.from, last.span.to));
    RunMeasures {
        worker: run.id,
        with_cart: run.cart.is_some(),
        load,
        available,
        share: load.0 as f64 / available.0.max(1) as f64,
        parts,
        floors: floors(run),
        span,
        overtime: span.map_or(Seconds::ZERO, |s| (s.to - run.shift.to).max(Seconds::ZERO)),
        walks,
    }
}

fn available(run: &ReadRun) -> Seconds {
    let breaks: Seconds = run.worker.breaks.iter().map(|b| b.length).sum();
    run.shift.length() - breaks - run.site.policy.reserve
}

fn walks(run: &ReadRun) -> Vec<Seconds> {
    let mut walks = vec![Seconds::ZERO; run.stops.len().min(1)];
    let between = run
        .stops
        .windows(2)
        .map(|pair| run.walk(pair[0].place, pair[1].place));
    walks.extend(between.map(Option::unwrap_or_default));
    walks
}

/// What one stop's time goes into, as it is planned.
fn parts_of(run: &ReadRun, stop: &PlannedStop) -> Parts {
    let time = stop.span.length();
    let none = Parts::default();
    match stop.what {
        What::SetUp | What::TearDown => Parts {
            set_up: time,
            ..none
        },
        What::Fill => Parts { fill: time, ..none },
        What::Dump => Parts { dump: time, ..none },
        What::Fetch(_) | What::Return(_) => Parts {
            machine: time,
            ..none
        },
        What::Break(_) => Parts { rest: time, ..none },
        _ => {
            let fills = run.fill_trips(stop).unwrap_or_default();
            let dumps = run.dump_trips(stop).unwrap_or_default();
            Parts {
                work: time - fills.total() - dumps.total(),
                walk: fills.walk * fills.count + dumps.walk * dumps.count,
                fill: fills.handling * fills.count,
                dump: dumps.handling * dumps.count,
                ..none
            }
        }
    }
}

/// Attended waiting and idle waiting.
fn waiting(run: &ReadRun, walks: &[Seconds]) -> (Seconds, Seconds) {
    let (mut attended, mut idle) = (Seconds::ZERO, Seconds::ZERO);
    let lag_ends = lag_ends(run);
    for (at, pair) in run.stops.windows(2).enumerate() {
        let (arrival, start) = (pair[0].span.to + walks[at + 1], pair[1].span.from);
        let until = lag_ends[at + 1].map_or(arrival, |end| end.min(start));
        let waited = (until - arrival).max(Seconds::ZERO);
        attended += waited;
        idle += (start - arrival - waited).max(Seconds::ZERO);
    }
    (attended, idle)
}

/// For each stop the end of the dwell or drying that it has to wait for, if any.
fn lag_ends(run: &ReadRun) -> Vec<Option<Clock>> {
    let mut ends = vec![None; run.stops.len()];
    for visit in run.visits() {
        if let Some(second) = visit.second {
            ends[second] = run.wiped_from(visit);
        }
        if let Some(reopen) = visit.reopen {
            ends[reopen] = run.dry_from(visit);
        }
    }
    ends
}

fn floors(run: &ReadRun) -> Vec<FloorId> {
    let works = |s: &&PlannedStop| s.what.room().is_some() || matches!(s.what, What::Duty(_));
    let places = run
        .stops
        .iter()
        .filter(works)
        .map(|s| &run.site.places[s.place.index()]);
    let mut floors: Vec<FloorId> = places
        .map(|p| run.site.halls[p.spot.hall.index()].floor)
        .collect();
    floors.sort_unstable();
    floors.dedup();
    floors
}

#[cfg(test)]
mod tests {
    use super::Evenness;

    /// Gini of 1, 2, 3, 4 is 0.25 by its definition: the differences of all ordered pairs add up to 20, over 2 × 16 × 2.5.
    #[test]
    fn evenness_is_what_its_definitions_say() {
        let even = Evenness::of(&[1.0, 2.0, 3.0, 4.0]);
        assert!((even.gini - 0.25).abs() < 1e-12);
        assert!((even.sd - 1.25_f64.sqrt()).abs() < 1e-12);
        assert_eq!((even.highest, even.lowest, even.range), (4.0, 1.0, 3.0));
        assert_eq!(Evenness::of(&[]), Evenness::default());
        assert_eq!(Evenness::of(&[0.0, 0.0]), Evenness::default());
    }
}
