//! Runs of plain instances ([`Instance::is_plain`]): changed in place, and one more job's place in them found without timing
//! them again.
//!
//! With when the worker is free after each stop and when each may begin at the latest, it takes a constant time to tell whether
//! a job fits in a gap and how much longer the run is then (Savelsbergh 1992, doi:10.1287/ijoc.4.2.146).

use super::instance::{FOREVER, Goal, Instance, Secs, Worker};
use super::order::Visit;
use super::prices::OrderCosts;
use super::run::Run;
use super::timing::{Ending, in_windows, last_start};
use rand::{Rng, RngExt};

/// A stop of a run, or its end, with what is known of it; side by side in memory, because the search reads them all the time.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stop {
    /// The job; [`HOME`] at the end.
    job: u32,
    place: u32,
    length: Secs,
    waste: i32,
    /// Its window, if it has only one.
    window: Option<(Secs, Secs)>,
    /// The walk from the stop before.
    leg: Secs,
    /// When the worker is free after it.
    free: Secs,
    /// When it may begin at the latest with everything after it as it is.
    latest: Secs,
}

const HOME: u32 = u32::MAX;

impl Stop {
    fn first_start(&self, instance: &Instance, arrival: Secs) -> Option<Secs> {
        match self.window {
            Some((from, to)) => {
                let start = arrival.max(from);
                (start + self.length <= to).then_some(start)
            }
            None => in_windows(windows(instance, self.job), arrival, self.length),
        }
    }

    fn last_start(&self, instance: &Instance, by: Secs) -> Secs {
        match self.window {
            Some((_, to)) => by.min(to - self.length),
            None => last_start(windows(instance, self.job), by, self.length),
        }
    }
}

fn windows(instance: &Instance, job: u32) -> &[(Secs, Secs)] {
    &instance.jobs[job as usize].windows
}

/// A gap of a run into which a job fits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Gap {
    /// Before which stop.
    pub(super) at: usize,
    /// How much more is walked.
    pub(super) detour: Secs,
}

/// The one stop of a job, the same for all workers of a profile; `None` if none of them can do it.
pub(super) fn stop_of(instance: &Instance, worker: usize, id: u32, scope: &[u8]) -> Option<Stop> {
    let how = instance.scope(worker, id, scope[id as usize]);
    let job = &instance.jobs[id as usize];
    let part = how.parts.first()?;
    how.possible.then(|| Stop {
        job: id,
        place: job.place,
        length: part.length,
        waste: part.waste,
        window: (job.windows.len() == 1).then(|| job.windows[0]),
        leg: 0,
        free: 0,
        latest: FOREVER,
    })
}

/// The end of every run of a worker: putting away at the start place.
fn home(instance: &Instance, worker: usize) -> Stop {
    let who = &instance.workers[worker];
    let by = who.latest.min(who.latest_unless_last);
    Stop {
        job: HOME,
        place: who.start,
        length: who.tear_down,
        waste: 0,
        window: Some((-FOREVER, by)),
        leg: 0,
        free: 0,
        latest: by - who.tear_down,
    }
}

/// How a run ends at `end`; what is neither busy nor before the shift is idle, as there are no breaks.
fn ending(who: &Worker, load: Secs, end: Secs) -> Ending {
    Ending {
        load,
        idle: end - who.from - load,
        closed: 0,
        end,
        moved: 0,
    }
}

impl Run {
    /// Makes it an empty plain run.
    pub(super) fn clear_plain(&mut self, instance: &Instance, worker: usize) {
        self.waste = 0;
        self.stops.clear();
        self.stops.push(home(instance, worker));
    }

    /// Makes it the plain run of an order. False, and it is of no use, if that cannot be kept.
    ///
    /// # Complexity
    /// Linear in the stops.
    pub(super) fn set_plain(
        &mut self,
        instance: &Instance,
        worker: usize,
        order: &[Visit],
        scope: &[u8],
    ) -> bool {
        self.clear(instance, worker);
        self.stops.clear();
        for visit in order {
            if !instance.jobs[visit.job as usize].eligible[worker] {
                return false;
            }
            let Some(stop) = stop_of(instance, worker, visit.job, scope) else {
                return false;
            };
            self.visits.push(*visit);
            self.stops.push(stop);
        }
        self.stops.push(home(instance, worker));
        self.refresh(instance, worker, 0, order.len())
    }

    /// Puts a stop into a plain run.
    pub(super) fn insert_plain(
        &mut self,
        instance: &Instance,
        worker: usize,
        at: usize,
        stop: Stop,
    ) -> bool {
        let visit = Visit {
            job: stop.job,
            part: 0,
        };
        self.visits.insert(at, visit);
        self.stops.insert(at, stop);
        self.refresh(instance, worker, at, at)
    }

    /// Takes jobs out of a plain run.
    pub(super) fn remove_plain(
        &mut self,
        instance: &Instance,
        worker: usize,
        jobs: &[u32],
    ) -> bool {
        self.visits.retain(|v| !jobs.contains(&v.job));
        self.stops.retain(|s| !jobs.contains(&s.job));
        self.refresh(instance, worker, 0, self.visits.len())
    }

    /// Times what comes from `first` on, and finds the latest starts of what comes before `last` and of it.
    fn refresh(&mut self, instance: &Instance, worker: usize, first: usize, last: usize) -> bool {
        let who = &instance.workers[worker];
        let table = &instance.walks[who.on_foot];
        let (mut here, mut time) = self.free_before(instance, worker, first);
        for stop in &mut self.stops[first..] {
            stop.leg = table.walk(here, stop.place);
            let Some(start) = stop.first_start(instance, time + stop.leg) else {
                return false;
            };
            time = start + stop.length;
            stop.free = time;
            here = stop.place;
        }
        for index in (0..=last).rev() {
            let Some(next) = self.stops.get(index + 1) else {
                continue;
            };
            let by = next.latest - next.leg - self.stops[index].length;
            self.stops[index].latest = self.stops[index].last_start(instance, by);
        }
        self.sum_up(instance, worker, time);
        self.waste <= i64::from(who.cart)
    }

    /// Costs and load of the stops as they are.
    fn sum_up(&mut self, instance: &Instance, worker: usize, end: Secs) {
        let who = &instance.workers[worker];
        let (mut length, mut walked, mut waste) = (0, 0, 0i64);
        for stop in &self.stops {
            length += stop.length;
            walked += stop.leg;
            waste += i64::from(stop.waste);
        }
        self.waste = waste;
        self.ending = ending(who, who.set_up + length + walked, end);
        self.costs.work = length - who.tear_down;
        if instance.goal == Goal::Even {
            let jobs = self.visits.iter().map(|v| &instance.jobs[v.job as usize]);
            let floors = jobs
                .clone()
                .fold(0u128, |all, job| all | 1 << (job.floor & 127));
            self.costs.floors = floors.count_ones();
            self.costs.dislike = jobs.map(|job| job.dislike[worker]).sum();
        }
    }

    /// What the run costs, and how it ends, with a stop put into a gap that fits it.
    ///
    /// # Complexity
    /// Linear in the stops of the run.
    pub(super) fn with_stop(
        &self,
        instance: &Instance,
        worker: usize,
        gap: Gap,
        stop: &Stop,
    ) -> (OrderCosts, Ending) {
        let who = &instance.workers[worker];
        let table = &instance.walks[who.on_foot];
        let (mut here, mut time) = self.free_before(instance, worker, gap.at);
        for next in std::iter::once(stop).chain(&self.stops[gap.at..]) {
            let arrival = time + table.walk(here, next.place);
            time = next.first_start(instance, arrival).unwrap_or(FOREVER) + next.length;
            here = next.place;
        }
        let job = &instance.jobs[stop.job as usize];
        let floors = self
            .visits
            .iter()
            .map(|v| instance.jobs[v.job as usize].floor);
        let floors = floors
            .chain([job.floor])
            .fold(0u128, |all, floor| all | 1 << (floor & 127));
        let costs = OrderCosts {
            work: self.costs.work + stop.length,
            floors: floors.count_ones(),
            dislike: self.costs.dislike + job.dislike[worker],
            change: 0,
        };
        let load = if self.visits.is_empty() {
            who.set_up + who.tear_down
        } else {
            self.ending.load
        };
        (costs, ending(who, load + stop.length + gap.detour, time))
    }

    /// Where and when the worker is free before stop `at`.
    fn free_before(&self, instance: &Instance, worker: usize, at: usize) -> (u32, Secs) {
        let who = &instance.workers[worker];
        match at.checked_sub(1).map(|before| &self.stops[before]) {
            Some(before) => (before.place, before.free),
            None => (who.start, who.from + who.set_up),
        }
    }

    /// The gap of a plain run into which a stop fits with the least detour below `below`; one in so many, `blink`, is overlooked.
    ///
    /// # Complexity
    /// Linear in the stops of the run, a few operations each.
    pub(super) fn best_gap<R: Rng>(
        &self,
        instance: &Instance,
        worker: usize,
        stop: &Stop,
        below: Secs,
        blink: f64,
        rng: &mut R,
    ) -> Option<Gap> {
        let who = &instance.workers[worker];
        if self.waste + i64::from(stop.waste) > i64::from(who.cart) {
            return None;
        }
        let table = &instance.walks[who.on_foot];
        let (to, away) = (table.towards(stop.place), table.away_from(stop.place));
        let (mut there, mut free) = (to[who.start as usize], who.from + who.set_up);
        let (mut best, mut least) = (None, below);
        for (at, next) in self.stops.iter().enumerate() {
            let onward = away[next.place as usize];
            let detour = there + onward - next.leg;
            if detour < least {
                let Some(start) = stop.first_start(instance, free + there) else {
                    // Walks being shortest, no later gap is reached in time either.
                    break;
                };
                let fits = start + stop.length + onward <= next.latest;
                if fits && !rng.random_bool(blink) {
                    (best, least) = (Some(Gap { at, detour }), detour);
                }
            }
            (there, free) = (to[next.place as usize], next.free);
        }
        best
    }
}
