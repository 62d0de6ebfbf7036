//! What holds for every plan of every site, tried on random ones. Failures name the seed of [`site_of`].

mod sorts;

use crate::support::planner::{document, highest, planned};
use crate::support::random::{random_site, short_night};
use evenrun::plan::{Made, PlanDocument, Rule};
use evenrun::site::Site;
use rayon::prelude::{IntoParallelIterator, ParallelIterator};
use std::panic::catch_unwind;
use std::sync::OnceLock;

/// How many sites are tried; and how many more for which there is hardly time.
const SEEDS: u64 = 32;
const SHORT: u64 = 8;

/// The site of a seed.
fn site_of(seed: u64) -> Site {
    if seed > SEEDS {
        short_night(seed)
    } else {
        random_site(seed)
    }
}

/// A site and its plan; no plan if making it panicked.
struct Case {
    seed: u64,
    site: Site,
    made: Option<Made>,
}

fn cases() -> &'static [Case] {
    static CASES: OnceLock<Vec<Case>> = OnceLock::new();
    CASES.get_or_init(|| (1..=SEEDS + SHORT).into_par_iter().map(case).collect())
}

fn case(seed: u64) -> Case {
    let iterations = 60 + seed * 37 % 140;
    Case {
        seed,
        site: site_of(seed),
        made: catch_unwind(|| planned(&site_of(seed), iterations, seed)).ok(),
    }
}

/// Every plan that was made, with its site.
fn plans() -> impl Iterator<Item = (u64, &'static Site, &'static Made)> {
    cases()
        .iter()
        .filter_map(|c| Some((c.seed, &c.site, c.made.as_ref()?)))
}

fn none(what: &str, found: &[String]) {
    assert!(
        found.is_empty(),
        "{what} ({}):\n{}",
        found.len(),
        found.join("\n")
    );
}

/// Violations, those of rule 14 or all others.
fn violations(of_priority: bool) -> Vec<String> {
    let all = plans().flat_map(|(seed, _, made)| made.violations.iter().map(move |v| (seed, v)));
    let wanted = all.filter(|(_, v)| (v.rule == Rule::Priority) == of_priority);
    wanted
        .map(|(seed, v)| format!("seed {seed}: {:?}: {}", v.rule, v.message))
        .collect()
}

#[test]
fn no_site_makes_the_planner_panic() {
    let failed = cases().iter().filter(|c| c.made.is_none());
    let seeds: Vec<String> = failed.map(|c| format!("seed {}", c.seed)).collect();
    none("panicked", &seeds);
}

#[test]
fn every_plan_keeps_rules_1_to_13() {
    none("broken rules", &violations(false));
}

#[test]
fn what_is_left_undone_matters_least() {
    none("broken priorities", &violations(true));
}

#[test]
fn every_plan_comes_back_from_its_document() {
    for (seed, site, made) in plans() {
        let json = document(site, made, seed)
            .to_json()
            .expect("a plan can be written");
        let again = PlanDocument::from_json(&json).expect("what was written can be read");
        assert_eq!(again.resolve(site), Ok(made.plan.clone()), "seed {seed}");
    }
}

/// Also where something is undone: the bound is for the work that is done.
#[test]
fn no_share_is_below_the_bound() {
    let below = plans().filter(|(_, _, made)| made.bound.share > highest(made));
    let below: Vec<String> = below
        .map(|(seed, _, made)| format!("seed {seed}: {} < {}", highest(made), made.bound.share))
        .collect();
    none("below the bound", &below);
}

/// Else the tests above would show little: some nights are too short, most are not; everything that a plan can hold is held by some.
#[test]
fn the_sites_tried_are_of_all_sorts() {
    let undone = plans()
        .filter(|(_, _, m)| !m.plan.undone.is_empty())
        .count();
    let all = plans().count();
    assert!(
        undone >= 5 && undone + 5 <= all,
        "{undone} of {all} leave something"
    );
    let stops = plans().flat_map(|(_, _, m)| m.plan.runs.iter().flat_map(|r| &r.stops));
    let kinds: std::collections::BTreeSet<String> = stops
        .map(|s| format!("{:?}", evenrun::plan::StopWord::of(&s.what)))
        .collect();
    assert!(kinds.len() >= 12, "only {kinds:?}");
}
