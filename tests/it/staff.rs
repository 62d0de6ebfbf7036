//! How many people it takes: found and proven numbers, hours of work, and the published examples of staffing arithmetic.

use crate::common::{demo, read_text};
use crate::support::plain_site::desks;
use evenrun::manage::{
    SchoolFigures, Staff, StaffRequest, Turn, casbo, formulas, staff, usps_people, workload,
};
use evenrun::plan::Ground;
use evenrun::report::staff_table;
use evenrun::route::{Budget, Instance, Settings, Stop, pose};
use evenrun::site::{Duty, Hours, Priority, Site, Weekdays};
use evenrun::units::{Clock, Span};
use std::sync::atomic::AtomicBool;

mod command;

fn asked(site: &Site, levels: bool) -> Staff {
    asked_until(site, levels, false)
}

/// With time that is over before it begins, or not.
fn asked_until(site: &Site, levels: bool, over: bool) -> Staff {
    let request = StaffRequest {
        site,
        date: site.date.unwrap(),
        shift: None,
        levels,
        school: None,
        settings: Settings {
            stop: Stop {
                budget: Budget::Iterations(60),
                interrupted: &AtomicBool::new(over),
            },
            seed: 1,
            islands: 1,
        },
    };
    staff(&request, &mut |_| {})
}

/// The demo with so many people who are all like the first.
fn alike(people: usize) -> Instance {
    let mut site = demo();
    site.crew = vec![site.crew[0].clone(); people];
    site.policy.rotate.clear();
    for room in &mut site.rooms {
        (room.only, room.never, room.prefer) = Default::default();
    }
    let ground = Ground::of(&site, site.date.unwrap(), &[]);
    pose(&ground.question(&site))
}

#[test]
fn work_posed_once_is_as_if_posed_for_each_number_of_people() {
    let mut instance = alike(1);
    for people in [3, 1, 5] {
        instance.be_alike(people);
        assert_eq!(format!("{instance:?}"), format!("{:?}", alike(people)));
    }
}

/// The first kind of work is always looked at, others only while there is time; how many were not is told.
#[test]
fn levels_that_time_does_not_reach_are_counted() {
    let site = desks(&[100; 9], 1, "");
    let (all, none) = (asked(&site, true), asked_until(&site, true, true));
    assert_eq!((all.levels.len(), all.levels_left), (3, 0));
    assert_eq!((none.levels.len(), none.levels_left), (1, 2));
    assert!(staff_table(&site, &none).contains("2 more kinds of work"));
}

/// 900 minutes of work and 300 for each person: three, and no fewer.
#[test]
fn the_least_crew_is_found_and_proven_where_it_is_plain() {
    let site = desks(&[100; 9], 1, "");
    let level = &asked(&site, false).levels[0];
    assert_eq!((level.at_least, level.enough), (3, Some(3)));
    let people: Vec<usize> = level.attempts.iter().map(|a| a.people).collect();
    assert_eq!(people, [2, 3, 4]);
    let [fewer, enough, more] = &level.attempts[..] else {
        panic!("{:?}", level.attempts)
    };
    assert_eq!(enough.left, 0);
    assert!((enough.highest - 1.0).abs() < 1e-9 && more.highest <= 1.0);
    // One fewer has 600 of 900 minutes: three rooms are left.
    assert_eq!((fewer.left, fewer.undone.0), (3, 300 * 60));
}

/// 160 minutes a room and 300 a person: one room each, although 5 × 160 minutes would go into three shifts.
#[test]
fn what_is_found_and_what_is_proven_are_told_apart() {
    let site = desks(&[160; 5], 1, "");
    let level = &asked(&site, false).levels[0];
    assert_eq!((level.at_least, level.enough), (3, Some(5)));
}

/// A room of 400 minutes goes into no shift of 300, and a shift that ends at 22:00 does not see the hour at which locking up begins.
#[test]
fn work_that_no_number_of_people_does_is_told_and_hinders_nothing_else() {
    let mut site = desks(&[100, 400], 1, "");
    site.duties.push(Duty {
        name: "lock up".to_string(),
        place: site.crew[0].start,
        minutes: 10.0,
        window: Some(hours(23, 24)),
        days: Weekdays::ALL,
        skills: Vec::new(),
        last: true,
    });
    let level = &asked(&site, false).levels[0];
    assert_eq!((level.never_done, level.at_least), (2, 1));
    assert_eq!(level.enough, Some(1));
    assert_eq!(level.attempts[0].left, 2);
}

fn hours(from: i64, to: i64) -> Hours {
    let span = Span::new(Clock::at(from, 0), Clock::at(to, 0));
    Hours {
        weekly: vec![(Weekdays::ALL, span)],
        ..Hours::default()
    }
}

/// Four rooms of 50 minutes that are open for one hour: everybody does one, though all would go into one shift of 300 minutes.
#[test]
fn short_hours_of_rooms_ask_for_more_people() {
    let mut site = desks(&[50; 4], 1, "");
    for room in &mut site.rooms {
        room.open = Some(hours(18, 19));
    }
    let level = &asked(&site, false).levels[0];
    assert_eq!((level.at_least, level.enough), (4, Some(4)));
}

/// Three rooms with a task for each priority; 60 minutes of each in all, and 5 working days.
fn three_priorities() -> Site {
    read_text(
        "site: Three\ndate: 2026-03-10\nbuiltin_standard: false\nfloors: [{id: G}]\n\
         halls: [{id: H, floor: G, spacing_m: 4, places: [door, R1, R2, R3]}]\nplaces: [{id: door}]\n\
         standard:\n  - kind: office\n    tasks:\n      \
         - {task: bins, how: dry, min: 20, when: daily, priority: health}\n      \
         - {task: floor, how: dry, min: 20, when: \"tue,thu\", priority: expected}\n      \
         - {task: dust, how: dry, min: 20, when: every 2 weeks, priority: appearance}\n      \
         - {task: wash, how: dry, min: 20, when: monthly, priority: appearance}\n      \
         - {task: wax, how: dry, min: 20, when: termly, priority: appearance}\n\
         policy: {speeds: {walking: false}}\n\
         rooms:\n  - {id: R1, kind: office, area_m2: 9}\n  - {id: R2, kind: office, area_m2: 9}\n  - {id: R3, kind: office, area_m2: 9}\n\
         crew: [{name: A, shift: \"17:00-18:00\", days: mon-fri, start: door}]\n",
    )
}

#[test]
fn hours_by_how_often_and_how_much_it_matters_are_what_they_are_by_hand() {
    let load = workload(&three_priorities());
    // An hour a turn: five times, twice, every second week, twelve times in 52.18 weeks, every 17 weeks.
    for (turn, hours) in [
        (Turn::Daily, [5.0, 0.0, 0.0]),
        (Turn::Named, [0.0, 2.0, 0.0]),
        (Turn::Weeks, [0.0, 0.0, 0.5]),
    ] {
        for (is, by_hand) in load.weekly[&turn].iter().zip(hours) {
            near(*is, by_hand, 1e-12);
        }
    }
    let monthly = load.weekly[&Turn::Monthly][2];
    assert!((monthly - 12.0 * 7.0 / 365.25).abs() < 1e-12, "{monthly}");
    assert!((load.weekly[&Turn::Termly][2] - 1.0 / 17.0).abs() < 1e-12);
    assert!((load.weekly_to(Priority::Health) - 5.0).abs() < 1e-12);
    assert!((load.weekly_to(Priority::Expected) - 7.0).abs() < 1e-12);
    assert!((load.yearly_to(Priority::Health) - 5.0 * 365.25 / 7.0).abs() < 1e-9);
}

#[test]
fn less_work_takes_no_more_people() {
    let levels = asked(&three_priorities(), true).levels;
    let of: Vec<_> = levels.iter().map(|l| (l.priority, l.enough)).collect();
    assert_eq!(of[0].0, Priority::Appearance);
    assert_eq!(of[2], (Priority::Health, Some(1)));
    // Two rooms of 40 minutes do not go into a shift of 60, so it is one person for each.
    assert_eq!(of[1], (Priority::Expected, Some(3)));
    assert_eq!(levels[1].at_least, 2);
    assert!(of[0].1 >= of[1].1);
}

/// Daily hours of a building with one kind of floor, as the program works them out from its own tasks.
fn daily_hours(square_feet: u32, square_feet_an_hour: u32) -> f64 {
    let site = read_text(&format!(
        "site: Area\nbuiltin_standard: false\nfloors: [{{id: G}}]\n\
         halls: [{{id: H, floor: G, spacing_m: 4, places: [door, R]}}]\nplaces: [{{id: door}}]\n\
         standard:\n  - kind: hall\n    tasks: [{{task: clean, how: dry, sqft_per_h: {square_feet_an_hour}, when: daily}}]\n\
         rooms: [{{id: R, kind: hall, area_sqft: {square_feet}}}]\n\
         crew: [{{name: A, shift: \"00:00-24:00\", days: mon-fri, start: door}}]\n"
    ));
    workload(&site).weekly[&Turn::Daily].iter().sum::<f64>() / 5.0
}

fn near(value: f64, published: f64, tolerance: f64) {
    assert!(
        (value - published).abs() <= tolerance,
        "{value}, published {published}"
    );
}

/// W3: icanatex.com, answer 3736 (also cmmonline.com, 15 June 2010): 177,000 sq ft, 3,600 an hour, 8 h: 6.146 employees.
#[test]
fn a_building_of_177_000_square_feet_takes_6_146_people() {
    near(daily_hours(177_000, 3_600) / 8.0, 6.146, 0.000_5);
}

/// W4: icanatex.com, answer 3897: 214,000 sq ft, 3,600 an hour, 7 productive hours: 59.44 h, 8.5 people.
#[test]
fn a_church_of_214_000_square_feet_takes_59_44_hours() {
    let hours = daily_hours(214_000, 3_600);
    near(hours, 59.44, 0.005);
    near(hours / 7.0, 8.5, 0.05);
}

/// W5: icanatex.com, answer 3793: 100,000 sq ft, 2,800 an hour, 8 h: 22,400 sq ft a shift, 4.5 people.
#[test]
fn a_clinic_of_100_000_square_feet_takes_4_5_people() {
    near(
        100_000.0 / (daily_hours(100_000, 2_800) / 8.0),
        22_400.0,
        0.5,
    );
    near(daily_hours(100_000, 2_800) / 8.0, 4.5, 0.05);
}

/// W6: icanatex.com, answer 6111: 180,000 sq ft at 2,300 an hour, 8 h: 78 hours, 9.8 people; 100 rooms of 10 min: "16 Hrs", 2 people.
#[test]
fn a_hospital_of_100_rooms_takes_9_8_people_by_area_and_2_by_rooms() {
    near(daily_hours(180_000, 2_300), 78.0, 0.5);
    near(daily_hours(180_000, 2_300) / 8.0, 9.8, 0.05);
    let rooms = workload(&desks(&[10; 100], 1, ""));
    // The site works on seven days. Published as 16, cut from 16.67.
    let daily = rooms.weekly_to(Priority::Appearance) / 7.0;
    near(daily.floor(), 16.0, 0.0);
    near((daily / 8.0).round(), 2.0, 0.0);
}

/// W7: cleanlink.com, article 8546: 658,960 sq ft, 41.5 people, 6 of them heads: 15,900 sq ft each, 18,500 without heads; about 33 at
/// the norm of 2,500 an hour.
#[test]
fn six_schools_take_33_people_at_the_norm() {
    let norm = formulas(658_960.0, 0.0, None);
    let asbo = norm.iter().find(|f| f.list == "ASBO norm").unwrap();
    near(asbo.least, 33.0, 0.5);
    near(daily_hours(658_960, 2_500) / 8.0, 33.0, 0.5);
    near(658_960.0 / 41.5, 15_900.0, 50.0);
    near(658_960.0 / 35.5, 18_500.0, 100.0);
}

/// W8: cleanlink.com, "Tips To Developing Restroom Cleaning Times": 60 fixtures of 3 min: 180 min a day.
#[test]
fn sixty_fixtures_take_180_minutes() {
    let site = read_text(
        "site: Fixtures\nbuiltin_standard: false\nfloors: [{id: G}]\n\
         halls: [{id: H, floor: G, spacing_m: 4, places: [door, R]}]\nplaces: [{id: door}]\n\
         standard:\n  - kind: restroom\n    tasks:\n      - {task: bowls, how: wipe, min: 3, per: bowls, when: daily}\n      \
         - {task: urinals, how: wipe, min: 3, per: urinals, when: daily}\n      - {task: basins, how: wipe, min: 3, per: basins, when: daily}\n      \
         - {task: showers, how: wipe, min: 3, per: showers, when: daily}\n\
         rooms: [{id: R, kind: restroom, area_m2: 90, bowls: 20, urinals: 10, basins: 20, showers: 10}]\n\
         crew: [{name: A, shift: \"17:00-24:00\", days: mon-fri, start: door}]\n",
    );
    near(
        workload(&site).weekly_to(Priority::Appearance) / 5.0 * 60.0,
        180.0,
        1e-9,
    );
}

/// W9: icanatex.com, answer 627: 36,000 sq ft a person in 8 h, which implies 4,500 an hour.
#[test]
fn a_university_assignment_of_36_000_square_feet_is_4_500_an_hour() {
    near(daily_hours(36_000, 4_500), 8.0, 1e-9);
}

/// The formula is published (casbo.org/casbos-custodial-staffing-formula); these two examples are our own.
#[test]
fn casbo_s_formula_gives_our_two_examples() {
    let school = |students, teachers, classrooms, community| SchoolFigures {
        students,
        teachers,
        classrooms,
        community,
    };
    let small = school(420, 18, 20, SchoolFigures::ELEMENTARY);
    near(casbo(&small, 45_000.0), 2.0413, 0.000_05);
    let large = school(900, 40, 42, SchoolFigures::MIDDLE);
    near(casbo(&large, 90_000.0), 3.7692, 0.000_05);
}

/// USPS maintenance bulletin of 1987 (doczz.net/doc/2228992): employees = annual hours / 1,760.
#[test]
fn annual_hours_over_1_760_are_people() {
    near(usps_people(8_800.0), 5.0, 1e-12);
    near(usps_people(1_760.0), 1.0, 1e-12);
}

/// CEDS element 001866 and NCES 2003-347 name other areas for the same level.
#[test]
fn the_published_lists_are_shown_with_their_disagreement() {
    let all = formulas(100_000.0, 3_520.0, None);
    let level3: Vec<_> = all.iter().filter(|f| f.basis == "level 3").collect();
    assert_eq!(level3.len(), 2);
    near(level3[0].least, 4.0, 1e-9);
    near(level3[0].most, 100.0 / 19.0, 1e-9);
    near(level3[1].least, 100.0 / 31.0, 1e-9);
    assert!(level3[1].most < level3[0].least);
    assert!(all.iter().all(|f| !f.source.is_empty()));
    let usps = all.iter().find(|f| f.list == "USPS").unwrap();
    near(usps.least, 2.0, 1e-12);
    assert!(all.iter().all(|f| f.list != "CASBO"));
}
