//! Whether a job could be done if nothing else were: tells "no time" from "no window".

use super::instance::Instance;
use super::order::Visit;
use super::solution::Solution;

/// Whether some worker could do the first `scope` tasks of a job on an otherwise empty shift.
pub fn fits_alone(instance: &Instance, job: u32, scope: u8) -> bool {
    let mut solution = Solution::idle(instance);
    solution.set_scope(job, scope);
    (0..instance.workers.len()).any(|worker| {
        let parts = instance.scope(worker, job, scope).parts.len();
        let begun = instance.before.begun(worker).map_or(&[][..], |b| &b.visits);
        let mut visits = begun.to_vec();
        visits.extend((0..parts as u8).map(|part| Visit { job, part }));
        solution.try_order(worker, &visits).is_some()
    })
}
