//! Whether a job could be done if nothing else were: tells "no time" from "no window".

use super::instance::Instance;
use super::order::Visit;
use super::solution::Solution;

/// A plan without anything in it, to try single jobs in.
pub struct Alone<'a> {
    idle: Solution<'a>,
}

impl<'a> Alone<'a> {
    /// In an instance.
    pub fn new(instance: &'a Instance) -> Alone<'a> {
        Alone {
            idle: Solution::idle(instance),
        }
    }

    /// Whether some worker could do the first `scope` tasks of a job on an otherwise empty shift.
    pub fn fits(&mut self, job: u32, scope: u8) -> bool {
        let instance = self.idle.instance;
        self.idle.set_scope(job, scope);
        let fits = (0..instance.workers.len()).any(|worker| {
            let parts = instance.scope(worker, job, scope).parts.len();
            let begun = instance.before.begun(worker).map_or(&[][..], |b| &b.visits);
            let mut visits = begun.to_vec();
            visits.extend((0..parts as u8).map(|part| Visit { job, part }));
            self.idle.try_order(worker, &visits).is_some()
        });
        self.idle.roll_back();
        fits
    }
}
