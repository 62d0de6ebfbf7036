//! The audit of today's split: shares, findings, the rooms that change hands, and how hard the runs are.
//!
//! Sites here are small enough to be worked out by hand or by enumeration; nothing comes from outside.

use crate::common::{demo, read_text};
use crate::support::plain_site::desks;
use crate::support::two_floors::{GYM, NORTH, R101, R102, SOUTH, W1, W2, two_floors};
use evenrun::input::read_split;
use evenrun::manage::{Audit, AuditRequest, GivenStop, audit, rotation};
use evenrun::plan::{Measures, Rule, efforts};
use evenrun::route::{Budget, Settings, Stop};
use evenrun::site::{RoomId, Site, WorkerId};
use evenrun::units::{Clock, Seconds};
use evenrun::work::Split;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use std::fs;
use std::sync::atomic::AtomicBool;

mod command;

/// Owners by room, as indices of the crew.
fn split(site: &Site, owners: &[usize]) -> Split {
    let mut split = Split::of_nobody(site);
    for (room, owner) in split.rooms.iter_mut().zip(owners) {
        *room = Some(WorkerId::from(*owner));
    }
    split
}

fn audited(site: &Site, split: &Split, given: Option<&[GivenStop]>, rounds: u64) -> Audit {
    let request = AuditRequest {
        site,
        date: site.date.unwrap(),
        absent: &[],
        split,
        given,
        settings: Settings {
            stop: Stop {
                budget: Budget::Iterations(rounds),
                interrupted: &AtomicBool::new(false),
            },
            seed: 1,
            islands: 1,
        },
    };
    audit(&request, &mut |_, _| {})
}

fn loads(measures: &Measures) -> Vec<i64> {
    measures.runs.iter().map(|r| r.load.0 / 60).collect()
}

fn rules(audit: &Audit) -> Vec<Rule> {
    audit.today.violations.iter().map(|v| v.rule).collect()
}

#[test]
fn everybody_does_their_own_rooms_and_the_best_plan_shares_them_out() {
    let site = desks(&[100, 70, 60, 50, 20], 2, "");
    let today = audited(&site, &split(&site, &[0, 0, 0, 1, 1]), None, 50);
    assert_eq!(loads(&today.today.measures), [230, 70]);
    assert_eq!(loads(&today.best.measures).iter().sum::<i64>(), 300);
    assert!((today.best.measures.evenness.highest - 0.5).abs() < 1e-12);
    assert_eq!(today.today.violations, []);
    assert!(today.unassigned.is_empty() && today.today.plan.undone.is_empty());
}

#[test]
fn a_run_that_is_too_long_breaks_the_shift_and_leaves_nothing_undone() {
    let site = desks(&[200, 150, 50], 2, "");
    let today = audited(&site, &split(&site, &[0, 0, 1]), None, 50);
    assert_eq!(loads(&today.today.measures), [350, 50]);
    assert_eq!(today.today.plan.undone, []);
    assert!(!rules(&today).is_empty());
    assert!(rules(&today).iter().all(|r| *r == Rule::Shift));
    assert_eq!(today.today.measures.runs[0].overtime, Seconds::minutes(50));
    assert_eq!(today.best.violations, []);
}

#[test]
fn rooms_of_nobody_are_told_and_are_in_neither_plan() {
    let site = desks(&[100, 80, 60], 2, "");
    let mut owners = split(&site, &[0, 1, 1]);
    owners.rooms[1] = None;
    let today = audited(&site, &owners, None, 20);
    assert_eq!(today.unassigned, [RoomId(1)]);
    for (plan, measures) in [
        (&today.today.plan, &today.today.measures),
        (&today.best.plan, &today.best.measures),
    ] {
        assert_eq!(loads(measures).iter().sum::<i64>(), 160);
        assert_eq!(plan.undone.len(), 1);
    }
    assert_eq!(today.today.violations, []);
}

#[test]
fn an_owner_without_the_key_is_a_broken_rule() {
    let mut site = desks(&[100, 80], 2, "");
    site.access = vec!["lab key".to_string()];
    site.rooms[0].needs = vec![evenrun::site::AccessId(0)];
    site.crew[1].access = vec![evenrun::site::AccessId(0)];
    let today = audited(&site, &split(&site, &[0, 1]), None, 20);
    assert_eq!(loads(&today.today.measures), [100, 80]);
    assert!(rules(&today).contains(&Rule::Skills), "{:?}", rules(&today));
    assert_eq!(today.best.violations, []);
}

/// The fewest rooms that have to change hands, by trying every assignment: walking takes no time here, so a share is minutes over 300.
#[test]
fn the_moves_are_as_few_as_enumeration_finds() {
    let rng = &mut Pcg64Mcg::seed_from_u64(3);
    let mut compared = 0;
    for _ in 0..40 {
        let minutes: Vec<u32> = (0..6).map(|_| rng.random_range(5..60)).collect();
        let owners: Vec<usize> = (0..6).map(|_| rng.random_range(0..3)).collect();
        let share = |owners: &[usize]| {
            let of = |who: usize| -> u32 {
                let own = minutes.iter().zip(owners).filter(|(_, o)| **o == who);
                own.map(|(m, _)| *m).sum()
            };
            (0..3).map(of).max().unwrap()
        };
        let all: Vec<Vec<usize>> = (0..729)
            .map(|n| (0..6).map(|room| n / 3_usize.pow(room) % 3).collect())
            .collect();
        let (today, best) = (share(&owners), all.iter().map(|o| share(o)).min().unwrap());
        let goal = f64::from(today) - 0.8 * f64::from(today - best);
        // Bands are a hundredth of a percent of 300 minutes: what lies nearer than that to the goal is not compared.
        let near = |o: &Vec<usize>| (f64::from(share(o)) - goal).abs() < 0.05;
        if today == best || all.iter().any(near) {
            continue;
        }
        let changed = |o: &Vec<usize>| o.iter().zip(&owners).filter(|(a, b)| a != b).count();
        let enough = all.iter().filter(|o| f64::from(share(o)) < goal);
        let fewest = enough.map(changed).min().unwrap();
        let site = desks(&minutes, 3, "");
        let found = audited(&site, &split(&site, &owners), None, 60).moves;
        assert!(found.enough && found.smallest, "{minutes:?} {owners:?}");
        assert_eq!(found.hands.len(), fewest, "{minutes:?} {owners:?}");
        assert!(found.after * 300.0 < goal + 0.05);
        compared += 1;
    }
    assert!(compared >= 20, "only {compared}");
}

#[test]
fn nothing_moves_where_nothing_is_to_be_gained() {
    let site = desks(&[50, 50], 2, "");
    let moves = audited(&site, &split(&site, &[0, 1]), None, 20).moves;
    assert!(moves.enough && moves.hands.is_empty());
}

fn given(worker: usize, room: usize, start: Option<Clock>) -> GivenStop {
    GivenStop {
        worker: WorkerId::from(worker),
        room: RoomId::from(room),
        start,
    }
}

fn order(audit: &Audit, run: usize) -> Vec<usize> {
    let stops = audit.today.plan.runs[run].stops.iter();
    stops
        .filter_map(|s| s.what.room().map(RoomId::index))
        .collect()
}

#[test]
fn a_given_order_is_kept_and_told_where_it_breaks_a_window() {
    let mut site = desks(&[30, 30, 30], 1, "");
    site.rooms[2].open = Some(evenrun::site::Hours {
        weekly: vec![(
            evenrun::site::Weekdays::ALL,
            evenrun::units::Span::new(Clock::at(17, 0), Clock::at(17, 45)),
        )],
        ..Default::default()
    });
    let stops = [1, 0, 2].map(|room| given(0, room, None));
    let today = audited(&site, &split(&site, &[0, 0, 0]), Some(&stops), 20);
    assert_eq!(order(&today, 0), [1, 0, 2]);
    assert_eq!(rules(&today), [Rule::Access]);
    // Left to itself, the engine does the third room in time.
    let free = audited(&site, &split(&site, &[0, 0, 0]), None, 20);
    assert_eq!(rules(&free), []);
}

#[test]
fn a_start_is_waited_for_and_one_that_cannot_be_kept_is_late() {
    let site = desks(&[30, 30], 1, "");
    let stops = [
        given(0, 0, Some(Clock::at(18, 0))),
        given(0, 1, Some(Clock::at(18, 20))),
    ];
    let today = audited(&site, &split(&site, &[0, 0]), Some(&stops), 20);
    let starts: Vec<Clock> = today.today.plan.runs[0]
        .stops
        .iter()
        .filter(|s| s.what.room().is_some())
        .map(|s| s.span.from)
        .collect();
    assert_eq!(starts, [Clock::at(18, 0), Clock::at(18, 30)]);
    let late: Vec<_> = today.late.iter().map(|l| (l.room, l.said, l.can)).collect();
    assert_eq!(late, [(RoomId(1), Clock::at(18, 20), Clock::at(18, 30))]);
}

/// The small night of two floors, with both restrooms for Ana and the one first that may be closed last.
#[test]
fn an_order_that_no_hour_allows_is_shown_at_any_hour() {
    let mut site = two_floors();
    site.date = Some(jiff::civil::date(2026, 3, 10));
    let owners = [0, 0, 0, 2, 2, 1, 1, 1];
    // W2 may be closed from 19:00 on, and W1 until 19:00: in this order neither is.
    let stops = [W2, W1, R101]
        .map(|room| given(0, room.index(), None))
        .into_iter()
        .chain([NORTH, SOUTH, GYM].map(|room| given(1, room.index(), None)))
        .chain([given(2, R102.index(), None)]);
    let split = split(&site, &owners);
    let stops: Vec<GivenStop> = stops.collect();
    let today = audited(&site, &split, Some(&stops), 20);
    let mut rooms = order(&today, 0);
    rooms.dedup();
    assert_eq!(
        rooms.iter().filter(|r| **r == W2.index()).count(),
        1,
        "{rooms:?}"
    );
    assert_eq!(rooms[0], W2.index(), "{rooms:?}");
    assert!(
        rules(&today).contains(&Rule::Closure),
        "{:?}",
        rules(&today)
    );
    assert_eq!(today.best.violations, []);
}

/// A room written twice and once is done where it stands first.
#[test]
fn a_room_that_is_written_twice_is_done_once() {
    let site = desks(&[30, 30], 1, "");
    let stops = [0, 1, 0].map(|room| given(0, room, None));
    let today = audited(&site, &split(&site, &[0, 0]), Some(&stops), 20);
    assert_eq!(order(&today, 0), [0, 1]);
    assert_eq!(rules(&today), []);
}

/// One person, one room upstairs: 10 m to the stairs and 20 steps up, and the same back. A minute of wet work in the restroom, two
/// of heavy dry work with 8 l of waste.
#[test]
fn efforts_are_what_they_are_by_hand() {
    let site = read_text(
        "site: Upstairs\ndate: 2026-03-10\nbuiltin_standard: false\nfloors: [{id: G, height_m: 3.4}, {id: \"1\"}]\n\
         halls:\n  - {id: G, floor: G, length_m: 10, places_at: [{place: door, m: 0}]}\n  \
         - {id: F, floor: \"1\", length_m: 10, places_at: [{place: WC, m: 4}]}\n\
         stairs: [{id: up, landings: [\"G@end\", \"F@start\"], steps: 20}]\nplaces: [{id: door}]\n\
         standard:\n  - kind: restroom\n    restroom: true\n    tasks:\n      \
         - {task: wipe, how: wipe, min: 1, when: daily}\n      - {task: carry, how: dry, min: 2, when: daily, heavy: true}\n\
         rooms: [{id: WC, kind: restroom, area_m2: 5}]\n\
         crew: [{name: A, shift: \"17:00-22:00\", days: daily, start: door}]\n",
    );
    let today = audited(&site, &split(&site, &[0]), None, 5);
    let all = efforts(&site, &today.today.plan);
    let effort = all[0].1;
    assert_eq!(effort.wet, Seconds::minutes(1));
    assert_eq!(effort.restrooms, Seconds::minutes(3));
    assert_eq!(effort.heavy, Seconds::minutes(2));
    assert_eq!(effort.steps_up, 20);
    assert!((effort.walked.0 - 28.0).abs() < 1e-9, "{:?}", effort.walked);
    let week = rotation(&site, &[today.today.plan.clone(), today.today.plan.clone()]);
    assert_eq!((week[0].shifts, week[0].effort.steps_up), (2, 40));
    assert_eq!(week[0].most, [2, 2, 2, 2, 0, 2]);
    assert_eq!(week[0].part[1], Some(1.0));
    assert_eq!(week[0].part[4], None);
}

/// Two rooms alike but for their kind, two people: whoever has the restroom today does not have it tomorrow, and evenness is the same.
#[test]
fn kinds_that_the_policy_names_go_round_from_day_to_day() {
    let kinds = "  - kind: restroom\n    tasks:\n      - {task: wipe, how: wipe, min: 1, per: desks, when: daily}\ncrew:";
    let policy = "policy: {speeds: {walking: false}, rotate_kinds: [restroom]}\n";
    let text = crate::support::plain_site::desks_text(&[60, 60], 2, policy)
        .replacen("crew:", kinds, 1)
        .replace("id: R1, kind: office", "id: R1, kind: restroom");
    let site = read_text(&text);
    let who = |day| {
        let date = jiff::civil::date(2026, 3, day);
        let mut today = site.clone();
        today.date = Some(date);
        let made = crate::support::planner::planned(&today, 200, 1);
        assert!((made.measures.evenness.range).abs() < 1e-12);
        let has = |r: &evenrun::plan::Run| r.stops.iter().any(|s| s.what.room() == Some(RoomId(0)));
        made.plan.runs.iter().position(has).unwrap()
    };
    let days = [10, 11, 12, 13].map(who);
    assert_ne!(days[0], days[1]);
    assert_eq!([days[0], days[1]], [days[2], days[3]]);
}

#[test]
fn the_demo_s_split_gives_every_room_to_somebody() {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("demo/larkfield/split.csv");
    let site = demo();
    let read = read_split(&path, &site).unwrap_or_else(|problems| panic!("{problems}"));
    assert!(read.split.rooms.iter().all(Option::is_some));
    assert!(read.twice.is_empty() && !read.ordered);
}

#[test]
fn a_split_is_read_with_its_order_and_all_its_mistakes() {
    let site = desks(&[10, 10, 10], 2, "");
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("split.csv");
    fs::write(
        &file,
        "room,worker,order,start\nR1,A,2,18:00\nR2,A,1,17:30\nR3,,,\nR2,B,,\n",
    )
    .unwrap();
    let read = read_split(&file, &site).unwrap();
    let rooms: Vec<u32> = read.rows.iter().map(|r| r.room.0).collect();
    assert_eq!(rooms, [1, 0]);
    assert_eq!(read.twice, [(RoomId(1), WorkerId(0), WorkerId(1))]);
    assert_eq!(read.split.owner(RoomId(2)), None);
    fs::write(
        &file,
        "room,worker,start\nR9,A,17:00\nR1,Zoe,17:00\nR2,B,5pm\n",
    )
    .unwrap();
    let problems = read_split(&file, &site).unwrap_err();
    let told: Vec<_> = problems
        .0
        .iter()
        .map(|p| (p.code, p.line, p.column))
        .collect();
    assert_eq!(told, [("E313", 2, 1), ("E306", 3, 4), ("E208", 4, 6)]);
}
