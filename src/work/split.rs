//! Which worker owns which rooms, and the jobs that are left to each when it is kept to.

use super::barrier::{Barrier, barrier};
use super::jobs::{Job, Jobs, Target};
use crate::site::{RoomId, Site, WorkerId};
use crate::walk::Walks;

/// Which worker owns which rooms and duties.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Split {
    /// By room; `None` is nobody's.
    pub rooms: Vec<Option<WorkerId>>,
    /// By duty; `None` is left to whoever may.
    pub duties: Vec<Option<WorkerId>>,
}

impl Split {
    /// Nobody owns anything.
    pub fn of_nobody(site: &Site) -> Split {
        Split {
            rooms: vec![None; site.rooms.len()],
            duties: vec![None; site.duties.len()],
        }
    }

    /// Who owns a room.
    pub fn owner(&self, room: RoomId) -> Option<WorkerId> {
        self.rooms.get(room.index()).copied().flatten()
    }

    /// The jobs without those of rooms that nobody present owns: their tasks are left to nobody.
    pub fn only_owned(&self, jobs: Jobs, present: &[WorkerId]) -> Jobs {
        let owned = |job: &Job| match job.target {
            Target::Duty(_) => true,
            Target::Room(ref tasks) => tasks
                .first()
                .and_then(|t| self.owner(t.room))
                .is_some_and(|owner| present.contains(&owner)),
        };
        without(jobs, |job| (!owned(job)).then_some(Barrier::NoOwner))
    }

    /// The jobs, each left to the owner of its room alone, also where a key or a skill is missing: what the split breaks is for the
    /// checker to say. What needs a cart or a way that the owner has not is left to nobody. Of a room that no one person may do,
    /// the owner has the parts they may do, and the others stay with those who may.
    pub fn kept_to(&self, site: &Site, jobs: Jobs, present: &[WorkerId], walks: &Walks) -> Jobs {
        let jobs = self.only_owned(jobs, present);
        let owner_of = |job: &Job| match &job.target {
            Target::Duty(duty) => self
                .duties
                .get(*duty)
                .copied()
                .flatten()
                .filter(|owner| present.contains(owner)),
            Target::Room(tasks) => tasks.first().and_then(|t| self.owner(t.room)),
        };
        let has_a_part = |room: RoomId, owner: WorkerId| {
            jobs.jobs.iter().any(|job| match &job.target {
                Target::Room(tasks) => {
                    tasks.first().is_some_and(|t| t.room == room) && job.eligible.contains(&owner)
                }
                Target::Duty(_) => false,
            })
        };
        let mut kept = jobs.clone();
        for job in &mut kept.jobs {
            let Some(owner) = owner_of(job) else { continue };
            let left_to_others = match &job.target {
                Target::Room(tasks) => tasks
                    .first()
                    .is_some_and(|t| !job.eligible.contains(&owner) && has_a_part(t.room, owner)),
                Target::Duty(_) => false,
            };
            if !left_to_others {
                job.eligible = vec![owner];
            }
        }
        let cannot = |job: &Job| {
            let Target::Room(tasks) = &job.target else {
                return None;
            };
            let [owner] = job.eligible[..] else {
                return None;
            };
            let barriers = tasks.iter().filter_map(|t| barrier(site, owner, *t, walks));
            barriers
                .filter(|b| matches!(b, Barrier::NoCart | Barrier::NoWay))
                .max()
        };
        without(kept, cannot)
    }
}

/// The jobs without those for which there is a barrier; their tasks are done by nobody.
fn without(jobs: Jobs, barred: impl Fn(&Job) -> Option<Barrier>) -> Jobs {
    let mut left = Jobs {
        jobs: Vec::new(),
        nobody: jobs.nobody,
        nobody_duty: jobs.nobody_duty,
    };
    let mut new_index: Vec<Option<usize>> = Vec::new();
    for mut job in jobs.jobs {
        // A job that is dropped hands its place in the order on to the one before it.
        job.after = job.after.and_then(|index| new_index[index]);
        match barred(&job) {
            None => {
                new_index.push(Some(left.jobs.len()));
                left.jobs.push(job);
            }
            Some(barrier) => {
                new_index.push(job.after);
                match job.target {
                    Target::Room(tasks) => left
                        .nobody
                        .extend(tasks.into_iter().map(|t| (t, barrier.clone()))),
                    Target::Duty(duty) => left.nobody_duty.push(duty),
                }
            }
        }
    }
    left.nobody.sort_by_key(|(task, _)| *task);
    left.nobody_duty.sort_unstable();
    left
}
