//! What is left of the night's work: what is done is taken out, what is begun is to be finished by whoever began it.

use super::make::Repair;
use crate::plan::{Reason, Undone, UndoneWork};
use crate::site::WorkerId;
use crate::walk::Walks;
use crate::work::{DueTask, Job, Jobs, Target, due_on, gather};
use itertools::Itertools;
use std::collections::BTreeSet;

impl Repair<'_> {
    /// What is still to be done, with rooms begun at the end; and what cannot be done any more.
    pub(super) fn jobs(&self, staying: &[WorkerId], walks: &Walks) -> (Jobs, Vec<Undone>) {
        let (date, done) = (self.calendar.date(), self.frozen.tasks());
        let rooms = self.frozen.rooms();
        let runs = &self.earlier.plan.runs;
        let planned: BTreeSet<DueTask> = runs
            .iter()
            .flat_map(|r| &r.stops)
            .flat_map(|s| s.what.tasks())
            .copied()
            .collect();
        let due = due_on(&self.site, date);
        let due = due.into_iter().filter(|t| !done.contains(t)).collect_vec();
        // A room is visited once: what was left undone in one that is behind stays so.
        let is_missed = |t: &DueTask| rooms.contains(&t.room) && !planned.contains(t);
        let (missed, due): (Vec<_>, Vec<_>) = due.into_iter().partition(is_missed);
        let mut jobs = gather(&self.site, &due, date, staying, walks);
        let duties = self.frozen.duties();
        jobs.jobs
            .retain(|j| !matches!(j.target, Target::Duty(duty) if duties.contains(&duty)));
        jobs.nobody_duty.retain(|duty| !duties.contains(duty));
        for (worker, past) in &self.frozen.past {
            for room in &past.open {
                let mut tasks = room.tasks.clone();
                tasks.sort_by_key(|t| t.priority(&self.site));
                let index = jobs.jobs.len();
                for job in &mut jobs.jobs {
                    let same = |t: &[DueTask]| t.iter().any(|t| t.room == room.room);
                    if job.after.is_none() && matches!(&job.target, Target::Room(t) if same(t)) {
                        job.after = Some(index);
                    }
                }
                jobs.jobs.push(Job {
                    target: Target::Room(tasks),
                    eligible: vec![*worker],
                    after: None,
                });
            }
        }
        let before = |task: &DueTask| {
            let undone = self.earlier.plan.undone.iter();
            undone
                .clone()
                .find(|u| u.what == UndoneWork::Task(*task))
                .cloned()
        };
        let missed = missed.iter().map(|task| {
            before(task).unwrap_or(Undone {
                what: UndoneWork::Task(*task),
                reason: Reason::NoTime,
            })
        });
        (jobs, missed.collect())
    }

    /// Workers with rooms begun, and the jobs of these.
    pub(super) fn open_jobs(&self, jobs: &Jobs) -> Vec<(WorkerId, u32)> {
        let open: usize = self.frozen.past.values().map(|p| p.open.len()).sum();
        let first = jobs.jobs.len() - open;
        let workers = self.frozen.past.iter();
        let workers = workers.flat_map(|(w, p)| std::iter::repeat_n(*w, p.open.len()));
        workers
            .enumerate()
            .map(|(i, w)| (w, (first + i) as u32))
            .collect()
    }
}
