//! The dial between evenness and calm, its ends, and that the answer is the same everywhere.

use crate::common::demo;
use crate::support::coverer::{broken, covered_steadily};
use crate::support::planner::planned;
use evenrun::cover::{Changes, Covered, diff};
use evenrun::plan::Plan;
use evenrun::site::Site;
use std::sync::OnceLock;

fn night() -> &'static (Site, Plan) {
    static NIGHT: OnceLock<(Site, Plan)> = OnceLock::new();
    NIGHT.get_or_init(|| {
        let site = demo();
        let plan = planned(&site, 500, 1).plan;
        assert_eq!(
            plan.undone,
            [],
            "or change would come after more important goals"
        );
        (site, plan)
    })
}

fn without_ruairi(steady: u8) -> Covered {
    let (site, plan) = night();
    let changes = Changes {
        absent: vec![site.worker_named("Ruairi").unwrap()],
        ..Changes::default()
    };
    covered_steadily(site, plan, &changes, 120, steady)
}

fn kept(covered: &Covered) -> f64 {
    let counts = diff(&covered.site, &covered.before, &covered.made.plan).counts;
    counts.kept as f64 / counts.stops as f64
}

fn highest(covered: &Covered) -> f64 {
    covered.made.measures.evenness.highest
}

#[test]
fn the_ends_of_the_dial_are_even_and_calm() {
    let [even, calm] = [0, 10].map(without_ruairi);
    assert_eq!((broken(&even), broken(&calm)), (vec![], vec![]));
    let (some, all) = (kept(&even), kept(&calm));
    assert!(all > 0.99, "at 10 {all} keep their person");
    assert!(some < all, "at 0 {some}, at 10 {all}");
    assert!(
        highest(&even) < highest(&calm),
        "{} and {}",
        highest(&even),
        highest(&calm)
    );
}

#[test]
fn the_usual_dial_keeps_people_and_is_even() {
    let [even, usual, calm] = [0, 7, 10].map(without_ruairi);
    assert!(kept(&usual) >= 0.85, "{}", kept(&usual));
    assert!(highest(&usual) <= highest(&calm));
    assert!(highest(&usual) <= highest(&even) * 1.03);
}

#[test]
fn a_night_on_which_nothing_changes_stays_as_it_is() {
    let (site, plan) = night();
    let covered = covered_steadily(site, plan, &Changes::default(), 40, 10);
    let found = diff(&covered.site, &covered.before, &covered.made.plan);
    assert_eq!(found.counts.kept, found.counts.stops);
    assert_eq!(broken(&covered), Vec::<String>::new());
    assert!(
        found
            .people
            .iter()
            .all(|p| p.added.is_empty() && p.dropped.is_empty())
    );
}

#[test]
fn the_same_question_gets_the_same_cover_plan() {
    let pool = |threads| {
        rayon::ThreadPoolBuilder::new()
            .num_threads(threads)
            .build()
            .unwrap()
    };
    let [one, two] = [1, 2].map(|threads| pool(threads).install(|| without_ruairi(7)).made.plan);
    assert_eq!(one, two);
}
