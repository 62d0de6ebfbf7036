//! What every site is put through: planned, changed at random, covered, checked, and read again from a file.

mod changes;
mod odd;
mod sacrifice;

pub(crate) use changes::{Night, night};
pub(crate) use odd::odd_night;

use super::coverer::{broken, covered};
use evenrun::cover::Covered;
use evenrun::plan::{Facts, Plan, PlanDocument, PlannedStop, check, measure};
use evenrun::report::write;
use evenrun::units::Clock;
use sacrifice::sacrificed;
use std::panic::catch_unwind;

/// Everything that is wrong with the plans of a night and its cover plan; a panic is a problem, too.
pub(crate) fn problems(seed: u64, night: fn(u64) -> Night) -> Vec<String> {
    let found = catch_unwind(|| problems_of(&night(seed), seed));
    let found = found.unwrap_or_else(|_| vec!["panicked".to_string()]);
    found
        .into_iter()
        .map(|p| format!("seed {seed}: {p}"))
        .collect()
}

fn problems_of(night: &Night, seed: u64) -> Vec<String> {
    let present = night.site.present(night.plan.date, &[]);
    let found = check(&night.site, &night.plan, &present);
    let mut problems: Vec<String> = found
        .iter()
        .map(|v| format!("planned: {:?}: {}", v.rule, v.message))
        .collect();
    let covered = covered(&night.site, &night.plan, &night.changes, 10 + seed % 25);
    problems.extend(broken(&covered));
    problems.extend(read_back(night, &covered));
    problems.extend(rewritten(night, &covered));
    problems.extend(sacrificed(&covered));
    problems
}

/// The file alone, with the site as it is written, gives the same plan and the same verdict.
fn read_back(night: &Night, covered: &Covered) -> Vec<String> {
    let Covered {
        site,
        made,
        tonight,
        absent,
        ..
    } = covered;
    let facts = Facts {
        absent: absent.clone(),
        tonight: Some(tonight.clone()),
        ..Facts::default()
    };
    let json = PlanDocument::new(site, &made.plan, &measure(site, &made.plan), facts)
        .to_json()
        .unwrap();
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("plan.json");
    write(&file, json.as_bytes()).unwrap();
    let document = PlanDocument::from_json(&std::fs::read_to_string(&file).unwrap()).unwrap();
    let there = document.tonight.clone().unwrap();
    let there = there.apply(&night.site, made.plan.date).unwrap();
    let plan = document.resolve(&there).unwrap();
    let mut problems = Vec::new();
    if plan != made.plan {
        problems.push("the plan does not come back from its file".to_string());
    }
    let found = check(&there, &plan, &there.present(plan.date, absent));
    problems.extend(
        found
            .iter()
            .map(|v| format!("read back: {:?}: {}", v.rule, v.message)),
    );
    problems
}

/// Whatever began before the moment is in the new plan as it was in the one before.
fn rewritten(night: &Night, covered: &Covered) -> Vec<String> {
    let Some(now) = night.changes.now() else {
        return Vec::new();
    };
    let begun = |plan: &Plan, worker| -> Vec<PlannedStop> {
        // Of those who left earlier only what they had begun by then happened.
        let left = night.changes.leaves.iter().filter(|(w, _)| *w == worker);
        let now = left.map(|(_, at)| *at).fold(now, Clock::min);
        let run = plan.runs.iter().find(|r| r.worker == worker);
        let stops = run.map_or(&[][..], |r| &r.stops);
        stops
            .iter()
            .filter(|s| s.span.from < now)
            .cloned()
            .collect()
    };
    // Whoever is late has not begun, whatever the plan said.
    let late = |w| night.changes.late.iter().any(|(l, _)| *l == w);
    let runs = night.plan.runs.iter();
    let stay = runs.filter(|r| !covered.absent.contains(&r.worker) && !late(r.worker));
    let changed =
        stay.filter(|r| begun(&covered.before, r.worker) != begun(&covered.made.plan, r.worker));
    changed
        .map(|r| format!("the past of worker {} is another", r.worker.index()))
        .collect()
}
