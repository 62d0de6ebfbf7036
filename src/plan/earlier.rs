//! What an earlier plan gives to a new search: its orders to begin with, and its workers to prefer among equals.

use super::model::{Plan, Run, What};
use crate::route::{Instance, Question, Start, Visit};
use crate::site::WorkerId;
use crate::units::Clock;
use crate::work::{Job, Target};
use itertools::Itertools;

/// The earlier orders, by worker present now; work of those who are away is left open. What a plan changed by hand gives to two people stays with the
/// first.
pub fn begin_with(instance: &Instance, question: &Question, earlier: &Plan) -> Start {
    let mut given = vec![false; question.jobs.len()];
    let order = |(worker, id): (usize, &WorkerId)| -> Vec<Visit> {
        let run = earlier.runs.iter().find(|r| r.worker == *id);
        let known = run.map(|r| known_visits(instance, question, worker, r));
        let order = known
            .unwrap_or_default()
            .into_iter()
            .map(|(visit, _)| visit)
            .filter(|visit| !given[visit.job as usize])
            .collect_vec();
        for visit in &order {
            given[visit.job as usize] = true;
        }
        order
    };
    question.present.iter().enumerate().map(order).collect()
}

/// Among equals, whoever did a job in the earlier plan does it again.
pub fn prefer_earlier(instance: &mut Instance, question: &Question, earlier: &Plan) {
    for (job, source) in question.jobs.iter().enumerate() {
        let did = |run: &&Run| run.stops.iter().any(|s| is_part_of(&s.what, source));
        let Some(run) = earlier.runs.iter().find(did) else {
            continue;
        };
        for (worker, id) in question.present.iter().enumerate() {
            instance.jobs[job].dislike[worker] += i32::from(*id != run.worker);
        }
    }
}

fn is_part_of(what: &What, job: &Job) -> bool {
    match (&job.target, what) {
        (Target::Duty(duty), What::Duty(done)) => duty == done,
        (Target::Room(tasks), _) => what.tasks().iter().any(|t| tasks.contains(t)),
        _ => false,
    }
}

/// The stops of a run as parts of jobs, each with when it began. A job that now has other parts than it had is done in one go
/// where it began.
pub(crate) fn known_visits(
    instance: &Instance,
    question: &Question,
    worker: usize,
    run: &Run,
) -> Vec<(Visit, Clock)> {
    let job_of = |what: &What| match what {
        What::Reopen(room) => question.jobs.iter().rposition(
            |j| matches!(&j.target, Target::Room(tasks) if tasks.iter().any(|t| t.room == *room)),
        ),
        _ => question.jobs.iter().position(|j| is_part_of(what, j)),
    };
    let jobs = run
        .stops
        .iter()
        .filter_map(|s| Some((job_of(&s.what)? as u32, s.span.from)))
        .collect_vec();
    let counts = jobs.iter().map(|(job, _)| job).counts();
    let mut order: Vec<(Visit, Clock)> = Vec::new();
    for (job, from) in &jobs {
        let source = &instance.jobs[*job as usize];
        let parts = instance.scope(worker, *job, source.full()).parts.len();
        let seen = order.iter().filter(|(v, _)| v.job == *job).count();
        let now = match counts[job] {
            count if count == parts => seen..seen + 1,
            _ if seen == 0 => 0..parts,
            _ => continue,
        };
        let visit = |part| Visit {
            job: *job,
            part: part as u8,
        };
        order.extend(now.map(|part| (visit(part), *from)));
    }
    order
}
