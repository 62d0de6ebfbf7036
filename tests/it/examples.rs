//! Published worked examples through the whole program: from a site to a plan whose runs are checked against the printed answer.
//! What is due and its minutes alone is checked in `arithmetic`.

use crate::common::{read_file, read_text};
use crate::support::planner::{
    assert_all_done, assert_sound, highest, loads, planned, planned_without,
};
use evenrun::plan::{Made, What};
use evenrun::site::{RoomId, Site, WorkerId};
use evenrun::units::{Clock, Seconds, Span};
use std::collections::BTreeSet;

/// Floors on which each run works.
fn floors_of_runs(site: &Site, made: &Made) -> Vec<BTreeSet<u32>> {
    let floor = |room: RoomId| {
        site.halls[site.places[room.index()].spot.hall.index()]
            .floor
            .0
    };
    let runs = made.plan.runs.iter();
    runs.map(|run| {
        run.stops
            .iter()
            .filter_map(|s| s.what.room())
            .map(floor)
            .collect()
    })
    .collect()
}

/// M. S. Cooley, "Vacuum Cleaning Systems" (1913), section on the number of sweepers: one floor takes 5 h, so an operator does two
/// floors in a night of 10 h, and four operators do the eight floors. Four is exact: every share is 1, the bound too.
#[test]
fn four_operators_vacuum_two_floors_each() {
    let site = read_file("fixtures/worked/w1.yaml");
    let made = planned(&site, 300, 1);
    assert_all_done(&made, "W1");
    assert_eq!(loads(&made), [Seconds::minutes(600); 4]);
    assert!((highest(&made) - 1.0).abs() < 1e-12);
    assert!(
        (made.bound.share - 1.0).abs() < 1e-8,
        "{}",
        made.bound.share
    );
}

/// International Custodial Advisors Network, no. 4049: 30,000 sq ft at 3,000 sq ft/h on two storeys; with two up and two down 2.5 h
/// each. Three rooms a run are rounded up to whole seconds.
#[test]
fn four_people_on_two_storeys_take_two_hours_and_a_half() {
    let site = read_file("fixtures/worked/w2.yaml");
    let made = planned(&site, 300, 1);
    assert_all_done(&made, "W2 with four");
    for load in loads(&made) {
        assert!((9_000..=9_003).contains(&load.0), "{load:?}");
    }
    let floors = floors_of_runs(&site, &made);
    assert!(
        floors.iter().all(|f| f.len() == 1),
        "two up and two down: {floors:?}"
    );
}

/// The same, with two people: 5 h each. Their shifts are made long enough.
#[test]
fn two_people_take_five_hours() {
    let mut site = read_file("fixtures/worked/w2.yaml");
    for worker in &mut site.crew {
        worker.shift = Span::new(Clock::at(18, 0), Clock::at(24, 0));
    }
    let made = planned_without(&site, &[WorkerId(1), WorkerId(3)], 300, 1);
    assert_all_done(&made, "W2 with two");
    for load in loads(&made) {
        assert!((18_000..=18_006).contains(&load.0), "{load:?}");
    }
    assert!(made.bound.share <= highest(&made) && highest(&made) < made.bound.share + 0.002);
}

/// Rooms of 1,000 sq ft (ours: the examples give totals) at a rate, and a crew with shifts of so many hours; no walking, as the
/// published arithmetic has none.
fn total(thousands: usize, rate: u32, hours: i64, people: usize) -> Site {
    let ids: Vec<String> = (1..=thousands).map(|i| format!("R{i}")).collect();
    let room = |id: &String| format!("  - {{id: {id}, kind: rated, area_sqft: 1000}}\n");
    let person = |i: usize| {
        format!(
            "  - {{name: P{i}, shift: \"08:00-{:02}:00\", start: entrance}}\n",
            8 + hours
        )
    };
    read_text(&format!(
        "site: Worked example\n\
         date: 2026-03-10\n\
         builtin_standard: false\n\
         floors: [{{id: G}}]\n\
         halls: [{{id: hall, floor: G, places: [entrance, {places}]}}]\n\
         places: [{{id: entrance}}]\n\
         standard: [{{kind: rated, tasks: [{{task: clean, how: dry, sqft_per_h: {rate}, source: published}}]}}]\n\
         rooms:\n{rooms}\
         crew:\n{crew}\
         policy: {{speeds: {{walking: false}}}}\n",
        places = ids.join(", "),
        rooms = ids.iter().map(room).collect::<String>(),
        crew = (1..=people).map(person).collect::<String>(),
    ))
}

/// The published number of people, rounded up, gets everything done; one fewer does not, by as much as the whole rooms that a shift
/// holds say.
fn assert_staffed_by(source: &str, people: usize, site: impl Fn(usize) -> Site) {
    let enough = planned(&site(people), 40, 1);
    assert_all_done(&enough, source);
    assert!(
        enough.bound.share <= highest(&enough) && highest(&enough) <= 1.0,
        "{source}"
    );
    let short = site(people - 1);
    let made = planned(&short, 40, 1);
    assert_sound(&made, source);
    let of_shift = short.crew[0].shift.length().0;
    let work = |made: &Made| loads(made).iter().map(|l| l.0).max().unwrap_or(0);
    let room = Seconds::of_work(1000.0 / rate_of(&short) * 60.0, 1.0).0;
    let rooms_done = (of_shift / room) as usize * (people - 1);
    assert!(work(&made) <= of_shift);
    assert_eq!(
        made.plan.undone.len(),
        short.rooms.len() - rooms_done,
        "{source}"
    );
}

/// Square feet an hour of the only task of a site of [`total`].
fn rate_of(site: &Site) -> f64 {
    let per_square_metre = site.kinds[0].tasks[0].minutes;
    60.0 / per_square_metre / evenrun::units::SQUARE_METRES_PER_SQUARE_FOOT
}

/// International Custodial Advisors Network, no. 3736: 177,000 sq ft, 3,600 sq ft/h, 8 h: 6.146 employees, so seven.
#[test]
fn a_large_school_takes_seven() {
    assert_staffed_by("no. 3736", 7, |people| total(177, 3_600, 8, people));
}

/// International Custodial Advisors Network, no. 3897: 214,000 sq ft, 3,600 sq ft/h, 7 productive hours: 8.5 people, so nine.
#[test]
fn a_church_takes_nine() {
    assert_staffed_by("no. 3897", 9, |people| total(214, 3_600, 7, people));
}

/// International Custodial Advisors Network, no. 3793: 100,000 sq ft, 2,800 sq ft/h, 8 h: 22,400 sq ft a shift, 4.5 people, so five.
#[test]
fn a_health_facility_takes_five() {
    assert_staffed_by("no. 3793", 5, |people| total(100, 2_800, 8, people));
}

/// International Custodial Advisors Network, no. 6111: 180,000 sq ft, 2,300 sq ft/h, 8 h: 9.8 people, "call that 10".
#[test]
fn a_hospital_takes_ten() {
    assert_staffed_by("no. 6111", 10, |people| total(180, 2_300, 8, people));
}

/// The same, by rooms: 100 rooms of 10 min (1,000 sq ft at 6,000) are printed as "16 Hrs" and two people. They are 16.67 h, so two
/// leave four rooms and three leave none.
#[test]
fn a_hundred_private_rooms_take_a_little_more_than_two() {
    assert_staffed_by("no. 6111 by rooms", 3, |people| {
        total(100, 6_000, 8, people)
    });
}

/// International Custodial Advisors Network, no. 627: 36,000 sq ft to a person in 8 h, which is 4,500 sq ft/h: a full shift to the
/// second.
#[test]
fn a_university_assignment_fills_a_shift() {
    let made = planned(&total(36, 4_500, 8, 1), 40, 1);
    assert_all_done(&made, "no. 627");
    assert_eq!(loads(&made), [Seconds::minutes(480)]);
}

/// Rooms to mop for one person, with so many to a fill. How many rooms there are and how long they take is ours.
fn wards(rooms: usize, rooms_per_fill: u32) -> Made {
    let ids: Vec<String> = (1..=rooms).map(|i| format!("W{i}")).collect();
    let room = |id: &String| format!("  - {{id: {id}, kind: ward, area_m2: 12}}\n");
    let site = read_text(&format!(
        "site: Worked example\n\
         date: 2026-03-10\n\
         builtin_standard: false\n\
         floors: [{{id: G}}]\n\
         halls: [{{id: hall, floor: G, places: [entrance, closet, {places}]}}]\n\
         places: [{{id: entrance}}]\n\
         closets: [{{id: closet, fill_point: true}}]\n\
         standard: [{{kind: ward, tasks: [{{task: mop, how: mop, min: 6, drying_min: 10, source: assumption}}]}}]\n\
         rooms:\n{rooms}\
         carts: [{{id: cart, bucket_m2: 1000, bucket_rooms: {rooms_per_fill}}}]\n\
         crew: [{{name: Ana, shift: \"08:00-16:00\", start: entrance, cart: cart}}]\n",
        places = ids.join(", "),
        rooms = ids.iter().map(room).collect::<String>(),
    ));
    let made = planned(&site, 60, 1);
    assert_all_done(&made, "mopped wards");
    made
}

fn fills(made: &Made) -> usize {
    let stops = made.plan.runs.iter().flat_map(|r| &r.stops);
    stops.filter(|s| s.what == What::Fill).count()
}

/// US EPA, "Using Microfiber Mops in Hospitals" (2002), and the Sustainable Hospitals Project (2002) as quoted by cleanlink.com: a loop
/// mop's solution is changed every two to three rooms; 20 rooms a day take 21 gal of water and 10.5 oz of chemical. With a fill every
/// three rooms that is seven fills of 3 gal at 0.5 oz a gallon (3 gal and 0.5 oz are inferred: not printed there).
#[test]
fn twenty_wards_take_seven_fills_of_a_loop_mops_bucket() {
    let made = wards(20, 3);
    assert_eq!(fills(&made), 7);
    let gallons = fills(&made) * 3;
    assert_eq!(gallons, 21);
    assert!((gallons as f64 * 0.5 - 10.5).abs() < 1e-12);
    assert_eq!(fills(&wards(20, 2)), 10);
}

/// The same sources: with flat microfibre, a pad to a room, 22 rooms a day take 1 gal: one fill.
#[test]
fn twenty_two_wards_take_one_fill_with_a_pad_to_each_room() {
    assert_eq!(fills(&wards(22, 22)), 1);
}

/// "Tips to developing restroom cleaning times" (cleanlink.com): 60 fixtures, 3 min each: 180 min. Six rooms of ten are ours; three
/// people take an hour each.
#[test]
fn sixty_fixtures_are_an_hour_for_each_of_three() {
    let room =
        |i: usize| format!("  - {{id: W{i}, kind: fixtures, area_m2: 20, bowls: 5, basins: 5}}\n");
    let rooms = (1..=6).map(room).collect::<Vec<_>>().concat();
    let site = read_text(&format!(
        "site: Worked example\n\
         date: 2026-03-10\n\
         builtin_standard: false\n\
         floors: [{{id: G}}]\n\
         halls: [{{id: hall, floor: G, places: [entrance, W1, W2, W3, W4, W5, W6]}}]\n\
         places: [{{id: entrance}}]\n\
         standard:\n  - kind: fixtures\n    tasks:\n\
         \x20     - {{task: basins, min: 3, per: basins, source: published}}\n\
         \x20     - {{task: bowls, min: 3, per: bowls, source: published}}\n\
         rooms:\n{rooms}\
         crew:\n\
         \x20 - {{name: Ana, shift: \"18:00-20:00\", start: entrance}}\n\
         \x20 - {{name: Ben, shift: \"18:00-20:00\", start: entrance}}\n\
         \x20 - {{name: Cara, shift: \"18:00-20:00\", start: entrance}}\n\
         policy: {{speeds: {{walking: false}}}}\n",
    ));
    let made = planned(&site, 100, 1);
    assert_all_done(&made, "60 fixtures");
    assert_eq!(loads(&made), [Seconds::minutes(60); 3]);
}
