//! Times of a tiny two-floor building, each worked out by hand beside the check.

use super::buildings::{
    calendar, floor, hall, named, on_foot, place, seconds, slow_door, spot, stairs, two_floors,
    way, with_cart,
};
use evenrun::site::{AccessId, Door, Side, Site, WayKind};
use evenrun::units::{Clock, Metres, Seconds, Span};
use evenrun::walk::{Times, Walker};
use std::sync::Arc;

#[test]
fn along_a_hall_it_is_metres_by_speed_and_the_door() {
    let site = two_floors();
    // 12 m at 1.0 m/s, and 3 s at the door of G2, out or in.
    assert_eq!(seconds(&site, &on_foot(), "G1", "G2"), Some(12 + 3));
    assert_eq!(seconds(&site, &on_foot(), "G2", "G1"), Some(12 + 3));
    // 12 m at 0.8 m/s.
    assert_eq!(seconds(&site, &with_cart(), "G1", "G2"), Some(15 + 3));
}

#[test]
fn stairs_are_slower_up_than_down() {
    let site = two_floors();
    // 20 steps × 0.3 m = 6 m: 15 s up at 0.4 m/s, 12 s down at 0.5; 10 m of hall at both ends.
    assert_eq!(seconds(&site, &on_foot(), "G1", "R1"), Some(10 + 15 + 10));
    assert_eq!(seconds(&site, &on_foot(), "R1", "G1"), Some(10 + 12 + 10));
}

#[test]
fn the_quicker_of_stairs_and_lift_is_taken() {
    // Stairs 3 + 22 + 15 + 26 = 66; lift 3 + 8 + (20 + 6 + 5) + 4 = 46.
    assert_eq!(seconds(&two_floors(), &on_foot(), "G2", "R2"), Some(46));
}

#[test]
fn who_takes_no_stairs_and_who_has_a_cart_takes_the_lift() {
    let site = two_floors();
    let no_stairs = Walker {
        stairs: false,
        ..on_foot()
    };
    assert_eq!(seconds(&site, &no_stairs, "G1", "R1"), Some(20 + 31 + 20));
    // 40 m at 0.8 m/s; a cart never takes stairs, even if its pusher would.
    let would_climb = Walker {
        stairs: true,
        ..with_cart()
    };
    assert_eq!(seconds(&site, &would_climb, "G1", "R1"), Some(50 + 31));
}

#[test]
fn without_a_lift_there_is_no_way_up_for_a_cart() {
    let mut site = two_floors();
    site.ways.truncate(1);
    assert_eq!(seconds(&site, &with_cart(), "G1", "R1"), None);
    assert_eq!(seconds(&site, &on_foot(), "G1", "R1"), Some(35));
}

#[test]
fn a_door_across_a_hall_costs_who_walks_past_it() {
    let mut site = two_floors();
    site.halls[0].doors.push((Metres(15.0), slow_door(4)));
    assert_eq!(seconds(&site, &on_foot(), "G1", "G2"), Some(12 + 3 + 4));
    assert_eq!(seconds(&site, &on_foot(), "G1", "G3"), Some(0));
}

#[test]
fn a_locked_door_across_a_hall_sends_people_round() {
    let mut site = two_floors();
    let locked = Door {
        needs: vec![AccessId(0)],
        ..slow_door(4)
    };
    site.halls[0].doors.push((Metres(15.0), locked));
    let with_key = Walker {
        access: vec![AccessId(0)],
        ..on_foot()
    };
    assert_eq!(seconds(&site, &with_key, "G1", "G2"), Some(19));
    // Up the stairs 10 + 15, along 30, down by lift 31, back 8, door of G2 3.
    assert_eq!(
        seconds(&site, &on_foot(), "G1", "G2"),
        Some(10 + 15 + 30 + 31 + 8 + 3)
    );
    // With a cart the lift is behind the door, and stairs are no way.
    assert_eq!(seconds(&site, &with_cart(), "G1", "G2"), None);
}

#[test]
fn something_exactly_at_a_door_is_before_it_but_at_the_halls_end_behind_it() {
    let mut site = two_floors();
    site.halls[0].doors.push((Metres(22.0), slow_door(4)));
    assert_eq!(seconds(&site, &on_foot(), "G1", "G2"), Some(15));
    site.halls[0].doors[0].0 = Metres(30.0);
    // The lift's landing, at 30 m, is behind the door: 46 s as before and 4 s more.
    assert_eq!(seconds(&site, &on_foot(), "G2", "R2"), Some(50));
}

#[test]
fn a_narrow_door_keeps_a_cart_out_but_not_a_person() {
    let mut site = two_floors();
    site.places[0].door = Some(Door {
        width: Some(Metres(0.65)),
        ..Door::default()
    });
    assert_eq!(seconds(&site, &with_cart(), "G2", "G1"), None);
    assert_eq!(seconds(&site, &with_cart(), "G1", "G1"), Some(0));
    assert_eq!(seconds(&site, &on_foot(), "G2", "G1"), Some(15));
}

#[test]
fn a_door_shut_before_the_shift_ends_is_no_way_without_its_key() {
    let mut site = two_floors();
    let hours = Some(Span::new(Clock::at(7, 0), Clock::at(22, 0)));
    site.ways[1].door = Some(Door {
        hours,
        ..Door::default()
    });
    let no_stairs = Walker {
        stairs: false,
        ..on_foot()
    };
    assert_eq!(seconds(&site, &no_stairs, "G1", "R1"), None);
    let shift = Span::new(Clock::at(14, 0), Clock::at(22, 0));
    assert_eq!(
        seconds(
            &site,
            &Walker {
                shift,
                ..no_stairs.clone()
            },
            "G1",
            "R1"
        ),
        Some(71)
    );
    site.ways[1].door = Some(Door {
        hours,
        needs: vec![AccessId(2)],
        ..Door::default()
    });
    let with_key = Walker {
        access: vec![AccessId(2)],
        ..no_stairs
    };
    assert_eq!(seconds(&site, &with_key, "G1", "R1"), Some(71));
}

/// Three floors, a place at every landing, one way between.
fn tower(kind: WayKind, door: Option<Door>) -> Site {
    let landings: Vec<_> = (0..3).map(|i| spot(i, 0.0, Side::Ahead)).collect();
    let mut site = two_floors();
    site.floors = (0..3)
        .map(|i| floor(&i.to_string(), f64::from(i) * 3.6))
        .collect();
    site.halls = (0..3)
        .map(|i| hall(&format!("{i}-East"), i, 10.0))
        .collect();
    site.places = landings
        .iter()
        .zip(["a", "b", "c"])
        .map(|(at, id)| place(id, *at))
        .collect();
    site.ways = vec![way("tower", kind, landings)];
    site.ways[0].door = door;
    site
}

#[test]
fn a_ways_door_is_passed_once_per_use_however_many_flights() {
    let site = tower(stairs(vec![20, 10]), Some(slow_door(2)));
    // 6 m and 3 m of slope: 15 s and 7.5 s up, 12 s and 6 s down.
    assert_eq!(seconds(&site, &on_foot(), "a", "c"), Some(25));
    assert_eq!(seconds(&site, &on_foot(), "b", "c"), Some(10));
    assert_eq!(seconds(&site, &on_foot(), "c", "a"), Some(20));
}

#[test]
fn a_ramp_joins_neighbours_at_level_speed_and_takes_carts() {
    let site = tower(
        WayKind::Ramp {
            length: Metres(12.0),
        },
        None,
    );
    assert_eq!(seconds(&site, &on_foot(), "a", "c"), Some(24));
    assert_eq!(seconds(&site, &with_cart(), "a", "b"), Some(15));
    let link = tower(
        WayKind::Link {
            length: Metres(0.0),
        },
        None,
    );
    assert_eq!(seconds(&link, &on_foot(), "a", "c"), Some(0));
}

#[test]
fn a_walk_is_rounded_up_once_and_not_at_every_room_passed() {
    // Ten rooms 1/3 m apart: 3 m take 3 s, not nine times a rounded third.
    let mut site = two_floors();
    site.places = (0..10)
        .map(|i| place(&format!("r{i}"), spot(0, f64::from(i) / 3.0, Side::Left)))
        .collect();
    assert_eq!(seconds(&site, &on_foot(), "r0", "r9"), Some(3));
    assert_eq!(seconds(&site, &on_foot(), "r0", "r8"), Some(3));
    assert_eq!(seconds(&site, &on_foot(), "r0", "r1"), Some(1));
}

#[test]
fn where_walking_is_free_a_locked_room_stays_locked() {
    let mut site = two_floors();
    site.policy.speeds.walking = false;
    site.places[2].door = Some(Door {
        needs: vec![AccessId(0)],
        ..Door::default()
    });
    assert_eq!(seconds(&site, &on_foot(), "G2", "R2"), Some(0));
    assert_eq!(seconds(&site, &on_foot(), "G2", "R1"), None);
}

#[test]
fn impossible_figures_are_no_way_rather_than_a_fault() {
    let mut site = two_floors();
    site.policy.speeds.cart = 0.0;
    site.places[1].spot.along = Metres(f64::NAN);
    site.places[3].door = Some(slow_door(i64::MAX));
    site.ways[1].kind = super::buildings::lift(i64::MAX, i64::MAX, 1);
    assert_eq!(seconds(&site, &with_cart(), "R1", "R2"), None);
    assert_eq!(seconds(&site, &on_foot(), "G1", "R1"), Some(35));
    assert_eq!(seconds(&site, &on_foot(), "G1", "R2"), None);
}

#[test]
fn walkers_whom_the_site_treats_alike_share_their_times() {
    let mut site = two_floors();
    site.places[2].door = Some(Door {
        needs: vec![AccessId(0)],
        ..Door::default()
    });
    let holding = |key| Walker {
        access: vec![AccessId(key)],
        ..on_foot()
    };
    let walkers = [on_foot(), holding(0), holding(1), with_cart()];
    let times = Times::of_walkers(&site, &walkers, &calendar());
    assert!(Arc::ptr_eq(&times[0], &times[2]));
    assert!(!Arc::ptr_eq(&times[0], &times[1]));
    for (walker, shared) in walkers.iter().zip(&times) {
        assert_eq!(**shared, Times::between_places(&site, walker, &calendar()));
    }
    assert_eq!(
        times[1].get(named(&site, "G1"), named(&site, "R1")),
        Some(Seconds(35))
    );
}
