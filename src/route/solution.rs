//! The search's working copy of a plan: every run's order, timed, with what it holds; always sound as far as it goes.

use super::exact::{Exact, Workspace};
use super::insert::Position;
use super::instance::{Instance, Secs};
use super::limits::Holds;
use super::order::Visit;
use super::plain::{Gap, Stop};
use super::prices::{Prices, Standing, bands};
use super::run::{Run, refill};
use super::timing::Others;
use itertools::Itertools;

/// All runs.
#[derive(Clone, Debug)]
#[expect(
    clippy::vec_box,
    reason = "runs are large and change places all the time"
)]
pub(super) struct Solution<'a> {
    pub(super) instance: &'a Instance,
    pub(super) prices: Prices,
    pub(super) runs: Vec<Box<Run>>,
    /// How many tasks of each job are done; 0 is none.
    pub(super) scope: Vec<u8>,
    /// Whose run does each job.
    pub(super) run_of: Vec<Option<u16>>,
    done: Vec<Option<(Secs, Secs)>>,
    pub(super) holds: Holds,
    machines: Vec<u32>,
    undone: [i64; 3],
    /// Runs as they were before they were touched, since the last [`Solution::commit`].
    journal: Vec<(usize, Box<Run>)>,
    scopes_before: Vec<(u32, u8)>,
    /// Whether [`plain`] runs are all there are.
    pub(super) plain: bool,
    /// Which runs have changed since [`Solution::save`].
    changed: Vec<bool>,
    /// Runs that are not needed, for the room they have.
    spare: Vec<Box<Run>>,
    space: Workspace,
    /// Room for runs, orders and positions that are being tried.
    pub(super) candidates: Vec<u16>,
    pub(super) visits: Vec<Visit>,
    pub(super) positions: Vec<Position>,
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
            runs: vec![Box::default(); instance.workers.len()],
            scope: vec![0; instance.jobs.len()],
            run_of: vec![None; instance.jobs.len()],
            done: vec![None; instance.jobs.len()],
            holds: Holds::new(&instance.limits),
            machines: vec![0; instance.machines.len()],
            undone,
            journal: Vec::new(),
            scopes_before: Vec::new(),
            plain: instance.is_plain(),
            changed: vec![true; instance.workers.len()],
            spare: Vec::new(),
            space: Workspace::default(),
            candidates: Vec::new(),
            visits: Vec::new(),
            positions: Vec::new(),
        };
        for (worker, run) in solution.runs.iter_mut().enumerate() {
            run.clear(instance, worker);
        }
        solution.take_up();
        solution
    }

    /// Those who have begun go on: rooms begun are finished, and everybody has to get home.
    fn take_up(&mut self) {
        let instance = self.instance;
        for (limit, from, to) in &instance.before.holds {
            // Nobody's: no run gives them back.
            self.holds.hold(*limit, usize::from(u16::MAX), *from, *to);
        }
        for (worker, begun) in instance.before.begun.iter().enumerate() {
            let Some(begun) = begun else {
                continue;
            };
            for open in &begun.open {
                self.set_scope(open.job, instance.jobs[open.job as usize].full());
            }
            let _ = self.set_order(worker, &begun.visits)
                || self.set_order_thoroughly(worker, &begun.visits);
        }
        self.commit();
    }

    /// What is left of a run when everything is taken out: nothing, or what finishes the rooms begun.
    fn least(&self, run: usize) -> &'a [Visit] {
        let begun = self.instance.before.begun(run);
        begun.map_or(&[], |b| b.visits.as_slice())
    }

    /// Whether a worker with this order never leaves the start place.
    fn stays(&self, run: usize, visits: &[Visit]) -> bool {
        visits.is_empty() && self.instance.before.begun(run).is_none()
    }

    /// What the search follows.
    pub(super) fn price(&self) -> i64 {
        Prices::undone(self.undone).saturating_add(self.price_of_runs())
    }

    /// The part of the price that is paid for what is done.
    pub(super) fn price_of_runs(&self) -> i64 {
        let prices = self.runs.iter().map(|r| r.price);
        prices.fold(0, i64::saturating_add)
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
            let begun = self.instance.before.begun(index).is_some();
            if begun || !run.visits.is_empty() {
                run.price = prices.run(self.instance, index, run.costs, &run.ending);
            }
        }
    }

    /// From now on follows the order of goals itself, and looks at all that a fixed order leaves open when it times a run.
    pub(super) fn be_thorough(&mut self) {
        self.reprice(self.prices.strict());
        self.space.thorough = true;
    }

    /// Times runs as quickly as the search does again.
    pub(super) fn be_quick(&mut self) {
        self.space.thorough = false;
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

    /// Price of an order for a run; `None` if no timing of it is sound.
    pub(super) fn try_order(&mut self, run: usize, visits: &[Visit]) -> Option<i64> {
        if self.stays(run, visits) {
            return Some(0);
        }
        if self.plain {
            let mut tried = self.spare.pop().unwrap_or_default();
            let fits = self.time(run, visits, &mut tried);
            let price = fits.then_some(tried.price);
            self.spare.push(tried);
            return price;
        }
        let mut space = std::mem::take(&mut self.space);
        let machines = self.machines_free(run);
        let price = self.exact(run).price(visits, machines, &mut space);
        self.space = space;
        price
    }

    /// Times every run exactly: plain runs, too, are then spelled out.
    pub(super) fn spell_out(&mut self) {
        let mut space = Workspace::default();
        let working = (0..self.runs.len()).filter(|run| !self.runs[*run].visits.is_empty());
        for run in working.collect_vec() {
            let mut new = self.spare.pop().unwrap_or_default();
            let (order, machines) = (self.runs[run].visits.clone(), self.machines_free(run));
            if self.exact(run).time(&order, machines, &mut space, &mut new) {
                self.put(run, new);
            }
        }
    }

    fn exact(&self, run: usize) -> Exact<'_> {
        Exact {
            instance: self.instance,
            prices: &self.prices,
            scope: &self.scope,
            others: Others {
                holds: &self.holds,
                done: &self.done,
                run,
            },
            now: &self.runs[run].swept,
        }
    }

    /// Times an order. False, and `new` is of no use, if no timing of it is sound.
    fn time(&mut self, run: usize, visits: &[Visit], new: &mut Run) -> bool {
        if self.stays(run, visits) {
            new.clear(self.instance, run);
            return true;
        }
        if self.plain {
            let fits = new.set_plain(self.instance, run, visits, &self.scope);
            new.price = self.prices.run(self.instance, run, new.costs, &new.ending);
            return fits;
        }
        let mut space = std::mem::take(&mut self.space);
        let machines = self.machines_free(run);
        let fits = self.exact(run).time(visits, machines, &mut space, new);
        self.space = space;
        fits
    }

    /// The machines a run has or may have, by bit.
    fn machines_free(&self, run: usize) -> u32 {
        let free = |m: &usize| self.machines[*m] < self.instance.machines[*m].units;
        let free = (0..self.machines.len()).filter(free);
        free.fold(self.runs[run].machines, |all, m| all | 1 << m)
    }

    /// Gives a run a new order. False, and nothing is changed, if no timing of it is sound.
    pub(super) fn set_order(&mut self, run: usize, visits: &[Visit]) -> bool {
        let mut new = self.spare.pop().unwrap_or_default();
        let fits = self.time(run, visits, &mut new);
        self.replace(run, new, fits)
    }

    /// The same, looking at all that a fixed order leaves open: an order from an earlier answer may need it.
    pub(super) fn set_order_thoroughly(&mut self, run: usize, visits: &[Visit]) -> bool {
        let before = std::mem::replace(&mut self.space.thorough, true);
        let fits = self.set_order(run, visits);
        self.space.thorough = before;
        fits
    }

    /// Puts a stop into a gap of a plain run that fits it.
    pub(super) fn insert_plain(&mut self, run: usize, gap: Gap, stop: Stop) -> bool {
        self.change_plain(run, |new, instance| {
            new.insert_plain(instance, run, gap.at, stop)
        })
    }

    /// Changes a plain run in place. False if it is of no use then.
    fn change_plain(
        &mut self,
        run: usize,
        change: impl FnOnce(&mut Run, &Instance) -> bool,
    ) -> bool {
        let mut new = self.spare.pop().unwrap_or_default();
        new.clone_from(&self.runs[run]);
        let fits = change(&mut new, self.instance);
        new.price = self.prices.run(self.instance, run, new.costs, &new.ending);
        self.replace(run, new, fits)
    }

    /// Puts a run in place of another if it fits, and remembers the other.
    fn replace(&mut self, run: usize, new: Box<Run>, fits: bool) -> bool {
        let old = if fits { self.put(run, new) } else { new };
        if fits && !self.journal.iter().any(|(r, _)| *r == run) {
            self.journal.push((run, old));
        } else {
            self.spare.push(old);
        }
        fits
    }

    /// Takes a run over, with its times, from another plan of the same jobs.
    pub(super) fn copy_run(&mut self, run: usize, from: &Solution) {
        for visit in from.runs[run].visits.iter().filter(|v| v.part == 0) {
            self.set_scope(visit.job, from.scope[visit.job as usize]);
        }
        self.put(run, from.runs[run].clone());
    }

    fn put(&mut self, run: usize, new: Box<Run>) -> Box<Run> {
        self.changed[run] = true;
        for visit in &self.runs[run].visits {
            self.run_of[visit.job as usize] = None;
        }
        for visit in &new.visits {
            self.run_of[visit.job as usize] = Some(run as u16);
        }
        if !self.plain {
            for (job, _, _) in &self.runs[run].spans {
                self.done[*job as usize] = None;
            }
            for (job, from, to) in &new.spans {
                self.done[*job as usize] = Some((*from, *to));
            }
            self.holds.release(run);
            for (limit, from, to) in &new.holds {
                self.holds.hold(*limit, run, *from, *to);
            }
            for machine in 0..self.machines.len() {
                self.machines[machine] += (new.machines >> machine) & 1;
                self.machines[machine] -= (self.runs[run].machines >> machine) & 1;
            }
        }
        std::mem::replace(&mut self.runs[run], new)
    }

    /// The walking table a run uses now.
    pub(super) fn table(&self, run: usize, with_cart: bool) -> &super::instance::WalkTable {
        let worker = &self.instance.workers[run];
        &self.instance.walks[worker
            .with_cart
            .filter(|_| with_cart)
            .unwrap_or(worker.on_foot)]
    }

    /// Takes jobs out of their runs. Those of a run that cannot be timed without them around the other runs as they stand, not even with
    /// only what is begun, stay.
    pub(super) fn remove(&mut self, jobs: &[u32]) {
        let runs = jobs.iter().filter_map(|j| self.run_of[*j as usize]);
        let runs = runs.sorted_unstable().dedup().collect_vec();
        let mut dropped = jobs.to_vec();
        for run in runs.into_iter().map(usize::from) {
            if !self.remove_from(run, jobs) {
                // Start this run afresh.
                dropped.extend(self.runs[run].visits.iter().map(|v| v.job));
                self.set_order(run, self.least(run));
            }
        }
        for job in dropped {
            if self.run_of[job as usize].is_none() && self.scope[job as usize] > 0 {
                self.set_scope(job, 0);
            }
        }
    }

    /// Takes one job out. False if it is still done.
    pub(super) fn take_out(&mut self, job: u32) -> bool {
        self.remove(&[job]);
        self.run_of[job as usize].is_none()
    }

    fn remove_from(&mut self, run: usize, jobs: &[u32]) -> bool {
        if self.plain && self.runs[run].visits.iter().any(|v| !jobs.contains(&v.job)) {
            return self.change_plain(run, |new, instance| new.remove_plain(instance, run, jobs));
        }
        let mut rest = std::mem::take(&mut self.visits);
        let staying = self.runs[run]
            .visits
            .iter()
            .filter(|v| !jobs.contains(&v.job));
        refill(&mut rest, staying.copied());
        let fits = self.set_order(run, &rest);
        self.visits = rest;
        fits
    }

    /// Two workers exchange their whole runs. False, and the plan is to be rolled back, if they cannot.
    pub(super) fn exchange(&mut self, a: usize, b: usize) -> bool {
        let orders = [a, b].map(|run| self.runs[run].visits.clone());
        a != b
            && self.set_order(a, &[])
            && self.set_order(b, &orders[0])
            && self.set_order(a, &orders[1])
    }

    /// Copies to `saved`, an earlier copy of this very plan, what has changed since.
    pub(super) fn save(&mut self, saved: &mut Solution<'a>) {
        for (run, changed) in self.changed.iter_mut().enumerate() {
            if std::mem::take(changed) {
                saved.runs[run].clone_from(&self.runs[run]);
            }
        }
        saved.prices = self.prices;
        saved.undone = self.undone;
        saved.scope.clone_from(&self.scope);
        saved.run_of.clone_from(&self.run_of);
        saved.machines.clone_from(&self.machines);
        if !self.plain {
            saved.done.clone_from(&self.done);
            saved.holds.clone_from(&self.holds);
        }
    }

    /// Makes what has been done since the last commit final.
    pub(super) fn commit(&mut self) {
        self.spare
            .extend(self.journal.drain(..).map(|(_, run)| run));
        self.scopes_before.clear();
    }

    /// Undoes everything since the last commit.
    pub(super) fn roll_back(&mut self) {
        // A job may have moved between two touched runs: clear all of them before putting the old ones back.
        let journal = std::mem::take(&mut self.journal);
        for (run, _) in &journal {
            let mut empty = self.spare.pop().unwrap_or_default();
            empty.clear(self.instance, *run);
            let dropped = self.put(*run, empty);
            self.spare.push(dropped);
        }
        for (run, old) in journal {
            let empty = self.put(run, old);
            self.spare.push(empty);
        }
        while let Some((job, scope)) = self.scopes_before.pop() {
            self.change_scope(job, scope);
        }
    }
}

fn add(mut sum: [i64; 3], more: [i64; 3]) -> [i64; 3] {
    sum.iter_mut().zip(more).for_each(|(s, m)| *s += m);
    sum
}
