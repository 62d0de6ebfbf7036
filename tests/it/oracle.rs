//! Plans of tiny sites against the best that trying everything finds: no worse in its highest share, and never better than the
//! bound.

mod enumerate;
mod tiny;

use crate::support::planner::{assert_all_done, planned};
use enumerate::{bands, optimum};
use evenrun::plan::Made;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use tiny::{HALL, Spot, Tiny, TinyBreak, TinyCart, TinyRoom, TinyWorker, Window, Work};

/// Enough for seven stops.
const ITERATIONS: u64 = 300;

const NOON: i64 = 12 * 3_600;

/// Plans the sites of these seeds and compares each with its optimum. Some cannot be done in full; at least `least` must count.
fn assert_best(
    what: &str,
    seeds: std::ops::Range<u64>,
    least: usize,
    draw: impl Fn(&mut Pcg64Mcg) -> Tiny,
) {
    let mut wrong = Vec::new();
    let mut compared = 0;
    for seed in seeds {
        let tiny = draw(&mut Pcg64Mcg::seed_from_u64(seed));
        let made = planned(&tiny.site(), ITERATIONS, seed);
        let Some(best) = optimum(&tiny) else {
            assert!(
                !made.plan.undone.is_empty(),
                "{what}, seed {seed}: a plan that cannot be"
            );
            continue;
        };
        compared += 1;
        let name = format!("{what}, seed {seed}");
        assert_all_done(&made, &name);
        assert!(
            made.bound.share <= best.highest,
            "{name}: bound {} above {}",
            made.bound.share,
            best.highest
        );
        let found = shares(&made);
        if found[0] != best.bands[0] {
            wrong.push(format!(
                "{name}: bands {found:?} instead of {:?}\n{tiny:#?}",
                best.bands
            ));
        }
    }
    assert!(
        compared >= least,
        "{what}: only {compared} sites could be done in full"
    );
    assert!(
        wrong.is_empty(),
        "{} of {compared}:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

/// Shares in bands, highest first.
fn shares(made: &Made) -> Vec<i64> {
    let mut all: Vec<i64> = made
        .measures
        .runs
        .iter()
        .map(|r| bands(r.load.0, r.available.0))
        .collect();
    all.sort_unstable_by(|a, b| b.cmp(a));
    all
}

/// Two workers for an hour and a half or so, on foot.
fn two_on_foot(rng: &mut Pcg64Mcg) -> Vec<TinyWorker> {
    let mut one = || TinyWorker {
        pace: [1.0, 1.0, 0.8, 1.25][rng.random_range(0..4)],
        shift: (NOON, NOON + 600 * rng.random_range(9..14)),
        cart: None,
        breaks: Vec::new(),
    };
    vec![one(), one()]
}

fn with_carts(mut workers: Vec<TinyWorker>, cart: TinyCart) -> Vec<TinyWorker> {
    workers.iter_mut().for_each(|w| w.cart = Some(cart));
    workers
}

fn spot(rng: &mut Pcg64Mcg, storeys: usize) -> Spot {
    (rng.random_range(0..storeys), rng.random_range(1..HALL))
}

fn dry(rng: &mut Pcg64Mcg) -> Work {
    Work {
        dry: rng.random_range(60..900),
        ..Work::default()
    }
}

/// A restroom of three stops: five minutes' dwell, five minutes' drying.
fn restroom(rng: &mut Pcg64Mcg) -> Work {
    Work {
        dry: rng.random_range(30..300),
        spray: Some([rng.random_range(20..120), rng.random_range(60..400), 300]),
        mop: Some([rng.random_range(60..300), 300]),
        waste: 0,
        reopen: Some(60),
        restroom: true,
    }
}

fn rooms(rng: &mut Pcg64Mcg, storeys: usize, works: Vec<Work>) -> Vec<TinyRoom> {
    let mut one = |work| TinyRoom {
        spot: spot(rng, storeys),
        area: rng.random_range(5..25),
        work,
        open: None,
        closure: None,
    };
    works.into_iter().map(&mut one).collect()
}

fn tiny(rng: &mut Pcg64Mcg, storeys: usize, works: Vec<Work>, workers: Vec<TinyWorker>) -> Tiny {
    Tiny {
        storeys,
        rooms: rooms(rng, storeys, works),
        closets: vec![spot(rng, storeys), spot(rng, storeys)],
        break_places: vec![spot(rng, storeys)],
        workers,
        set_up: 60 * rng.random_range(0..3),
        tear_down: 60 * rng.random_range(0..3),
        fill: 180,
        dump: 120,
    }
}

/// A window somewhere in the shift, long enough for any room on its own.
fn window(rng: &mut Pcg64Mcg, length: i64) -> Window {
    let from = NOON + 300 * rng.random_range(0..12);
    (from, from + length)
}

#[test]
fn dry_rooms_on_foot() {
    assert_best("dry rooms", 0..10, 10, |rng| {
        let (storeys, workers) = (rng.random_range(1..3), two_on_foot(rng));
        let works = (0..7).map(|_| dry(rng)).collect();
        tiny(rng, storeys, works, workers)
    });
}

#[test]
fn mopping_with_small_buckets() {
    assert_best("mopping", 0..8, 6, |rng| {
        let cart = TinyCart {
            bucket: rng.random_range(14..50),
            bucket_rooms: rng.random_range(1..4),
            waste: 100,
        };
        let workers = with_carts(two_on_foot(rng), cart);
        let mopped = |rng: &mut Pcg64Mcg| Work {
            mop: Some([rng.random_range(60..300), 0]),
            restroom: rng.random_bool(0.3),
            ..dry(rng)
        };
        let mut works: Vec<Work> = (0..4).map(|_| mopped(rng)).collect();
        works.push(dry(rng));
        tiny(rng, 1, works, workers)
    });
}

#[test]
fn waste_in_small_carts() {
    assert_best("waste", 0..6, 5, |rng| {
        let cart = TinyCart {
            bucket: 100,
            bucket_rooms: 3,
            waste: rng.random_range(20..60),
        };
        let workers = with_carts(two_on_foot(rng), cart);
        let full = |rng: &mut Pcg64Mcg| Work {
            waste: rng.random_range(5..40),
            ..dry(rng)
        };
        let works = (0..5).map(|_| full(rng)).collect();
        tiny(rng, 1, works, workers)
    });
}

#[test]
fn a_restroom_of_three_stops() {
    assert_best("restroom", 0..8, 8, |rng| {
        let cart = TinyCart {
            bucket: 50,
            bucket_rooms: 3,
            waste: 100,
        };
        let workers = with_carts(two_on_foot(rng), cart);
        let mut works = vec![restroom(rng)];
        works.extend((0..4).map(|_| dry(rng)));
        tiny(rng, 1, works, workers)
    });
}

#[test]
fn two_restrooms() {
    assert_best("two restrooms", 0..6, 6, |rng| {
        let cart = TinyCart {
            bucket: 50,
            bucket_rooms: 3,
            waste: 100,
        };
        let workers = with_carts(two_on_foot(rng), cart);
        let works = vec![restroom(rng), restroom(rng), dry(rng)];
        tiny(rng, 1, works, workers)
    });
}

#[test]
fn breaks() {
    assert_best("breaks", 0..8, 6, |rng| {
        let mut workers = two_on_foot(rng);
        for worker in &mut workers {
            worker.breaks = vec![TinyBreak {
                length: 900,
                window: window(rng, 2_400),
            }];
        }
        let works = (0..6).map(|_| dry(rng)).collect();
        tiny(rng, 2, works, workers)
    });
}

#[test]
fn windows() {
    assert_best("windows", 0..8, 5, |rng| {
        let workers = two_on_foot(rng);
        let works = (0..6).map(|_| dry(rng)).collect();
        let mut site = tiny(rng, 1, works, workers);
        for room in &mut site.rooms {
            let two = [window(rng, 1_500), window(rng, 1_500)];
            room.open = rng.random_bool(0.5).then(|| two.to_vec());
        }
        site
    });
}

#[test]
fn a_restroom_with_closure_windows_and_a_break() {
    assert_best("all together", 0..8, 4, |rng| {
        let cart = TinyCart {
            bucket: 30,
            bucket_rooms: 2,
            waste: 40,
        };
        let mut workers = with_carts(two_on_foot(rng), cart);
        workers[0].breaks = vec![TinyBreak {
            length: 600,
            window: window(rng, 2_400),
        }];
        let bins = Work {
            waste: rng.random_range(10..35),
            ..dry(rng)
        };
        let works = vec![restroom(rng), bins, dry(rng), dry(rng)];
        let mut site = tiny(rng, 1, works, workers);
        site.rooms[0].closure = Some(vec![window(rng, 2_400), window(rng, 2_400)]);
        site
    });
}
