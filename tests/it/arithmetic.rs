//! Cleaning-time arithmetic against published worked examples. Each test gives the example's inputs as a site and asks what is due
//! for its minutes; the published answer stands beside it with its source.

use crate::common::{read_file, read_text};
use evenrun::site::Site;
use evenrun::units::Seconds;
use evenrun::work::due_on;

/// A site of rooms on one hall, with one task that takes `rate` of each room.
fn rooms(rooms: &[String], rate: &str) -> Site {
    let places: Vec<String> = (1..=rooms.len()).map(|i| format!("R{i}")).collect();
    let listed: Vec<String> = rooms
        .iter()
        .zip(&places)
        .map(|(r, id)| format!("  - {{id: {id}, kind: rated, {r}}}\n"))
        .collect();
    read_text(&format!(
        "site: Worked example\n\
         date: 2026-03-10\n\
         builtin_standard: false\n\
         floors: [{{id: G}}]\n\
         halls: [{{id: hall, floor: G, places: [entrance, {places}]}}]\n\
         places: [{{id: entrance}}]\n\
         standard: [{{kind: rated, tasks: [{{task: clean, how: dry, {rate}, source: published}}]}}]\n\
         rooms:\n{listed}\
         crew: [{{name: Ana, shift: \"08:00-16:00\", start: entrance}}]\n",
        places = places.join(", "),
        listed = listed.concat(),
    ))
}

/// One room of an area, cleaned at a rate in square feet an hour.
fn area(square_feet: f64, rate: f64) -> Site {
    rooms(
        &[format!("area_sqft: {square_feet}")],
        &format!("sqft_per_h: {rate}"),
    )
}

/// Work due on the site's date at pace 1, as a plan would time it: whole seconds for each task.
fn hours_due(site: &Site) -> f64 {
    let date = site.date.expect("the example names a date");
    let seconds: Seconds = due_on(site, date)
        .iter()
        .map(|d| Seconds::of_work(d.minutes(site), 1.0))
        .sum();
    seconds.0 as f64 / 3600.0
}

/// Agrees to the digits printed.
fn prints(value: f64, decimals: usize, published: &str) {
    assert_eq!(format!("{value:.decimals$}"), published, "{value}");
}

/// M. S. Cooley, "Vacuum Cleaning Systems" (1913), section on the number of sweepers: eight floors of about 10,000 sq ft of carpet,
/// 2,000 sq ft/h: one floor is 5 h; two floors to an operator in a night of 10 h; four operators.
#[test]
fn eight_floors_vacuumed_at_night() {
    let site = read_file("fixtures/worked/w1.yaml");
    let date = site.date.expect("the example names a date");
    for floor in 0..8 {
        let on_floor = |room: usize| {
            site.halls[site.places[room].spot.hall.index()]
                .floor
                .index()
                == floor
        };
        let due = due_on(&site, date)
            .into_iter()
            .filter(|d| on_floor(d.room.index()));
        let work: Seconds = due.map(|d| Seconds::of_work(d.minutes(&site), 1.0)).sum();
        assert_eq!(work, Seconds::minutes(5 * 60), "floor {}", floor + 1);
    }
    prints(hours_due(&site) / 10.0, 1, "4.0");
    assert_eq!(site.crew.len(), 4);
}

/// The same book and section: a class room in 10 min is 7,200 sq ft/h, so a room of 1,200 sq ft (the area is worked back).
#[test]
fn a_school_room_in_ten_minutes() {
    prints(hours_due(&area(1_200.0, 7_200.0)) * 60.0, 1, "10.0");
}

/// International Custodial Advisors Network, no. 4049: 25,808 sq ft of carpet, 3,744 of vinyl and 448 of ceramic tile at 3,000 sq ft/h:
/// 10 h in all; 5 h each for two, 3.3 h for three, 2.5 h for four, two on each storey. Twelve rooms are rounded up to seconds.
#[test]
fn thirty_thousand_square_feet_on_two_storeys() {
    let site = read_file("fixtures/worked/w2.yaml");
    let square_feet: f64 = site
        .rooms
        .iter()
        .map(|r| r.area.0 / evenrun::units::SQUARE_METRES_PER_SQUARE_FOOT)
        .sum();
    prints(square_feet, 3, "30000.000");
    let hours = hours_due(&site);
    assert!((hours - 10.0).abs() * 3600.0 < 12.0, "{hours} h");
    prints(hours / 2.0, 1, "5.0");
    prints(hours / 3.0, 1, "3.3");
    prints(hours / 4.0, 1, "2.5");
}

/// International Custodial Advisors Network, no. 3736: 177,000 sq ft, 3,600 sq ft/h, 8 h: 6.146 employees.
#[test]
fn a_large_school() {
    prints(hours_due(&area(177_000.0, 3_600.0)) / 8.0, 3, "6.146");
}

/// International Custodial Advisors Network, no. 3897: 214,000 sq ft, 3,600 sq ft/h, 7 productive hours: 59.44 h, 8.5 people.
#[test]
fn a_church_with_obstructed_rooms() {
    let hours = hours_due(&area(214_000.0, 3_600.0));
    prints(hours, 2, "59.44");
    prints(hours / 7.0, 1, "8.5");
}

/// International Custodial Advisors Network, no. 3793: 100,000 sq ft, 2,800 sq ft/h, 8 h: 22,400 sq ft a shift, 4.5 people.
#[test]
fn a_health_facility() {
    prints(hours_due(&area(100_000.0, 2_800.0)) / 8.0, 1, "4.5");
    prints(hours_due(&area(22_400.0, 2_800.0)), 1, "8.0");
}

/// International Custodial Advisors Network, no. 6111: (a) 100 private rooms of 10 min: "16 Hrs" (16.67 exactly), 2 people a shift;
/// (b) 180,000 sq ft at 2,300 sq ft/h, 8 h: 78 man-hours, 9.8 people, "call that 10".
#[test]
fn a_hospital_by_rooms_and_by_area() {
    let by_rooms = hours_due(&rooms(&vec!["area_sqft: 200".to_string(); 100], "min: 10"));
    prints(by_rooms, 2, "16.67");
    prints(by_rooms / 8.0, 0, "2");
    let by_area = hours_due(&area(180_000.0, 2_300.0));
    prints(by_area, 0, "78");
    prints(by_area / 8.0, 1, "9.8");
    prints((by_area / 8.0).ceil(), 0, "10");
}

/// Katonah-Lewisboro schools (cleanlink.com, article 8546): 658,960 sq ft at 2,500 sq ft a staff-hour, 20,000 a position of 8 h:
/// about 33 custodians.
#[test]
fn six_schools_of_a_district() {
    prints(hours_due(&area(658_960.0, 2_500.0)) / 8.0, 0, "33");
    prints(hours_due(&area(20_000.0, 2_500.0)), 1, "8.0");
}

/// "Tips to developing restroom cleaning times" (cleanlink.com): 60 fixtures (faucets, urinals, toilets and shower heads each count),
/// 3 min each: 180 min a day. How the 60 fall on kinds is ours; the sum does not depend on it.
#[test]
fn sixty_restroom_fixtures() {
    let site = read_text(
        "site: Worked example\n\
         date: 2026-03-10\n\
         builtin_standard: false\n\
         floors: [{id: G}]\n\
         halls: [{id: hall, floor: G, places: [entrance, W, M]}]\n\
         places: [{id: entrance}]\n\
         standard:\n  - kind: fixtures\n    tasks:\n\
         \x20     - {task: basins, min: 3, per: basins, source: published}\n\
         \x20     - {task: urinals, min: 3, per: urinals, source: published}\n\
         \x20     - {task: bowls, min: 3, per: bowls, source: published}\n\
         \x20     - {task: showers, min: 3, per: showers, source: published}\n\
         rooms:\n\
         \x20 - {id: W, kind: fixtures, area_m2: 60, bowls: 14, basins: 12, showers: 4}\n\
         \x20 - {id: M, kind: fixtures, area_m2: 60, bowls: 6, urinals: 10, basins: 10, showers: 4}\n\
         crew: [{name: Ana, shift: \"08:00-16:00\", start: entrance}]\n",
    );
    let fixtures: u32 = site.rooms.iter().flat_map(|r| r.fixtures.values()).sum();
    assert_eq!(fixtures, 60);
    prints(hours_due(&site) * 60.0, 1, "180.0");
}

/// International Custodial Advisors Network, no. 627: 36,000 sq ft to a person in 8 h, so 4,500 sq ft/h.
#[test]
fn a_university_assignment() {
    prints(hours_due(&area(36_000.0, 4_500.0)), 1, "8.0");
}

/// The same arithmetic in square metres gives the same seconds: 1 sq ft is 0.09290304 m² exactly (international foot).
#[test]
fn metric_and_us_units_agree_to_the_second() {
    let us = area(36_000.0, 4_500.0);
    let metric = rooms(&["area_m2: 3344.50944".to_string()], "m2_per_h: 418.06368");
    prints(hours_due(&us), 6, "8.000000");
    prints(hours_due(&metric), 6, "8.000000");
}
