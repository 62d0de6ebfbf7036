//! What is left of the night's work: what is done is taken out, what is begun is to be finished by whoever began it.

use super::make::Repair;
use crate::plan::{Reason, Undone, UndoneWork};
use crate::site::WorkerId;
use crate::walk::Walks;
use crate::work::{DueTask, Job, Jobs, Target, due_on, gather};
use std::collections::BTreeSet;

impl Repair<'_> {
    /// What is still to be done, with rooms begun at the end; and what cannot be done any more.
    pub(super) fn jobs(&self, staying: &[WorkerId], walks: &Walks) -> (Jobs, Vec<Undone>) {
        let (mut due, mut missed) = self.due();
        let mut too_late = |work| {
            let why = self.frozen.too_late_for(&self.site, work);
            missed.extend(why.clone().map(|why| Undone {
                what: work,
                reason: Reason::TooLate(why),
            }));
            why.is_some()
        };
        due.retain(|task| !too_late(UndoneWork::Task(*task)));
        let mut jobs = gather(&self.site, &due, self.calendar.date(), staying, walks);
        let duties = self.frozen.duties();
        jobs.nobody_duty.retain(|duty| !duties.contains(duty));
        // Duties come after all rooms, so no job's place among the rooms changes.
        jobs.jobs.retain(|job| match job.target {
            Target::Duty(duty) => !duties.contains(&duty) && !too_late(UndoneWork::Duty(duty)),
            Target::Room(_) => true,
        });
        self.add_rooms_begun(&mut jobs);
        (jobs, missed)
    }

    /// Tasks that are neither done nor under way; and those of them that are left, because a room is visited once: what was left undone in
    /// one that is behind stays so.
    fn due(&self) -> (Vec<DueTask>, Vec<Undone>) {
        let (done, rooms) = (self.frozen.tasks(), self.frozen.rooms());
        let stops = self.earlier.plan.runs.iter().flat_map(|r| &r.stops);
        let planned: BTreeSet<DueTask> = stops.flat_map(|s| s.what.tasks()).copied().collect();
        let due = due_on(&self.site, self.calendar.date()).into_iter();
        let is_missed = |t: &DueTask| rooms.contains(&t.room) && !planned.contains(t);
        let (missed, due): (Vec<_>, Vec<_>) =
            due.filter(|t| !done.contains(t)).partition(is_missed);
        let before = |what| self.earlier.plan.undone.iter().find(|u| u.what == what);
        let missed = missed.into_iter().map(UndoneWork::Task).map(|what| {
            before(what).cloned().unwrap_or(Undone {
                what,
                reason: Reason::NoTime,
            })
        });
        (due, missed.collect())
    }

    /// Whoever began a room finishes it; others who work there wait for that.
    fn add_rooms_begun(&self, jobs: &mut Jobs) {
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
