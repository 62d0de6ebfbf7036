//! The bound on the highest share against plans it must not exceed: those in which some are idle, and those that the search rules out
//! though the rules do not.

use crate::support::planner::{assert_all_done, date_of, highest, planned, planned_without};
use crate::support::sketch::{Sketch, room, task, worker};
use evenrun::plan::check;
use evenrun::site::{Cart, Duty, Method, Moves, Rate, Site, Task, Weekdays, WorkerId};
use evenrun::units::{Litres, Metres, Seconds, SquareMetres};

const HOUR: i64 = 60;

/// One room of ten minutes at the entrance.
fn ten_minutes() -> Site {
    let mut sketch = Sketch::of_storeys(1, 10.0);
    let dry = sketch.kind("dry", vec![task("clean", Method::Dry, 1.0)]);
    sketch.room(0, 0.0, room("R", dry, 10.0));
    let mut site = sketch.built();
    site.policy.speeds.walking = false;
    site
}

/// One long shift and two short ones, half an hour of set-up each. Alone, the long one has 40 of 600 min; a proof in which at most one
/// saves the set-up would have it at no less than (10 + 60) / 660.
#[test]
fn several_idle_workers_save_several_set_ups() {
    let mut site = ten_minutes();
    site.policy.set_up = Seconds::minutes(30);
    site.crew = vec![
        worker(&site, "long", 8 * HOUR, 18 * HOUR),
        worker(&site, "short", 8 * HOUR, 9 * HOUR),
        worker(&site, "brief", 8 * HOUR, 9 * HOUR),
    ];
    let made = planned(&site, 50, 1);
    assert_all_done(&made, "one room");
    assert!(
        (highest(&made) - 40.0 / 600.0).abs() < 1e-9,
        "{}",
        highest(&made)
    );
    assert!(made.bound.share <= highest(&made), "{}", made.bound.share);
    assert!(
        made.bound.share > 0.99 * highest(&made),
        "{}",
        made.bound.share
    );
}

/// Two may lock up, and the search leaves it to the one who can stay longest, who is the slower. A plan in which that one is
/// idle and the other locks up is sound as well, and lower.
#[test]
fn whoever_may_lock_up_counts_for_the_bound() {
    let mut site = ten_minutes();
    let mut quick = worker(&site, "quick", 12 * HOUR, 19 * HOUR);
    quick.pace = 2.0;
    site.crew = vec![worker(&site, "slow", 12 * HOUR, 21 * HOUR), quick];
    site.rooms[0].never = vec![WorkerId(0)];
    site.duties = vec![Duty {
        name: "lock up".to_string(),
        place: site.crew[0].start,
        minutes: 120.0,
        window: None,
        days: Weekdays::ALL,
        skills: Vec::new(),
        last: true,
    }];
    let both = planned(&site, 50, 1);
    let alone = planned_without(&site, &[WorkerId(0)], 50, 1);
    assert_all_done(&alone, "the quick one alone");
    assert!(
        both.bound.share <= highest(&alone),
        "{} {}",
        both.bound.share,
        highest(&alone)
    );
}

/// Three rooms with a third of a cart each, in litres that are no whole thousandths.
fn thirds(cart: f64) -> Site {
    let mut sketch = Sketch::of_storeys(1, 40.0);
    let bins = Task {
        waste_litres: 20.000_3,
        waste_rate: Rate::Visit,
        ..task("empty bins", Method::Dry, 1.0)
    };
    let kind = sketch.kind("bins", vec![bins]);
    for (index, along) in [5.0, 10.0, 15.0].into_iter().enumerate() {
        sketch.room(0, along, room(&format!("R{index}"), kind, 2.0));
    }
    sketch.closet("closet", 0, 20.0);
    let mut site = sketch.built();
    let mut porter = worker(&site, "porter", 12 * HOUR, 13 * HOUR);
    porter.moves = Moves::Cart(Cart {
        waste: Litres(cart),
        bucket: SquareMetres(50.0),
        bucket_rooms: 3,
        width: Metres(0.7),
    });
    site.crew = vec![porter];
    site
}

/// The search rounds waste up and carts down, so that a cart filled to the brim counts as too small; the rules do not, and neither may
/// the bound.
#[test]
fn a_cart_filled_to_the_brim_needs_no_second_trip() {
    let (roomy, exact) = (thirds(61.0), thirds(3.0 * 20.000_3));
    let made = planned(&roomy, 50, 1);
    assert_all_done(&made, "a roomy cart");
    let present = exact.present(date_of(&exact), &[]);
    assert_eq!(check(&exact, &made.plan, &present), []);
    let bound = planned(&exact, 50, 1).bound.share;
    assert!(bound <= highest(&made), "{bound} {}", highest(&made));
}
