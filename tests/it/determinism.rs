//! The same input, seed and iterations give the same bytes, at any number of threads and every time.

use crate::common::{demo, read_file, shuffled};
use crate::support::planner::{document, planned};
use crate::support::two_floors::two_floors;
use evenrun::site::Site;
use rayon::ThreadPoolBuilder;

fn written(site: &Site, threads: usize, seed: u64) -> String {
    let pool = ThreadPoolBuilder::new().num_threads(threads).build();
    let made = pool
        .expect("threads can be had")
        .install(|| planned(site, 60, seed));
    document(site, &made, seed)
        .to_json()
        .expect("a plan can be written")
}

fn assert_same_bytes(site: &Site, seed: u64) {
    let first = written(site, 1, seed);
    for threads in [2, 4] {
        assert!(
            first == written(site, threads, seed),
            "seed {seed}: {threads} threads differ from one"
        );
    }
    assert!(
        first == written(site, 1, seed),
        "seed {seed}: a second run differs"
    );
}

#[test]
fn a_small_site_gives_the_same_bytes() {
    for seed in 1..=5 {
        assert_same_bytes(&two_floors(), seed);
    }
}

#[test]
fn the_college_gives_the_same_bytes() {
    assert_same_bytes(&demo(), 3);
}

/// Else the tests above would show nothing: chance does decide.
#[test]
fn another_seed_gives_another_plan() {
    let site = demo();
    assert!(written(&site, 2, 1) != written(&site, 2, 2).replace("\"seed\": 2", "\"seed\": 1"));
}

/// Chance draws from jobs in the order of the rooms' table, so another order is another search. Where it finds the best plan it costs the same.
#[test]
fn rooms_in_another_order_cost_the_same() {
    let usual = planned(&read_file("fixtures/two_floors"), 400, 1);
    for by in 1..=4 {
        let other = planned(&shuffled("fixtures/two_floors", by), 400, 1);
        assert_eq!(other.measures.evenness, usual.measures.evenness, "by {by}");
        assert_eq!(other.measures.total, usual.measures.total, "by {by}");
        assert_eq!(other.bound.certificate, usual.bound.certificate, "by {by}");
    }
}

/// Penalties of the bound's tours fall differently where walks are equally long.
#[test]
fn the_college_in_another_order_has_the_same_work_and_as_high_a_bound() {
    let usual = planned(&demo(), 20, 1);
    for by in [17, 40] {
        let other = planned(&shuffled("demo/larkfield", by), 20, 1);
        assert!(other.violations.is_empty());
        assert_eq!(other.plan.undone.len(), usual.plan.undone.len(), "by {by}");
        let difference = other.bound.share - usual.bound.share;
        assert!(difference.abs() < 2e-3, "by {by}: {difference}");
        let [a, b] = [&usual, &other].map(|made| made.bound.certificate);
        assert_eq!((a.work, a.fills, a.set_up), (b.work, b.fills, b.set_up));
    }
}
