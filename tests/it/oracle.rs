//! Plans of tiny sites against the best of all plans, found by trying everything ([`crate::support::enumerate`]).

use crate::support::enumerate::{least_not_cleaning, lowest_shares};
use crate::support::planner::{assert_all_done, date_of, highest, planned};
use crate::support::sketch::{Sketch, room, task, worker};
use evenrun::site::{
    Break, Cart, Hours, KindId, Method, Moves, Rate, RoomKind, Site, Task, Weekdays,
};
use evenrun::units::{Clock, Litres, Metres, Seconds, Span, SquareMetres};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use rayon::prelude::{IntoParallelIterator, ParallelIterator};
use std::collections::BTreeMap;

const ITERATIONS: u64 = 1000;
const HOUR: i64 = 60;

/// What a site has beside rooms to sweep.
#[derive(Clone, Copy, Default)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each may be there or not, whatever the others are"
)]
struct Sorts {
    rooms: usize,
    windows: bool,
    breaks: bool,
    water: bool,
    restroom: bool,
}

/// Two people, one or two storeys, rooms at random along the halls.
fn tiny(seed: u64, sorts: Sorts) -> Site {
    let rng = &mut Pcg64Mcg::seed_from_u64(seed);
    let storeys = rng.random_range(1..=2);
    let mut sketch = Sketch::of_storeys(storeys, 60.0);
    if storeys > 1 && sorts.water {
        sketch.lift();
    }
    let swept = sketch.kind("swept", vec![task("sweep", Method::Dry, 0.2)]);
    let mopped = mopped(&mut sketch);
    let restroom = KindId(2);
    sketch.kind_of(three_parts());
    for index in 0..sorts.rooms {
        let kind = match index {
            0 if sorts.restroom => restroom,
            _ if sorts.water && rng.random_bool(0.5) => mopped,
            _ => swept,
        };
        let mut drawn = room(
            &format!("R{index}"),
            kind,
            f64::from(rng.random_range(10..=60)),
        );
        drawn.open = (sorts.windows && rng.random_bool(0.4)).then(|| window(rng));
        sketch.room(
            rng.random_range(0..storeys),
            f64::from(rng.random_range(1..60)),
            drawn,
        );
    }
    for index in 0..2 {
        sketch.closet(
            &format!("closet {index}"),
            index % storeys,
            f64::from(rng.random_range(1..60)),
        );
    }
    let mut site = sketch.built();
    site.policy.set_up = Seconds::minutes(rng.random_range(0..=3));
    site.policy.tear_down = Seconds::minutes(rng.random_range(0..=3));
    site.crew = ["Ana", "Ben"]
        .map(|name| {
            let to = 18 * HOUR + rng.random_range(100..=180);
            let mut one = worker(&site, name, 18 * HOUR, to);
            one.pace = f64::from(rng.random_range(8..=12)) / 10.0;
            one.moves = if sorts.water {
                Moves::Cart(cart(rng))
            } else {
                Moves::Foot
            };
            one.breaks = if sorts.breaks {
                vec![tea(rng)]
            } else {
                Vec::new()
            };
            one
        })
        .to_vec();
    site
}

/// Swept into the cart, then mopped.
fn mopped(sketch: &mut Sketch) -> KindId {
    let bins = Task {
        waste_litres: 25.0,
        waste_rate: Rate::Visit,
        ..task("sweep", Method::Dry, 0.05)
    };
    let drying = Seconds::minutes(10);
    sketch.kind(
        "mopped",
        vec![bins, task("mop", Method::Mop { drying }, 0.1)],
    )
}

/// Opened and sprayed, wiped and mopped, reopened.
fn three_parts() -> RoomKind {
    let (dwell, drying) = (Seconds::minutes(5), Seconds::minutes(8));
    let mut spray = task("spray", Method::Spray { dwell }, 0.03);
    spray.wipe_minutes = 0.05;
    RoomKind {
        id: "three parts".to_string(),
        restroom: true,
        reopen: Some(Seconds(30)),
        tasks: vec![
            task("announce", Method::Open, 0.02),
            spray,
            task("restock", Method::Dry, 0.04),
            task("mop", Method::Mop { drying }, 0.05),
        ],
    }
}

fn window(rng: &mut Pcg64Mcg) -> Hours {
    let from = 18 * HOUR + rng.random_range(0..60);
    let span = Span::new(
        Clock(from * 60),
        Clock((from + rng.random_range(30..90)) * 60),
    );
    Hours {
        weekly: vec![(Weekdays::ALL, span)],
        dated: BTreeMap::new(),
    }
}

fn cart(rng: &mut Pcg64Mcg) -> Cart {
    Cart {
        waste: Litres(f64::from(rng.random_range(30..=80))),
        bucket: SquareMetres(f64::from(rng.random_range(60..=120))),
        bucket_rooms: rng.random_range(1..=3),
        width: Metres(0.7),
    }
}

fn tea(rng: &mut Pcg64Mcg) -> Break {
    let from = 18 * HOUR + rng.random_range(20..50);
    Break {
        name: "tea".to_string(),
        length: Seconds::minutes(10),
        window: Span::new(Clock(from * 60), Clock((from + 30) * 60)),
        place: None,
        paid: true,
    }
}

/// What is wrong with the plan of a site, if anything; `None` too where not everything can be done.
fn fault(seed: u64, sorts: Sorts) -> Option<String> {
    let site = tiny(seed, sorts);
    let made = planned(&site, ITERATIONS, seed);
    if !made.plan.undone.is_empty() {
        let possible = lowest_shares(&site, date_of(&site), 1.0);
        return possible.map(|s| format!("seed {seed}: undone, though all fits at {s:.4?}"));
    }
    assert_all_done(&made, &format!("seed {seed}"));
    let (found, bound) = (highest(&made), made.bound.share);
    let shares: Vec<f64> = made.measures.runs.iter().map(|r| r.share).collect();
    let Some(best) = lowest_shares(&site, date_of(&site), found) else {
        return Some(format!(
            "seed {seed}: {shares:.4?} is below every plan there is"
        ));
    };
    let worse = found > best[0] + site.policy.band;
    (worse || bound > best[0])
        .then(|| format!("seed {seed}: {shares:.4?}, best {best:.4?}, bound {bound:.4}"))
}

fn assert_best(sorts: Sorts, seeds: u64) {
    let faults: Vec<String> = (1..=seeds)
        .into_par_iter()
        .filter_map(|s| fault(s, sorts))
        .collect();
    assert!(
        faults.is_empty(),
        "{} of {seeds}:\n{}",
        faults.len(),
        faults.join("\n")
    );
    let all_done = (1..=seeds).filter(|s| {
        let site = tiny(*s, sorts);
        planned(&site, 1, *s).plan.undone.is_empty()
    });
    assert!(
        all_done.count() as u64 * 2 > seeds,
        "too few sites can be done"
    );
}

#[test]
fn sweeping_on_foot() {
    assert_best(
        Sorts {
            rooms: 7,
            ..Sorts::default()
        },
        20,
    );
}

#[test]
fn rooms_that_open_and_shut() {
    assert_best(
        Sorts {
            rooms: 6,
            windows: true,
            ..Sorts::default()
        },
        20,
    );
}

#[test]
fn a_break_for_each() {
    assert_best(
        Sorts {
            rooms: 6,
            breaks: true,
            ..Sorts::default()
        },
        20,
    );
}

#[test]
fn mopping_with_fills_and_dumps() {
    assert_best(
        Sorts {
            rooms: 5,
            water: true,
            ..Sorts::default()
        },
        20,
    );
}

#[test]
fn a_restroom_of_three_parts_among_others() {
    assert_best(
        Sorts {
            rooms: 4,
            water: true,
            restroom: true,
            ..Sorts::default()
        },
        20,
    );
}

/// The bound on walking, fills and dumps is of any plan, also of one in which somebody is idle.
#[test]
fn no_plan_spends_less_time_not_cleaning_than_the_bound() {
    let sorts = [
        Sorts {
            rooms: 5,
            ..Sorts::default()
        },
        Sorts {
            rooms: 4,
            windows: true,
            breaks: true,
            ..Sorts::default()
        },
        Sorts {
            rooms: 3,
            water: true,
            restroom: true,
            ..Sorts::default()
        },
    ];
    let all: Vec<(usize, u64)> = (0..sorts.len())
        .flat_map(|sort| (1..=20).map(move |seed| (sort, seed)))
        .collect();
    let compared = all.into_par_iter().filter_map(|(sort, seed)| {
        let site = tiny(seed, sorts[sort]);
        let made = planned(&site, 1, seed);
        if !made.plan.undone.is_empty() {
            return None;
        }
        let least = least_not_cleaning(&site, date_of(&site)).expect("there is a plan");
        let bound = made.bound.certificate.not_cleaning;
        assert!(
            bound <= least,
            "{sort}, seed {seed}: {bound} s, but {least} s are enough"
        );
        Some(bound as f64 / least as f64)
    });
    let compared: Vec<f64> = compared.collect();
    let mean = compared.iter().sum::<f64>() / compared.len() as f64;
    assert!(
        compared.len() > 40 && mean > 0.85,
        "{} compared, {mean:.2} of the least on average",
        compared.len()
    );
}
