//! The calendar of periodic work: how light its heaviest day is, what it respects, and that it stays as it is when a task is added.

use crate::common::{read_file, read_text};
use crate::support::plain_site::{desks, desks_text};
use evenrun::balance::calendar::{Month, Piece, Track, least_heaviest, spread};
use evenrun::manage::{CalendarDocument, CalendarRequest, PeriodicCalendar, calendar, split_of};
use evenrun::plan::Plan;
use evenrun::report::{Language, Words, calendar_ics, calendar_table};
use evenrun::site::{RoomId, Site, WorkerId};
use evenrun::work::{Split, due_on};
use jiff::ToSpan;
use jiff::civil::{Date, Weekday, date};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use std::collections::BTreeMap;
use std::fs;

mod command;

const MONDAY: Date = date(2026, 3, 9);
const LAST: Date = date(2026, 4, 5);

/// A month of so many days and owners, in which every piece may fall on any day.
fn month(days: usize, owners: usize, pieces: Vec<Piece>) -> Month {
    let track = |available| Track {
        available: vec![available; days],
        base: vec![0; days],
    };
    Month {
        position: (0..days as i64).collect(),
        all: track(20_000 * owners as i64),
        owners: vec![track(20_000); owners],
        pieces,
    }
}

fn piece(seconds: i64, owner: usize, days: Vec<usize>) -> Piece {
    Piece {
        seconds,
        owner,
        start: days[0],
        days,
        gap: (1, 100),
        ..Piece::default()
    }
}

/// The bar: 2,000 tasks over 20 working days within 2 % of the bound, for everybody together and for each of ten owners.
#[test]
fn two_thousand_tasks_come_within_two_percent_of_the_bound() {
    let rng = &mut Pcg64Mcg::seed_from_u64(11);
    let mut pieces: Vec<Piece> = Vec::new();
    for _ in 0..2_000 {
        let (seconds, owner) = (rng.random_range(60..1_800), rng.random_range(0..10));
        if rng.random_bool(0.5) {
            // Once in the month, on any of some days.
            let first = rng.random_range(0..10);
            pieces.push(piece(seconds, owner, (first..20).collect()));
        } else {
            // Every week, five working days apart, give or take two.
            for week in 0..4 {
                let mut one = piece(seconds, owner, (week * 5..week * 5 + 5).collect());
                one.before = (week > 0).then(|| pieces.len() - 1);
                one.gap = (3, 7);
                pieces.push(one);
            }
        }
    }
    let month = month(20, 10, pieces);
    let placed = spread(&month, 1);
    assert_eq!(month.irregular(&placed), Vec::<usize>::new());
    for owner in std::iter::once(None).chain((0..10).map(Some)) {
        let own = month
            .pieces
            .iter()
            .filter(|p| owner.is_none_or(|o| p.owner == o));
        let track = owner.map_or(&month.all, |o| &month.owners[o]);
        let bound = least_heaviest(track, own);
        let share = month.heaviest(&placed, owner);
        assert!(bound > 0.0 && bound <= share);
        assert!(share <= bound * 1.02, "{owner:?}: {share} over {bound}");
    }
}

/// Every placing of five pieces on four days against the bound and the placing found.
#[test]
fn the_bound_is_never_above_the_best_placing_nor_that_above_the_one_found() {
    let rng = &mut Pcg64Mcg::seed_from_u64(5);
    let mut as_good = 0;
    for _ in 0..60 {
        let mut pieces: Vec<Piece> = Vec::new();
        for _ in 0..5 {
            let mut days: Vec<usize> = (0..4).filter(|_| rng.random_bool(0.6)).collect();
            if days.is_empty() {
                days.push(rng.random_range(0..4));
            }
            pieces.push(piece(rng.random_range(100..2_000), 0, days));
        }
        let mut month = month(4, 1, pieces);
        for day in 0..4 {
            month.all.base[day] = rng.random_range(0..800);
            month.owners[0].base[day] = month.all.base[day];
        }
        let placings = (0..1024)
            .map(|n: usize| -> Vec<usize> { (0..5).map(|p| n / 4_usize.pow(p) % 4).collect() });
        let allowed = |p: &Vec<usize>| p.iter().zip(&month.pieces).all(|(d, p)| p.days.contains(d));
        let best = placings
            .filter(allowed)
            .map(|p| month.heaviest(&p, None))
            .fold(f64::INFINITY, f64::min);
        let placed = spread(&month, 1);
        assert!(allowed(&placed));
        let (found, bound) = (
            month.heaviest(&placed, None),
            least_heaviest(&month.all, month.pieces.iter()),
        );
        assert!(bound <= best && best <= found, "{bound} {best} {found}");
        assert!(found <= best * 1.01, "{found} against {best}");
        as_good += usize::from(found <= best + 1e-12);
    }
    assert!(as_good >= 55, "as good as the best in {as_good} of 60");
}

/// Rooms with a weekly, a two-weekly and a monthly task each, for two people from Monday to Friday.
fn periodic(rooms: usize, more: &str) -> String {
    let minutes: Vec<u32> = (0..rooms as u32).map(|n| 5 + n % 7 * 5).collect();
    let tasks = "when: daily}\n      - {task: dust, how: dry, min: 0.5, per: desks, when: weekly}\n      \
                 - {task: wash walls, how: wipe, min: 1, per: desks, when: every 2 weeks}\n      \
                 - {task: polish, how: dry, min: 2, per: desks, when: monthly}\n      \
                 - {task: sweep, how: dry, min: 0.2, per: desks, when: 3 per week}";
    desks_text(&minutes, 2, more)
        .replace("when: daily}", tasks)
        .replace("days: daily", "days: mon-fri")
}

fn halves(site: &Site) -> Split {
    let mut split = Split::of_nobody(site);
    for (index, room) in split.rooms.iter_mut().enumerate() {
        *room = Some(WorkerId::from(index % 2));
    }
    split
}

fn made(site: &Site, afresh: bool) -> PeriodicCalendar {
    calendar(&CalendarRequest {
        site,
        from: MONDAY,
        to: LAST,
        split: &halves(site),
        tolerance: 0.3,
        afresh,
        seed: 1,
    })
}

fn site_of(text: &str, file: Option<&str>) -> Site {
    let folder = tempfile::tempdir().unwrap();
    let mut text = text.to_string();
    if let Some(file) = file {
        text += "calendar: calendar.yaml\n";
        fs::write(folder.path().join("calendar.yaml"), file).unwrap();
    }
    fs::write(folder.path().join("site.yaml"), text).unwrap();
    read_file(folder.path().to_str().unwrap())
}

fn file_of(site: &Site, calendar: &PeriodicCalendar) -> String {
    CalendarDocument::new(site, calendar, "evenrun", 1).to_file()
}

#[test]
fn every_task_has_its_turns_at_its_own_interval() {
    let site = site_of(&periodic(12, ""), None);
    let made = made(&site, false);
    assert!(made.irregular.is_empty() && made.without_day.is_empty());
    for ((_, task), entry) in &made.diary.work {
        let turns = entry.days.len();
        match task.as_str() {
            "dust" => assert_eq!(turns, 4),
            "wash walls" => assert_eq!(turns, 2),
            "sweep" => assert_eq!(turns, 12),
            // March is longer than the calendar: its turn is in it if its own day is.
            _ => assert!(turns <= 2, "{turns}"),
        }
        assert!(
            entry
                .days
                .iter()
                .all(|d| d.weekday().to_monday_zero_offset() < 5)
        );
        if task == "dust" {
            for pair in entry.days.windows(2) {
                let days = (pair[1] - pair[0]).get_days();
                // Three to seven working days.
                assert!((3..=11).contains(&days), "{days}");
            }
        }
    }
}

#[test]
fn a_calendar_is_lighter_than_the_days_by_themselves_and_never_below_its_bound() {
    let site = site_of(&periodic(30, ""), None);
    let made = made(&site, false);
    assert_eq!(made.heaviest.len(), 3);
    for one in &made.heaviest {
        assert!(one.bound <= one.share, "{one:?}");
        assert!(one.share <= one.before, "{one:?}");
        // Thirty rooms are few: a single turn is up to a hundredth of a day.
        assert!(one.gap() < 0.04, "{one:?}");
    }
    assert!(made.heaviest[0].share < made.heaviest[0].before);
}

#[test]
fn holidays_and_days_on_which_a_room_is_closed_stay_free() {
    let closed = "open: \"mon-fri 17:00-22:00; 2026-03-12 closed; 2026-03-13 closed; 2026-03-16 18:00-18:01\"";
    let text = periodic(8, "holidays: [2026-03-17, 2026-03-18]\n").replace(
        "id: R1, kind: office,",
        &format!("id: R1, kind: office, {closed},"),
    );
    let site = site_of(&text, None);
    let made = made(&site, false);
    assert!(
        made.days
            .iter()
            .all(|d| d.date.day() != 17 || d.date.month() != 3)
    );
    for ((room, task), entry) in &made.diary.work {
        for day in &entry.days {
            assert!(![17, 18].contains(&day.day()) || day.month() != 3, "{day}");
            let march = *room == RoomId(0) && day.month() == 3;
            assert!(!(march && [12, 13].contains(&day.day())), "{day}");
            // On the 16th it is open for a minute, which is enough to sweep it.
            assert!(!(march && day.day() == 16 && task != "sweep"), "{day}");
        }
    }
    assert!(due_on(&site, date(2026, 3, 17)).is_empty());
    assert!(site.present(date(2026, 3, 17), &[]).is_empty());
    assert!(!due_on(&site, date(2026, 3, 19)).is_empty());
}

#[test]
fn the_file_reads_back_as_it_is_and_decides_what_is_due() {
    let text = periodic(10, "");
    let site = site_of(&text, None);
    let made = made(&site, false);
    let again = site_of(&text, Some(&file_of(&site, &made)));
    assert_eq!(again.diary.as_ref(), Some(&made.diary));
    let mut day = MONDAY;
    while day <= LAST {
        let due = due_on(&again, day);
        for ((room, task), entry) in &made.diary.work {
            let is_due = due
                .iter()
                .any(|d| d.room == *room && d.task(&again).name == *task);
            assert_eq!(is_due, entry.days.contains(&day), "{task} on {day}");
        }
        day = day.checked_add(1.day()).unwrap();
    }
    // Outside of the calendar, work falls on days by itself.
    let later = date(2026, 4, 6);
    assert_eq!(due_on(&again, later), due_on(&site, later));
}

type Days = BTreeMap<(RoomId, String), Vec<Date>>;

fn days(calendar: &PeriodicCalendar) -> Days {
    let entries = calendar.diary.work.iter();
    entries
        .map(|(key, e)| (key.clone(), e.days.clone()))
        .collect()
}

#[test]
fn adding_a_task_moves_no_other() {
    let text = periodic(15, "");
    let site = site_of(&text, None);
    let first = made(&site, false);
    let file = file_of(&site, &first);
    let more = text.replace(
        "      - {task: dust,",
        "      - {task: wash windows, how: wipe, min: 1, per: desks, when: weekly}\n      - {task: dust,",
    );
    assert_ne!(text, more);
    let site = site_of(&more, Some(&file));
    let second = made(&site, false);
    let (before, mut after) = (days(&first), days(&second));
    after.retain(|(_, task), _| task != "wash windows");
    assert_eq!(before, after);
    assert_eq!(second.kept, first.turns);
    assert_eq!(second.turns, first.turns + 15 * 4);
    // The new turns go where there is room, not all onto one day.
    assert!(second.heaviest[0].share < second.heaviest[0].before * 1.001);
    // Afresh, other days may change, too.
    assert_eq!(made(&site, true).kept, 0);
}

#[test]
fn a_later_calendar_goes_on_where_the_earlier_one_ends() {
    let text = periodic(10, "");
    let site = site_of(&text, None);
    let first = made(&site, false);
    let site = site_of(&text, Some(&file_of(&site, &first)));
    let from = date(2026, 3, 23);
    let second = calendar(&CalendarRequest {
        site: &site,
        from,
        to: date(2026, 5, 3),
        split: &halves(&site),
        tolerance: 0.3,
        afresh: false,
        seed: 1,
    });
    for (key, entry) in &second.diary.work {
        let earlier = &first.diary.work[key].days;
        let overlap: Vec<&Date> = earlier.iter().filter(|d| **d >= from).collect();
        assert!(overlap.iter().all(|d| entry.days.contains(d)), "{key:?}");
        if key.1 == "polish" {
            // Never twice in one month, over both calendars.
            let all: std::collections::BTreeSet<Date> =
                earlier.iter().chain(&entry.days).copied().collect();
            let months: Vec<i8> = all.iter().map(|d| d.month()).collect();
            assert!(months.windows(2).all(|m| m[0] != m[1]), "{key:?} {all:?}");
        }
    }
}

#[test]
fn a_room_that_is_never_open_is_told() {
    let text = periodic(4, "").replace(
        "id: R2, kind: office,",
        "id: R2, kind: office, open: \"sat 17:00-22:00\",",
    );
    // Nobody works on a Saturday, which the reader refuses: the crew is changed afterwards.
    let mut site = site_of(&text.replace("days: mon-fri", "days: daily"), None);
    for worker in &mut site.crew {
        worker.days = evenrun::site::Weekdays::of([Weekday::Monday, Weekday::Tuesday]);
    }
    let made = made(&site, false);
    assert!(made.without_day.iter().all(|t| t.room == RoomId(1)));
    assert!(!made.without_day.is_empty());
    assert!(!made.days.is_empty());
}

/// R2's owner is only there while it is shut; there are no other days for its weekly, fortnightly and monthly work.
#[test]
fn work_without_a_day_is_in_the_table_and_in_the_file_for_programs() {
    let (site, made) = never_open(20);
    let text = calendar_table(&site, &made);
    let (_, listed) = text.split_once("Without any day: ").unwrap();
    for wanted in ["R2", "8 more places"] {
        assert!(listed.contains(wanted), "{text}");
    }
    let json: serde_json::Value = serde_json::from_str(
        &CalendarDocument::new(&site, &made, "evenrun", 1)
            .to_json()
            .unwrap(),
    )
    .unwrap();
    let without = json["without_day"].as_array().unwrap();
    assert_eq!(without.len(), made.without_day.len());
    let pairs: Vec<[&str; 2]> = without
        .iter()
        .map(|w| [w[0].as_str().unwrap(), w[1].as_str().unwrap()])
        .collect();
    assert!(pairs.contains(&["R2", "dust"]), "{pairs:?}");
}

/// A site of so many rooms of which the first five of the even ones are open on Saturdays, when nobody works any more.
fn never_open(rooms: usize) -> (Site, PeriodicCalendar) {
    let mut text = periodic(rooms, "");
    for room in [2, 4, 6, 8, 10] {
        let id = format!("id: R{room}, kind: office,");
        text = text.replace(&id, &format!("{id} open: \"sat 17:00-22:00\","));
    }
    let mut site = site_of(&text.replace("days: mon-fri", "days: daily"), None);
    for worker in &mut site.crew {
        worker.days = evenrun::site::Weekdays::of([Weekday::Monday, Weekday::Tuesday]);
    }
    let made = made(&site, false);
    (site, made)
}

#[test]
fn a_termly_task_has_one_turn_in_its_term() {
    let text = desks_text(&[30], 2, "").replace(
        "when: daily}",
        "when: daily}\n      - {task: strip, how: dry, min: 90, when: termly}",
    );
    let site = site_of(&text, None);
    let weeks = |weeks: i64| {
        let made = calendar(&CalendarRequest {
            site: &site,
            from: MONDAY,
            to: MONDAY
                .checked_add((weeks * 7 - 1).days())
                .expect("a date of this century"),
            split: &halves(&site),
            tolerance: 0.3,
            afresh: false,
            seed: 1,
        });
        made.diary
            .work
            .values()
            .map(|e| e.days.len())
            .sum::<usize>()
    };
    let term = i64::from(evenrun::work::WEEKS_OF_A_TERM);
    assert_eq!(weeks(4 * term), 4);
    assert!(weeks(1) <= 1);
}

/// Few rooms make days that are many times as heavy as others: their prices are so high that rounding looks like a gain.
#[test]
fn pieces_of_very_uneven_days_do_not_change_places_for_ever() {
    for rooms in 1..=3 {
        let site = site_of(&periodic(rooms, ""), None);
        for split in [halves(&site), Split::of_nobody(&site)] {
            let made = calendar(&CalendarRequest {
                site: &site,
                from: MONDAY,
                to: LAST,
                split: &split,
                tolerance: 0.3,
                afresh: false,
                seed: 2,
            });
            let everybody = made.heaviest[0];
            assert!(everybody.share <= everybody.before + 1e-12, "{rooms} rooms");
        }
    }
}

/// What nobody owns has a calendar of its own.
#[test]
fn work_of_nobody_has_an_icalendar_under_that_name() {
    let site = site_of(&periodic(2, ""), None);
    let split = Split::of_nobody(&site);
    let made = calendar(&CalendarRequest {
        site: &site,
        from: MONDAY,
        to: LAST,
        split: &split,
        tolerance: 0.3,
        afresh: false,
        seed: 1,
    });
    let files = calendar_ics(
        &site,
        &made,
        "evenrun",
        &Words::new(Language::English, &site),
    );
    assert_eq!(files.len(), 1);
    assert!(files[0].name.starts_with("nobody"), "{}", files[0].name);
    assert!(files[0].text.contains("nobody's"), "{}", files[0].text);
}

/// R1 is a long room; R2 and R3 are left out, and R3 may only be A's.
#[test]
fn rooms_that_a_plan_leaves_out_go_to_who_has_the_least_and_may() {
    let text = desks_text(&[200, 10, 20, 30], 2, "")
        .replace("id: R3, kind: office,", "id: R3, kind: office, only: [A],");
    let site = read_text(&text);
    let mut plan = crate::support::planner::planned(&site, 50, 1).plan;
    let owner = |plan: &Plan, room: u32| {
        let has =
            |r: &&evenrun::plan::Run| r.stops.iter().any(|s| s.what.room() == Some(RoomId(room)));
        plan.runs.iter().find(has).map(|r| r.worker)
    };
    let long = owner(&plan, 0).unwrap();
    for run in &mut plan.runs {
        run.stops
            .retain(|s| ![1, 2].map(|r| Some(RoomId(r))).contains(&s.what.room()));
    }
    let split = split_of(&site, &plan);
    assert_eq!(split.owner(RoomId(0)), Some(long));
    assert_eq!(split.owner(RoomId(1)), Some(WorkerId(1 - long.0)));
    assert_eq!(split.owner(RoomId(2)), Some(WorkerId(0)));
}

#[test]
fn a_daily_task_has_no_turns() {
    let site = desks(&[10, 20], 2, "");
    let made = made(&site, false);
    assert_eq!((made.turns, made.diary.work.len()), (0, 0));
    assert!((made.heaviest[0].share - made.heaviest[0].before).abs() < 1e-12);
}
