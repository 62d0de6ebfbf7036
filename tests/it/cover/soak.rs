//! What holds for every cover plan, tried on random changes of random nights. Failures name the seed of [`night`].

use super::random_changes::{Night, night};
use super::sacrifice::sacrificed;
use crate::support::coverer::{broken, covered};
use evenrun::cover::Covered;
use evenrun::plan::{Facts, Plan, PlanDocument, PlannedStop, check, measure};
use evenrun::units::Clock;
use rayon::prelude::{IntoParallelIterator, ParallelIterator};
use std::panic::catch_unwind;

/// How many are tried each time; and how many when there is an hour for it.
const SEEDS: u64 = 40;
const MANY: u64 = 500;

#[test]
fn random_changes_leave_a_sound_plan_in_which_what_began_is_kept_and_health_comes_first() {
    none(&problems(1..SEEDS + 1));
}

/// `cargo test --release --test it -- --ignored five_hundred`
#[test]
#[ignore = "takes many minutes"]
fn five_hundred_random_changes() {
    none(&problems(1..MANY + 1));
}

#[test]
#[ignore = "scratch"]
fn scratch_seeds() {
    let seeds = std::env::var("SEEDS").unwrap();
    for seed in seeds.split(' ') {
        let seed: u64 = seed.parse().unwrap();
        let night = night(seed);
        println!("== seed {seed}");
        let c = &night.changes;
        println!("{c:?}");
        for w in night.site.present(night.plan.date, &[]) {
            let who = &night.site.crew[w.index()];
            println!(
                "  {} shift {:?} breaks {:?} moves {:?}",
                who.name, who.shift, who.breaks, who.moves
            );
        }
        if let Ok(w) = std::env::var("WHO") {
            let w: usize = w.parse().unwrap();
            for s in &night.plan.runs[w].stops {
                println!(
                    "    {:?} {} {}-{}",
                    s.what, s.place.0, s.span.from, s.span.to
                );
            }
            let c = covered(&night.site, &night.plan, &night.changes, 10 + seed % 25);
            for r in c.made.plan.runs.iter().filter(|r| r.worker.index() == w) {
                for s in &r.stops {
                    println!(
                        "    now {:?} {} {}-{}",
                        s.what, s.place.0, s.span.from, s.span.to
                    );
                }
            }
            println!("{:?}", night.site.rooms[14].closure);
            println!("{:?}", night.site.policy);
        }
        let found = std::panic::catch_unwind(|| problems_of(seed)).unwrap_or_default();
        for p in found.iter().filter(|p| !p.starts_with("read back")) {
            println!("  {p}");
        }
    }
}

fn none(problems: &[String]) {
    assert!(
        problems.is_empty(),
        "{}:\n{}",
        problems.len(),
        problems.join("\n")
    );
}

fn problems(seeds: std::ops::Range<u64>) -> Vec<String> {
    let each = seeds.into_par_iter().flat_map(|seed| {
        let found =
            catch_unwind(|| problems_of(seed)).unwrap_or_else(|_| vec!["panicked".to_string()]);
        found
            .into_iter()
            .map(|p| format!("seed {seed}: {p}"))
            .collect::<Vec<_>>()
    });
    each.collect()
}

fn problems_of(seed: u64) -> Vec<String> {
    let night = night(seed);
    let covered = covered(&night.site, &night.plan, &night.changes, 10 + seed % 25);
    let mut problems = broken(&covered);
    problems.extend(read_back(&night, &covered));
    problems.extend(rewritten(&night, &covered));
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
    let document = PlanDocument::from_json(&json).unwrap();
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
