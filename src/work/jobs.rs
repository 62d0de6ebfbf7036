//! Due tasks gathered into jobs: one room, one worker, one to three stops.
//!
//! A room is one job, unless its tasks need skills that no one person present has; then it is cut, in the order of rule 7,
//! into as few jobs as that allows, each to be over before the next begins.

use super::DueTask;
use super::barrier::{Barrier, bar, barrier};
use crate::site::{Site, WorkerId};
use crate::walk::Walks;
use itertools::Itertools;
use jiff::civil::Date;

/// What a job is done at.
#[derive(Clone, Debug, PartialEq)]
pub enum Target {
    /// Tasks of one room, most important first: given up from the back when there is not enough time.
    Room(Vec<DueTask>),
    /// A duty, by index in the site's list.
    Duty(usize),
}

/// Everything due at one place that one worker does.
#[derive(Clone, Debug, PartialEq)]
pub struct Job {
    /// What is done.
    pub target: Target,
    /// Who may do it, of those present; never empty.
    pub eligible: Vec<WorkerId>,
    /// A job of the same room that must be over before this one starts (rule 7 across runs), by index.
    pub after: Option<usize>,
}

/// The jobs of a date, and what nobody present may do.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Jobs {
    /// In the order of rooms, then duties.
    pub jobs: Vec<Job>,
    /// Tasks that nobody present may do, with what keeps the person who comes closest.
    pub nobody: Vec<(DueTask, Barrier)>,
    /// Duties that nobody present may do.
    pub nobody_duty: Vec<usize>,
}

/// Jobs for the workers present: rooms by their names, so that it does not matter in which order a file lists them, and then duties.
pub fn gather(
    site: &Site,
    due: &[DueTask],
    date: Date,
    present: &[WorkerId],
    walks: &Walks,
) -> Jobs {
    let mut jobs = Jobs::default();
    let rooms = due.chunk_by(|a, b| a.room == b.room);
    for tasks in rooms.sorted_by_key(|tasks| &site.rooms[tasks[0].room.index()].id) {
        gather_room(site, tasks.to_vec(), present, walks, &mut jobs);
    }
    for (index, duty) in site.duties.iter().enumerate() {
        if !duty.days.contains(date.weekday()) {
            continue;
        }
        let can = |w: &WorkerId| {
            let worker = &site.crew[w.index()];
            duty.skills.iter().all(|s| worker.skills.contains(s))
                && walks.reaches(*w, false, worker.start, duty.place)
                && (site.room_at(duty.place)).is_none_or(|room| bar(site, *w, room).is_none())
        };
        let eligible = present.iter().copied().filter(can).collect_vec();
        if eligible.is_empty() {
            jobs.nobody_duty.push(index);
        } else {
            jobs.jobs.push(Job {
                target: Target::Duty(index),
                eligible,
                after: None,
            });
        }
    }
    jobs
}

fn gather_room(
    site: &Site,
    mut tasks: Vec<DueTask>,
    present: &[WorkerId],
    walks: &Walks,
    jobs: &mut Jobs,
) {
    tasks.sort_by_key(|t| t.task(site).method.step());
    let mut part: Vec<DueTask> = Vec::new();
    let mut eligible: Vec<WorkerId> = Vec::new();
    let mut after = None;
    for task in tasks {
        let barriers = present
            .iter()
            .map(|w| (barrier(site, *w, task, walks), *w))
            .collect_vec();
        let can = barriers
            .iter()
            .filter(|(b, _)| b.is_none())
            .map(|(_, w)| *w)
            .collect_vec();
        if can.is_empty() {
            let closest = barriers
                .into_iter()
                .filter_map(|(b, _)| b)
                .max()
                .unwrap_or(Barrier::NobodyPresent);
            jobs.nobody.push((task, closest));
            continue;
        }
        let both = eligible
            .iter()
            .copied()
            .filter(|w| can.contains(w))
            .collect_vec();
        if part.is_empty() || !both.is_empty() {
            eligible = if part.is_empty() { can } else { both };
        } else {
            after = Some(push(
                site,
                std::mem::take(&mut part),
                std::mem::replace(&mut eligible, can),
                after,
                jobs,
            ));
        }
        part.push(task);
    }
    if !part.is_empty() {
        push(site, part, eligible, after, jobs);
    }
}

fn push(
    site: &Site,
    mut tasks: Vec<DueTask>,
    eligible: Vec<WorkerId>,
    after: Option<usize>,
    jobs: &mut Jobs,
) -> usize {
    // Stable: tasks of one priority stay in the order they are done.
    tasks.sort_by_key(|t| (t.priority(site), !t.is_overdue(site)));
    jobs.jobs.push(Job {
        target: Target::Room(tasks),
        eligible,
        after,
    });
    jobs.jobs.len() - 1
}
