//! The same input, seed and iterations give the same bytes, at any number of threads and every time.

use crate::common::demo;
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
    assert!(
        first == written(site, 4, seed),
        "seed {seed}: four threads differ from one"
    );
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
