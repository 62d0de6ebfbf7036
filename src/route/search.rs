//! The search: several islands, each ruining and recreating, that share their best plan now and then.
//!
//! With a budget of iterations the answer is the same at any number of threads: the islands are a fixed number, each
//! has its own stream of chance, and they are collected by index.

use super::instance::Instance;
use super::island::Island;
use super::near::Near;
use super::order::Visit;
use super::prices::Standing;
use super::reorder::reorder;
use super::resume::resume;
use super::schedule::Schedule;
use super::solution::Solution;
use super::stop::Stop;
use super::timing::Timed;
use rayon::prelude::*;
use std::time::Duration;

/// How often the islands meet.
const MEETINGS: u32 = 40;

/// From this part of the search on, an island that leaves more undone than another goes on from the best plan, and from that one on every
/// island that is behind.
const SHARE_SCOPE_FROM: f64 = 0.5;
const SHARE_FROM: f64 = 0.9;

/// What a search is told.
#[derive(Clone, Copy, Debug)]
pub struct Settings<'a> {
    /// When to stop.
    pub stop: Stop<'a>,
    /// Chooses the stream of chance.
    pub seed: u64,
    /// How many islands search side by side.
    pub islands: u32,
}

impl Settings<'_> {
    /// The same with so much of a budget of time left for something else.
    #[must_use]
    pub fn leaving(self, time: Duration) -> Self {
        Settings {
            stop: self.stop.leaving(time),
            ..self
        }
    }
}

/// A run as found: its order, and what happens when.
#[derive(Clone, Debug, Default)]
pub struct FoundRun {
    /// Its stops.
    pub visits: Vec<Visit>,
    /// Everything that happens, in order of time; empty for an idle worker.
    pub events: Vec<Timed>,
}

/// A plan as found.
#[derive(Clone, Debug)]
pub struct Found {
    /// By worker.
    pub runs: Vec<FoundRun>,
    /// How many tasks of each job are done, most important first.
    pub scope: Vec<u8>,
    /// How good it is.
    pub standing: Standing,
    /// Iterations over all islands.
    pub iterations: u64,
}

/// A plan to start from: for each worker the jobs in order, each with how many of its tasks are done.
pub type Start = Vec<Vec<Visit>>;

/// Searches for a good plan, from nothing or from earlier orders as far as they still fit. What is not in these is first given to its owner by
/// `split`, if that fits.
///
/// `watch` is told how far the search is (0 to 1) and where its best plan stands, as soon as there is one and at every meeting of the islands.
pub fn search(
    instance: &Instance,
    start: Option<&Start>,
    split: &[Option<u16>],
    settings: Settings,
    watch: &mut dyn FnMut(f64, &Standing),
) -> Found {
    let (best, iterations) = best(instance, start, split, settings, watch);
    found(&best, iterations)
}

/// The best plan as the search itself has it, and how many iterations it took.
pub(super) fn best<'a>(
    instance: &'a Instance,
    start: Option<&Start>,
    split: &[Option<u16>],
    settings: Settings,
    watch: &mut dyn FnMut(f64, &Standing),
) -> (Solution<'a>, u64) {
    let near = Near::new(instance);
    let mut idle = Solution::idle(instance);
    if let Some(start) = start {
        if instance.before.is_known() {
            resume(&mut idle, start);
        } else {
            begin_from(&mut idle, start);
        }
    }
    let mut islands: Vec<Island> = (0..settings.islands.max(1))
        .map(|i| Island::new(&idle, settings.seed, u64::from(i)))
        .collect();
    islands
        .par_iter_mut()
        .for_each(|island| island.complete(&near, split));
    if let Some(first) = islands.iter().map(|i| &i.standing).min() {
        watch(0.0, first);
    }
    let settings = Settings {
        stop: settings.stop.anew(),
        ..settings
    };
    let mut iterations = 0;
    if !instance.jobs.is_empty() {
        iterations = improve(&mut islands, start.is_some(), &near, settings, watch);
    }
    let Some(island) = islands
        .into_iter()
        .min_by(|a, b| a.standing.cmp(&b.standing))
    else {
        return (idle, iterations);
    };
    let mut best = island.finish(&near, settings.stop);
    reorder(&mut best, settings.stop);
    if best.plain {
        best.spell_out();
    }
    (best, iterations)
}

fn improve(
    islands: &mut [Island],
    begun: bool,
    near: &Near,
    settings: Settings,
    watch: &mut dyn FnMut(f64, &Standing),
) -> u64 {
    let mut done = vec![0u64; islands.len()];
    let instance = islands[0].best.instance;
    let mut schedule = Schedule::new(instance, begun, near.reach);
    for meeting in 1..=MEETINGS {
        let until = f64::from(meeting) / f64::from(MEETINGS);
        // The last stretch is searched at the final prices.
        for island in &mut *islands {
            island.reprice(schedule.cooled(until - f64::EPSILON));
        }
        islands
            .par_iter_mut()
            .zip(&mut done)
            .for_each(|(island, done)| {
                while let Some(progress) = settings.stop.progress(*done).filter(|p| *p < until) {
                    island.iterate(near, schedule.temperature(progress));
                    *done += 1;
                }
            });
        if meeting == 1 {
            // The first stretch tells how much searching there is time for.
            let expected = f64::from(MEETINGS) * done[0] as f64;
            schedule = schedule.with_iterations(expected, instance.jobs.len());
        }
        let Some(best) = (0..islands.len()).min_by_key(|i| islands[*i].standing.clone()) else {
            break;
        };
        watch(until, &islands[best].standing);
        if (SHARE_SCOPE_FROM..1.0).contains(&until) {
            let plan = islands[best].best.clone();
            let standing = islands[best].standing.clone();
            let behind = |i: &&mut Island| {
                i.standing.undone > standing.undone || until >= SHARE_FROM && i.standing > standing
            };
            islands
                .iter_mut()
                .filter(behind)
                .for_each(|i| i.adopt(plan.clone()));
        }
    }
    done.iter().sum()
}

/// Takes over earlier orders. Each is timed around those before it, so how they fit depends on which comes first: the best beginning is
/// taken. If none will do, jobs that no longer fit are dropped, from the back of their run.
fn begin_from(solution: &mut Solution, start: &Start) {
    let runs = start.len().min(solution.runs.len());
    let whole = (0..runs).filter_map(|first| whole(solution, start, first));
    if let Some(best) = whole.min_by_key(Solution::standing) {
        *solution = best;
        return;
    }
    for (run, visits) in start.iter().enumerate().take(runs) {
        ask_for(solution, visits);
        let mut order = visits.clone();
        while !take(solution, run, &order) {
            let Some(last) = order.last().map(|v| v.job) else {
                break;
            };
            order.retain(|v| v.job != last);
            solution.set_scope(last, 0);
        }
    }
    solution.commit();
}

/// All orders, timed from run `first` on.
fn whole<'a>(idle: &Solution<'a>, start: &Start, first: usize) -> Option<Solution<'a>> {
    let mut solution = idle.clone();
    let runs = start.len().min(solution.runs.len());
    for run in (0..runs).map(|index| (first + index) % runs) {
        ask_for(&mut solution, &start[run]);
        if !take(&mut solution, run, &start[run]) {
            return None;
        }
    }
    solution.commit();
    Some(solution)
}

/// Wants the jobs of an order done in full.
fn ask_for(solution: &mut Solution, order: &[Visit]) {
    for visit in order.iter().filter(|v| v.part == 0) {
        solution.set_scope(visit.job, solution.instance.jobs[visit.job as usize].full());
    }
}

/// An order that was found thoroughly may have no other timing.
fn take(solution: &mut Solution, run: usize, order: &[Visit]) -> bool {
    solution.set_order(run, order) || solution.set_order_thoroughly(run, order)
}

pub(super) fn found(best: &Solution, iterations: u64) -> Found {
    let standing = best.standing();
    let runs = best
        .runs
        .iter()
        .map(|r| FoundRun {
            visits: r.visits.clone(),
            events: r.events.clone(),
        })
        .collect();
    Found {
        runs,
        scope: best.scope.clone(),
        standing,
        iterations,
    }
}
