//! The plan that people know, as the search sees it; and how much calm is worth.

use crate::plan::{Plan, Run, known_visits};
use crate::route::{Instance, Known, Question, Secs, Visit, Was};
use crate::units::Seconds;
use crate::work::{DueTask, Job, Target};

/// What the dial says if nobody turns it, and how far it goes.
pub const STEADY: (u8, u8) = (7, 10);

/// A stop that starts within so much of before has not moved: people look at a card twice an hour.
pub(super) const TOLERANCE: Seconds = Seconds::minutes(15);

/// By dial, what a point of change costs in the search: a job that changes its worker makes ten points. At 7 that is worth two minutes of
/// the busiest run.
const PRICES: [i64; 11] = [
    50, 200, 500, 1_000, 2_000, 4_000, 7_000, 12_000, 20_000, 50_000, 400_000,
];

/// By dial, how many of the site's bands count as one: shares that near are equal, and the calmer plan is better. At 10 change comes
/// before evenness anyhow.
const BANDS: [i64; 11] = [1, 1, 1, 1, 1, 2, 2, 2, 4, 8, 1];

/// How many tasks of a job, most important first, a run does.
fn planned_scope(job: &Job, run: &Run) -> u8 {
    let done = |task: &DueTask| run.stops.iter().any(|s| s.what.tasks().contains(task));
    match &job.target {
        Target::Room(tasks) => tasks.iter().take_while(|t| done(t)).count() as u8,
        Target::Duty(_) => 1,
    }
}

/// Tells an instance of the plan that people know, and gives its orders to start from, less what is behind.
pub(super) fn stay_near(
    instance: &mut Instance,
    question: &Question,
    plan: &Plan,
    steady: u8,
) -> Vec<Vec<Visit>> {
    let dial = usize::from(steady.min(STEADY.1));
    let mut jobs: Vec<Option<Was>> = vec![None; instance.jobs.len()];
    let mut orders = Vec::new();
    let begun = instance.before.begun.clone();
    let behind = |worker: usize, visit: &Visit| {
        let begun = begun.get(worker).and_then(Option::as_ref);
        begun
            .is_some_and(|b| b.open.iter().any(|o| o.job == visit.job) && !b.visits.contains(visit))
    };
    for (worker, id) in question.present.iter().enumerate() {
        let run = plan.runs.iter().find(|r| r.worker == *id);
        let visits = run
            .map(|r| known_visits(instance, question, worker, r))
            .unwrap_or_default();
        for (visit, from) in &visits {
            let was = jobs[visit.job as usize].get_or_insert_with(|| Was {
                worker: worker as u16,
                scope: run.map_or(0, |r| planned_scope(&question.jobs[visit.job as usize], r)),
                starts: Vec::new(),
            });
            was.starts.push(from.0 as Secs);
        }
        let ahead = visits
            .into_iter()
            .map(|(v, _)| v)
            .filter(|v| !behind(worker, v));
        orders.push(ahead.collect::<Vec<_>>());
    }
    instance.band_ppm *= BANDS[dial];
    instance.before.known = Some(Known {
        jobs,
        orders: orders.clone(),
        tolerance: TOLERANCE.0 as Secs,
        price: PRICES[dial],
        first: steady >= STEADY.1,
    });
    orders
}
