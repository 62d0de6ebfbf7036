//! Walks against published walking, stair and lift figures. Sources are beside the checks.

use super::buildings::{
    calendar, floor, hall, lift, named, on_foot, place, seconds, spot, two_floors, way,
};
use evenrun::site::{Side, Site, Speeds, WayKind};
use evenrun::units::{METRES_PER_FOOT, Metres};
use evenrun::walk::Times;

/// Seconds for so many feet of a straight hall at so many feet per second.
fn level_walk(feet: f64, feet_per_second: f64) -> Option<i64> {
    let mut site = two_floors();
    let length = feet * METRES_PER_FOOT;
    site.halls = vec![hall("crossing", 0, length)];
    site.ways = vec![];
    site.places = vec![
        place("kerb", spot(0, 0.0, Side::Ahead)),
        place("far", spot(0, length, Side::Ahead)),
    ];
    site.policy.speeds.foot = feet_per_second * METRES_PER_FOOT;
    seconds(&site, &on_foot(), "kerb", "far")
}

#[test]
fn level_walks_agree_with_a_published_pedestrian_timing() {
    // MUTCD 2003 and 2009 guidance on pedestrian intervals, worked example of a 130 ft crossing with the button 60 ft away,
    // as quoted at aaroads.com/forum topic 7510: 33 s at 4.0 ft/s, 38 s at 3.5 ft/s, 64 s in total at 3.0 ft/s.
    assert_eq!(level_walk(130.0, 4.0), Some(33));
    assert_eq!(level_walk(130.0, 3.5), Some(38));
    assert_eq!(level_walk(130.0 + 60.0, 3.0), Some(64));
}

#[test]
fn the_speed_on_foot_taken_by_default_is_the_published_one() {
    // MUTCD 2009: 3.5 ft/s, that is 1.07 m/s to two places.
    assert!((Speeds::default().foot - 3.5 * METRES_PER_FOOT).abs() < 0.005);
    assert_eq!(
        level_walk(130.0, Speeds::default().foot / METRES_PER_FOOT),
        Some(38)
    );
}

/// A hundred storeys of stairs with 21 steps of 7 by 11 inches each: seconds per storey up, and down, to 0.01 s.
fn storey(speeds: Speeds) -> [f64; 2] {
    const STOREYS: usize = 100;
    let inch = METRES_PER_FOOT / 12.0;
    let landings: Vec<_> = (0..=STOREYS).map(|i| spot(i, 0.0, Side::Ahead)).collect();
    let kind = WayKind::Stairs {
        steps: vec![21; STOREYS],
        rise: Metres(7.0 * inch),
        tread: Metres(11.0 * inch),
    };
    let mut site = Site {
        floors: (0..=STOREYS)
            .map(|i| floor(&i.to_string(), i as f64 * 147.0 * inch))
            .collect(),
        halls: (0..=STOREYS)
            .map(|i| hall(&i.to_string(), i, 1.0))
            .collect(),
        places: vec![
            place("bottom", landings[0]),
            place("top", landings[STOREYS]),
        ],
        ways: vec![way("stairs", kind, landings)],
        ..Site::default()
    };
    site.policy.speeds = speeds;
    let times = Times::between_places(&site, &on_foot(), &calendar());
    let ends = [("bottom", "top"), ("top", "bottom")];
    let all = ends.map(|(from, to)| times.get(named(&site, from), named(&site, to)));
    all.map(|time| time.map_or(f64::NAN, |time| time.0 as f64) / STOREYS as f64)
}

#[test]
fn stairs_down_take_what_measured_evacuations_took() {
    // NIST, building occupant evacuation data (14 buildings, fire drills): mean 0.44 m/s down, along the slope. 21 steps of
    // 7/11 in are 21 × √(7² + 11²) in = 6.95 m, so 15.8 s.
    let [_, down] = storey(Speeds {
        stairs_down: 0.44,
        ..Speeds::default()
    });
    assert!((down - 15.8).abs() < 0.05, "{down}");
    // SFPE hydraulic model, k = 1.08 for 7/11 in: at most 0.95 m/s along the slope (value from memory), 7.3 s.
    let [_, down] = storey(Speeds {
        stairs_down: 0.95,
        ..Speeds::default()
    });
    assert!((down - 7.3).abs() < 0.05, "{down}");
}

#[test]
fn stair_speeds_taken_by_default_lie_in_the_published_ranges() {
    // IES VE 2021 help, walking speeds: free walking 0.8 to 1.7 m/s; down stairs 0.5 and up 0.35 of it: 0.40 to 0.85 m/s
    // down, 0.28 to 0.60 m/s up. One storey as above is 6.95 m.
    let [up, down] = storey(Speeds::default());
    assert!((6.95 / 0.60..6.96 / 0.28).contains(&up), "{up}");
    assert!((6.95 / 0.85..6.96 / 0.40).contains(&down), "{down}");
    // NIST, as above: single measurements from 0.10 to 1.7 m/s.
    assert!((6.95 / 1.7..6.96 / 0.10).contains(&down), "{down}");
}

#[test]
fn a_lift_is_waited_for_once_a_ride() {
    // Waiting grades for offices (sus.si): 20 s excellent, 25 good, 30 satisfactory, 40 bad.
    let waits = [20, 25, 30, 40].map(|wait| {
        let mut site = two_floors();
        site.ways = vec![way(
            "lift",
            lift(wait, 5, 6),
            vec![spot(0, 30.0, Side::Left), spot(1, 30.0, Side::Left)],
        )];
        seconds(&site, &on_foot(), "G2", "R2")
    });
    // Without the wait: 3 s door, 8 m, 6 s boarding, one floor of 5 s, 4 m.
    assert_eq!(waits, [20, 25, 30, 40].map(|wait| Some(26 + wait)));
}
