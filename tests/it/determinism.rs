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

/// Chance draws from jobs in the order of their rooms' names, so the order of the table is no part of the question.
#[test]
fn rooms_in_another_order_give_the_same_plan() {
    for (site, iterations) in [("fixtures/two_floors", 400), ("demo/larkfield", 40)] {
        let usual = planned(&read_file(site), iterations, 1);
        for by in 1..=4 {
            let other = planned(&shuffled(site, by), iterations, 1);
            assert_eq!(other.measures, usual.measures, "{site} by {by}");
            assert_eq!(other.bound.certificate, usual.bound.certificate);
        }
    }
}
