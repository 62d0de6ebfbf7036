//! What runs keep together: closures, what comes first, and limits on how much is held at once.

use super::{CLOSED, Table, window};
use crate::balance::differences::At;
use crate::route::Secs;

/// A job as it is done: the events of its first and its last part.
struct Done {
    job: u32,
    first: (usize, usize),
    last: (usize, usize),
}

/// A stretch during which a limit is held, from so many seconds after one moment to so many after another.
#[derive(Clone, Copy)]
struct Hold {
    from: (At, i64),
    to: (At, i64),
    now: (Secs, Secs),
}

impl Table<'_> {
    /// Everything that runs keep together.
    pub(super) fn read_across(&mut self) {
        let done = self.done();
        for job in &done {
            self.keep_closure(job);
        }
        self.keep_order(&done);
        for limit in 0..self.instance.limits.len() {
            self.keep_limit(self.holds(limit as u16, &done));
        }
    }

    /// Every job that is done, with its first and last part.
    fn done(&self) -> Vec<Done> {
        let mut all: Vec<Done> = Vec::new();
        for run in 0..self.found.runs.len() {
            let begins = all.len();
            for (index, visit) in self.visits(run) {
                let (job, here) = (visit.job, (run, index));
                match all[begins..].iter_mut().find(|done| done.job == job) {
                    Some(done) => done.last = here,
                    None => all.push(Done {
                        job,
                        first: here,
                        last: here,
                    }),
                }
            }
        }
        all
    }

    /// The whole closure lies in the window it is in; every second of it counts.
    fn keep_closure(&mut self, done: &Done) {
        let Some(closure) = &self.instance.jobs[done.job as usize].closure else {
            return;
        };
        let (first, last) = (self.event(done.first), self.event(done.last));
        let (from, to) = window(closure, first.from, last.to);
        let (first, end) = (self.at(done.first), self.at(done.last));
        self.rules.not_before(first, i64::from(from));
        self.rules
            .not_after(end, i64::from(to - (last.to - last.from)));
        self.rules.cost(end, CLOSED);
        self.rules.cost(first, -CLOSED);
    }

    /// Jobs that must follow others do.
    fn keep_order(&mut self, done: &[Done]) {
        let find = |job: u32| done.iter().find(|d| d.job == job);
        for here in done {
            let job = &self.instance.jobs[here.job as usize];
            if let Some(earlier) = job.after.and_then(find) {
                self.follow(earlier, here);
            }
            if let Some(next) = job.before.and_then(find) {
                self.follow(here, next);
            }
        }
    }

    fn follow(&mut self, earlier: &Done, later: &Done) {
        let last = self.event(earlier.last);
        let (before, after) = (self.at(earlier.last), self.at(later.first));
        self.rules
            .after(before, after, i64::from(last.to - last.from));
    }

    /// What is held at the same time stays within its limit: holds keep to lanes, in each one after the other.
    fn keep_limit(&mut self, mut holds: Vec<Hold>) {
        holds.sort_by_key(|hold| hold.now);
        let mut lanes: Vec<Hold> = Vec::new();
        for hold in holds {
            let free = |lane: &&mut Hold| lane.now.1 <= hold.now.0;
            match lanes.iter_mut().filter(free).max_by_key(|lane| lane.now.1) {
                Some(lane) => {
                    let gap = lane.to.1 - hold.from.1;
                    self.rules.after(lane.to.0, hold.from.0, gap);
                    *lane = hold;
                }
                None => lanes.push(hold),
            }
        }
    }

    /// Who holds a limit: closed rooms, and wet floors.
    fn holds(&self, limit: u16, done: &[Done]) -> Vec<Hold> {
        let job = |job: u32| &self.instance.jobs[job as usize];
        let closed = done
            .iter()
            .filter(|d| job(d.job).closed_limits.contains(&limit));
        let closed = closed.map(|d| {
            let (first, last) = (self.event(d.first), self.event(d.last));
            Hold {
                from: (self.at(d.first), 0),
                to: (self.at(d.last), i64::from(last.to - last.from)),
                now: (first.from, last.to),
            }
        });
        let mut holds: Vec<Hold> = closed.collect();
        for run in 0..self.found.runs.len() {
            for (index, visit) in self.visits(run) {
                let part = self.part(run, visit);
                if part.mop == 0 || !job(visit.job).wet_limits.contains(&limit) {
                    continue;
                }
                let (at, event) = (self.at((run, index)), self.event((run, index)));
                let length = event.to - event.from;
                holds.push(Hold {
                    from: (at, i64::from(length - part.wet_before)),
                    to: (at, i64::from(length + part.wet_after)),
                    now: (event.to - part.wet_before, event.to + part.wet_after),
                });
            }
        }
        holds
    }
}
