//! Plans made for tests, by a number of iterations, so that the answer is the same on every machine.

use evenrun::plan::{Facts, Made, Plan, PlanDocument, Request, make};
use evenrun::route::{Budget, Settings, Stop};
use evenrun::site::{RoomId, Site, WorkerId};
use evenrun::units::Seconds;
use jiff::civil::{Date, date};
use std::sync::atomic::AtomicBool;

/// A plan on the site's date, else on a Tuesday, with everybody there.
pub(crate) fn planned(site: &Site, iterations: u64, seed: u64) -> Made {
    planned_without(site, &[], iterations, seed)
}

/// The same with some away.
pub(crate) fn planned_without(
    site: &Site,
    absent: &[WorkerId],
    iterations: u64,
    seed: u64,
) -> Made {
    made(site, absent, None, iterations, seed)
}

/// The same from an earlier plan on, with everybody there.
pub(crate) fn planned_from(site: &Site, earlier: &Plan, iterations: u64) -> Made {
    made(site, &[], Some(earlier), iterations, 1)
}

fn made(site: &Site, absent: &[WorkerId], keep: Option<&Plan>, iterations: u64, seed: u64) -> Made {
    let never = AtomicBool::new(false);
    let request = Request {
        site,
        date: date_of(site),
        absent,
        keep,
        settings: Settings {
            stop: Stop {
                budget: Budget::Iterations(iterations),
                interrupted: &never,
            },
            seed,
            islands: 2,
        },
    };
    make(&request, &mut |_, _| {})
}

/// The site's date, else a Tuesday.
pub(crate) fn date_of(site: &Site) -> Date {
    site.date.unwrap_or(date(2026, 3, 10))
}

/// The document of a plan, as the program writes it.
pub(crate) fn document(site: &Site, made: &Made, seed: u64) -> PlanDocument {
    let facts = Facts {
        program: "evenrun".to_string(),
        seed,
        iterations: made.iterations,
        sound: made.violations.is_empty(),
        bound: Some(made.bound.share),
        ..Facts::default()
    };
    PlanDocument::new(site, &made.plan, &made.measures, facts)
}

/// The plan broke no rule.
pub(crate) fn assert_sound(made: &Made, what: &str) {
    let found: Vec<String> = made
        .violations
        .iter()
        .map(|v| format!("{:?}: {}", v.rule, v.message))
        .collect();
    assert!(found.is_empty(), "{what}:\n{}", found.join("\n"));
}

/// Sound, and nothing left.
pub(crate) fn assert_all_done(made: &Made, what: &str) {
    assert_sound(made, what);
    assert!(
        made.plan.undone.is_empty(),
        "{what}: {:?}",
        made.plan.undone
    );
}

/// Loads by run.
pub(crate) fn loads(made: &Made) -> Vec<Seconds> {
    made.measures.runs.iter().map(|r| r.load).collect()
}

/// The highest share of all runs.
pub(crate) fn highest(made: &Made) -> f64 {
    made.measures.evenness.highest
}

/// The rooms of a run's stops, in order; a room of several stops comes several times.
pub(crate) fn rooms_of(made: &Made, run: usize) -> Vec<usize> {
    let stops = made.plan.runs[run].stops.iter();
    let rooms = stops.filter_map(|s| s.what.room());
    rooms.map(RoomId::index).collect()
}
