//! The search's working copy of a plan: every run's order, timed, with what it holds; always sound as far as it goes.

use super::instance::{FOREVER, Instance, NO_WAY, Secs};
use super::label::Label;
use super::limits::Holds;
use super::order::{Order, Visit};
use super::prices::{OrderCosts, Prices, Standing, bands};
use super::timing::{Ending, Event, Others, Sweep, Timed};
use itertools::Itertools;

/// One worker's order, timed.
#[derive(Clone, Debug, Default)]
pub(super) struct Run {
    pub(super) visits: Vec<Visit>,
    pub(super) places: Vec<u32>,
    pub(super) costs: OrderCosts,
    pub(super) ending: Ending,
    pub(super) price: i64,
    pub(super) machines: u32,
    pub(super) with_cart: bool,
    /// When the worker is free before each stop and after the last.
    pub(super) free: Vec<Secs>,
    /// When each stop may begin at the latest with everything after it as it is; and the end.
    pub(super) latest: Vec<Secs>,
    /// When each stop begins; and when the tear-down does.
    pub(super) starts: Vec<Secs>,
    /// Waited idly before each stop and all those before it; before the end, too.
    pub(super) waited: Vec<Secs>,
    /// Whether water in the bucket before each stop, and before the end, was used before and is used again.
    pub(super) water_kept: Vec<bool>,
    /// Time spent filling, emptying, on machines and on breaks in the gap before each stop; and before the end.
    pub(super) gap_work: Vec<Secs>,
    /// When each job of the run is done.
    spans: Vec<(u32, Secs, Secs)>,
    holds: Vec<(u16, Secs, Secs)>,
    /// The run spelled out.
    pub(super) events: Vec<Timed>,
}

/// All runs.
#[derive(Clone, Debug)]
pub(super) struct Solution<'a> {
    pub(super) instance: &'a Instance,
    pub(super) prices: Prices,
    pub(super) runs: Vec<Run>,
    /// How many tasks of each job are done; 0 is none.
    pub(super) scope: Vec<u8>,
    /// Whose run does each job.
    pub(super) run_of: Vec<Option<u16>>,
    done: Vec<Option<(Secs, Secs)>>,
    pub(super) holds: Holds,
    machines: Vec<u32>,
    undone: [i64; 3],
    /// Runs as they were before they were touched, since the last [`Solution::commit`].
    journal: Vec<(usize, Run)>,
    scopes_before: Vec<(u32, u8)>,
}

/// Buffers reused from one timing to the next.
#[derive(Clone, Debug, Default)]
pub(super) struct Scratch {
    order: Order,
    labels: [Vec<Label>; 2],
    pub(super) visits: Vec<Visit>,
}

impl<'a> Solution<'a> {
    /// Nobody does anything.
    pub(super) fn idle(instance: &'a Instance) -> Solution<'a> {
        let undone = instance
            .jobs
            .iter()
            .fold([0; 3], |sum, job| add(sum, job.undone[0]));
        let mut solution = Solution {
            instance,
            prices: Prices::new(instance),
            runs: vec![Run::default(); instance.workers.len()],
            scope: vec![0; instance.jobs.len()],
            run_of: vec![None; instance.jobs.len()],
            done: vec![None; instance.jobs.len()],
            holds: Holds::new(&instance.limits),
            machines: vec![0; instance.machines.len()],
            undone,
            journal: Vec::new(),
            scopes_before: Vec::new(),
        };
        for run in 0..solution.runs.len() {
            solution.runs[run] = solution.idle_run(run);
        }
        solution
    }

    fn idle_run(&self, run: usize) -> Run {
        let worker = &self.instance.workers[run];
        let free = vec![worker.from + worker.set_up];
        Run {
            free,
            latest: vec![worker.latest - worker.tear_down],
            starts: vec![worker.from + worker.set_up],
            waited: vec![0],
            water_kept: vec![false],
            gap_work: vec![worker.breaks.iter().map(|b| b.length).sum()],
            ..Run::default()
        }
    }

    /// What the search follows.
    pub(super) fn price(&self) -> i64 {
        Prices::undone(self.undone).saturating_add(self.price_of_runs())
    }

    /// The part of the price that is paid for what is done.
    pub(super) fn price_of_runs(&self) -> i64 {
        self.runs.iter().map(|r| r.price).sum()
    }

    /// Of all runs.
    pub(super) fn highest_share(&self) -> f64 {
        let workers = self.instance.workers.iter().zip(&self.runs);
        let shares = workers.map(|(w, r)| f64::from(r.ending.load) / f64::from(w.available));
        shares.fold(0.0, f64::max)
    }

    /// Of all runs, in bands.
    pub(super) fn highest_band(&self) -> i64 {
        let workers = self.instance.workers.iter().zip(&self.runs);
        let each = workers.map(|(w, r)| bands(self.instance, r.ending.load, w.available));
        each.max().unwrap_or(0)
    }

    /// Takes other prices for all runs.
    pub(super) fn reprice(&mut self, prices: Prices) {
        self.prices = prices;
        for (index, run) in self.runs.iter_mut().enumerate() {
            if !run.visits.is_empty() {
                run.price = prices.run(self.instance, index, run.costs, &run.ending);
            }
        }
    }

    /// Where it stands in the order of goals.
    pub(super) fn standing(&self) -> Standing {
        let runs = self
            .runs
            .iter()
            .enumerate()
            .map(|(w, r)| (w, r.costs, &r.ending));
        Standing::of(self.instance, self.undone, runs)
    }

    /// Whether every job is done in full.
    pub(super) fn is_complete(&self) -> bool {
        self.undone == [0; 3]
    }

    /// Whether every job but these is done in full.
    pub(super) fn is_complete_without(&self, jobs: &[u32]) -> bool {
        let absent = jobs.iter().fold([0; 3], |sum, job| {
            add(sum, self.instance.jobs[*job as usize].undone[0])
        });
        self.undone == absent
    }

    /// How many tasks of a job are done from now on. Only while no run does it.
    pub(super) fn set_scope(&mut self, job: u32, scope: u8) {
        self.scopes_before.push((job, self.scope[job as usize]));
        self.change_scope(job, scope);
    }

    fn change_scope(&mut self, job: u32, scope: u8) {
        let all = &self.instance.jobs[job as usize].undone;
        let old = all[usize::from(self.scope[job as usize])];
        let new = all[usize::from(scope)];
        for (sum, (new, old)) in self.undone.iter_mut().zip(new.iter().zip(old)) {
            *sum += new - old;
        }
        self.scope[job as usize] = scope;
    }

    fn others(&self, run: usize) -> Others<'_> {
        Others {
            holds: &self.holds,
            done: &self.done,
            run,
        }
    }

    /// Price of an order for a run; `None` if no timing of it is sound.
    pub(super) fn try_order(
        &self,
        run: usize,
        visits: &[Visit],
        scratch: &mut Scratch,
    ) -> Option<i64> {
        if visits.is_empty() {
            return Some(0);
        }
        let Scratch {
            order,
            labels: [before, after],
            ..
        } = scratch;
        if !order.read(self.instance, run, visits, &self.scope)
            || !self.machines_free(run, order.machines)
        {
            return None;
        }
        let sweep = Sweep::new(self.instance, run, order, visits, self.others(run));
        before.clear();
        before.push(sweep.beginning());
        for index in 0..visits.len() {
            sweep.step(index, before, after);
            std::mem::swap(before, after);
            if before.is_empty() {
                return None;
            }
        }
        let costs = order.costs();
        sweep
            .finish(before, |e| self.prices.run(self.instance, run, costs, e))
            .map(|(_, _, price)| price)
    }

    fn machines_free(&self, run: usize, wanted: u32) -> bool {
        let new = wanted & !self.runs[run].machines;
        (0..self.machines.len())
            .all(|m| new & (1 << m) == 0 || self.machines[m] < self.instance.machines[m].units)
    }

    /// Gives a run a new order. False, and nothing is changed, if no timing of it is sound.
    pub(super) fn set_order(&mut self, run: usize, visits: &[Visit]) -> bool {
        let new = if visits.is_empty() {
            Some(self.idle_run(run))
        } else {
            self.time(run, visits)
        };
        let Some(new) = new else { return false };
        let old = self.put(run, new);
        if !self.journal.iter().any(|(r, _)| *r == run) {
            self.journal.push((run, old));
        }
        true
    }

    fn put(&mut self, run: usize, new: Run) -> Run {
        for (job, _, _) in &self.runs[run].spans {
            self.done[*job as usize] = None;
            self.run_of[*job as usize] = None;
        }
        self.holds.release(run);
        for (job, from, to) in &new.spans {
            self.done[*job as usize] = Some((*from, *to));
            self.run_of[*job as usize] = Some(run as u16);
        }
        new.holds
            .iter()
            .for_each(|(limit, from, to)| self.holds.hold(*limit, run, *from, *to));
        for machine in 0..self.machines.len() {
            self.machines[machine] += (new.machines >> machine) & 1;
            self.machines[machine] -= (self.runs[run].machines >> machine) & 1;
        }
        std::mem::replace(&mut self.runs[run], new)
    }

    /// Times an order and spells it out.
    fn time(&self, run: usize, visits: &[Visit]) -> Option<Run> {
        let mut order = Order::default();
        if !order.read(self.instance, run, visits, &self.scope)
            || !self.machines_free(run, order.machines)
        {
            return None;
        }
        let sweep = Sweep::new(self.instance, run, &order, visits, self.others(run));
        let mut kept = vec![vec![sweep.beginning()]];
        for index in 0..visits.len() {
            let mut after = Vec::new();
            sweep.step(index, &kept[index], &mut after);
            kept.push(after);
        }
        let costs = order.costs();
        let (ending, last, price) = sweep.finish(kept.last()?, |e| {
            self.prices.run(self.instance, run, costs, e)
        })?;
        let events = sweep.trace(&kept, last);
        let mut new = Run {
            visits: visits.to_vec(),
            costs,
            ending,
            price,
            ..Run::default()
        };
        (new.machines, new.with_cart) = (order.machines, order.with_cart);
        new.places = order.facts.iter().map(|f| f.place).collect();
        self.note_times(run, &order, &events, &mut new);
        new.events = events;
        Some(new)
    }

    /// Fills in what follows from the times: spans of jobs, holds, free and latest times.
    fn note_times(&self, run: usize, order: &Order, events: &[Timed], new: &mut Run) {
        let stops = events
            .iter()
            .filter(|e| matches!(e.event, Event::Visit(_)))
            .collect_vec();
        let worker = &self.instance.workers[run];
        new.free = std::iter::once(worker.from + worker.set_up)
            .chain(stops.iter().map(|s| s.to))
            .collect();
        for (index, stop) in stops.iter().enumerate() {
            let (visit, facts) = (new.visits[index], &order.facts[index]);
            let job = &self.instance.jobs[visit.job as usize];
            match new.spans.iter_mut().find(|(id, ..)| *id == visit.job) {
                Some(span) => span.2 = stop.to,
                None => new.spans.push((visit.job, stop.from, stop.to)),
            }
            if facts.part.mop > 0 {
                let (from, to) = (
                    stop.to - facts.part.wet_before,
                    stop.to + facts.part.wet_after,
                );
                new.holds
                    .extend(job.wet_limits.iter().map(|limit| (*limit, from, to)));
            }
        }
        for (id, from, to) in &new.spans {
            let job = &self.instance.jobs[*id as usize];
            new.holds
                .extend(job.closed_limits.iter().map(|limit| (*limit, *from, *to)));
        }
        self.slack(run, order, events, new);
        new.water_kept = water_kept(order, events);
    }

    /// When each stop, and the end, may begin at the latest if everything after it happens as it does now, and how much other
    /// than stops happens in the gap before each.
    fn slack(&self, run: usize, order: &Order, events: &[Timed], new: &mut Run) {
        let worker = &self.instance.workers[run];
        let table = order.table(self.instance, run);
        let end = if order.ends_last {
            worker.latest
        } else {
            worker.latest_unless_last
        };
        new.latest = vec![end - worker.tear_down; new.visits.len() + 1];
        new.gap_work = vec![0; new.visits.len() + 1];
        new.starts = vec![0; new.visits.len() + 1];
        new.waited = vec![0; new.visits.len() + 1];
        let mut gap = new.visits.len();
        let mut by = end;
        let (mut next, mut next_from) = (worker.start, None);
        for timed in events.iter().skip(1).rev() {
            let length = timed.to - timed.from;
            let walk = table.walk(timed.place, next).min(NO_WAY / 2);
            by -= walk + length;
            new.waited[gap] += next_from.map_or(0, |from: Secs| from - walk - timed.to);
            match timed.event {
                Event::Visit(index) => {
                    new.starts[index] = timed.from;
                    by = by.min(self.latest_start(run, order, new, index, length));
                    new.latest[index] = by;
                    gap = index;
                }
                Event::Break(index) => {
                    by = by.min(worker.breaks[index].latest);
                    new.gap_work[gap] += length;
                }
                Event::TearDown => new.starts[gap] = timed.from,
                _ => new.gap_work[gap] += length,
            }
            (next, next_from) = (timed.place, Some(timed.from));
        }
        for index in 1..new.waited.len() {
            new.waited[index] += new.waited[index - 1];
        }
    }

    /// The latest start that the windows of a stop, and its later parts, leave it.
    fn latest_start(
        &self,
        run: usize,
        order: &Order,
        new: &Run,
        index: usize,
        length: Secs,
    ) -> Secs {
        let visit = new.visits[index];
        let job = &self.instance.jobs[visit.job as usize];
        let last_inside = |windows: &[(Secs, Secs)], by: Secs| {
            let inside = windows
                .iter()
                .map(|(from, to)| ((*to - length).min(by), *from));
            inside
                .filter(|(start, from)| start >= from)
                .map(|(start, _)| start)
                .max()
                .unwrap_or(-FOREVER)
        };
        let mut by = FOREVER;
        if order.facts[index].more {
            let follows = |v: &Visit| v.job == visit.job && v.part == visit.part + 1;
            if let Some(second) = new.visits.iter().position(follows) {
                by = new.latest[second] - order.facts[second].part.lag - length;
            }
        } else if let Some(closure) = &job.closure {
            by = last_inside(closure, by);
            for limit in &job.closed_limits {
                let end = new.starts[index] + length;
                by = by.min(self.holds.full_from(*limit, run, end) - length);
            }
        }
        last_inside(&job.windows, by)
    }

    /// The walking table a run uses now.
    pub(super) fn table(&self, run: usize, with_cart: bool) -> &super::instance::WalkTable {
        let worker = &self.instance.workers[run];
        &self.instance.walks[worker
            .with_cart
            .filter(|_| with_cart)
            .unwrap_or(worker.on_foot)]
    }

    /// Takes jobs out of their runs.
    pub(super) fn remove(&mut self, jobs: &[u32]) {
        let runs = jobs
            .iter()
            .filter_map(|j| self.run_of[*j as usize])
            .map(usize::from)
            .sorted()
            .dedup()
            .collect_vec();
        let mut dropped = jobs.to_vec();
        for run in runs {
            let rest = self.runs[run]
                .visits
                .iter()
                .copied()
                .filter(|v| !jobs.contains(&v.job))
                .collect_vec();
            if !self.set_order(run, &rest) {
                // What is left cannot be timed around the other runs as they stand: start this run afresh.
                dropped.extend(rest.iter().map(|v| v.job));
                self.set_order(run, &[]);
            }
        }
        for job in dropped {
            if self.scope[job as usize] > 0 {
                self.set_scope(job, 0);
            }
        }
    }

    /// Makes what has been done since the last commit final.
    pub(super) fn commit(&mut self) {
        self.journal.clear();
        self.scopes_before.clear();
    }

    /// Undoes everything since the last commit.
    pub(super) fn roll_back(&mut self) {
        // A job may have moved between two touched runs: clear all of them before putting the old ones back.
        let journal = std::mem::take(&mut self.journal);
        for (run, _) in &journal {
            let empty = self.idle_run(*run);
            self.put(*run, empty);
        }
        for (run, old) in journal {
            self.put(run, old);
        }
        while let Some((job, scope)) = self.scopes_before.pop() {
            self.change_scope(job, scope);
        }
    }
}

/// For each stop and the end, whether water is carried there from one mopped floor to the next.
fn water_kept(order: &Order, events: &[Timed]) -> Vec<bool> {
    let mut kept = vec![false; order.facts.len() + 1];
    let mut used: Option<usize> = None;
    for timed in events {
        match timed.event {
            Event::Fill => used = None,
            Event::Visit(index) if order.facts[index].part.mop > 0 => {
                if let Some(last) = used {
                    kept[last + 1..=index].fill(true);
                }
                used = Some(index);
            }
            _ => {}
        }
    }
    kept
}

fn add(mut sum: [i64; 3], more: [i64; 3]) -> [i64; 3] {
    sum.iter_mut().zip(more).for_each(|(s, m)| *s += m);
    sum
}
