//! From night to night: what waits is listed, raised, and done or listed again. Nothing is lost.

use crate::common::demo;
use crate::support::planner::date_of;
use crate::support::random::short_night;
use evenrun::cover::{CarryDocument, waits};
use evenrun::plan::{Made, Request, Tonight, UndoneWork, make};
use evenrun::route::{Budget, Settings, Stop};
use evenrun::site::{Frequency, Priority, Site, Weekdays, WorkerId};
use evenrun::work::{DueTask, due_on};
use jiff::ToSpan;
use jiff::civil::{Date, date};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::atomic::AtomicBool;

fn planned(site: &Site, date: Date, absent: &[WorkerId]) -> Made {
    let never = AtomicBool::new(false);
    let request = Request {
        site,
        date,
        absent,
        keep: None,
        settings: Settings {
            stop: Stop {
                budget: Budget::Iterations(25),
                interrupted: &never,
            },
            seed: 1,
            islands: 2,
        },
    };
    make(&request, &mut |_, _| {})
}

/// Ten days on which one or two are away at random, each taking up what waited. The books are kept apart from the program's: what is due by the calendar and
/// has not been done since must be in the carry-over, with the date on which it was due first.
#[test]
fn nothing_is_lost_in_ten_days_with_random_absences() {
    for (name, written, first) in [
        ("demo", demo(), date(2026, 3, 9)),
        ("short", short_night(4), date_of(&short_night(4))),
    ] {
        let rng = &mut Pcg64Mcg::seed_from_u64(5);
        let mut open: BTreeMap<DueTask, Date> = BTreeMap::new();
        let mut carry: Option<CarryDocument> = None;
        let (mut waited, mut caught_up) = (0, 0);
        for day in (0..10).map(|d| first.checked_add(d.days()).unwrap()) {
            let present = written.present(day, &[]);
            if present.is_empty() {
                continue;
            }
            let many = rng.random_range(1..=2.min(present.len()));
            let absent: Vec<WorkerId> = (0..many)
                .map(|_| present[rng.random_range(0..present.len())])
                .collect();
            let tonight = carry
                .as_ref()
                .map(|c| c.take_up(&written, day).unwrap())
                .unwrap_or_default();
            let site = tonight.apply(&written, day).unwrap();
            let made = planned(&site, day, &absent);
            assert!(
                made.violations.is_empty(),
                "{name} {day}: {:?}",
                made.violations
            );
            for task in due_on(&written, day) {
                open.entry(task).or_insert(day);
            }
            let before = open.len();
            let stops = made.plan.runs.iter().flat_map(|r| &r.stops);
            // A sprayed task is in two stops.
            let done: BTreeSet<DueTask> = stops.flat_map(|s| s.what.tasks()).copied().collect();
            for task in done {
                let since = open.remove(&task);
                assert!(since.is_some(), "{name} {day}: done though not due");
                caught_up += usize::from(since.is_some_and(|s| s < day));
            }
            assert!(open.len() < before, "{name} {day}: nothing was done");
            let list = waits(&site, day, &tonight, &made.plan.undone, &[]);
            let listed: BTreeMap<DueTask, Date> = list
                .iter()
                .filter_map(|w| match w.what {
                    UndoneWork::Task(task) => Some((task, w.since)),
                    UndoneWork::Duty(_) => None,
                })
                .collect();
            assert_eq!(listed, open, "{name} {day}");
            waited += listed.len();
            let text = CarryDocument::new(&site, day, &list).to_json().unwrap();
            carry = Some(CarryDocument::from_json(&text).unwrap());
        }
        assert!(
            waited > 0 && caught_up > 0,
            "{name}: {waited} waited, {caught_up} caught up"
        );
    }
}

/// Monday's weekly vacuuming that nobody did is done on Tuesday before what only the eye misses, though the calendar does not ask for it.
#[test]
fn what_waited_is_raised_on_the_next_day() {
    let site = demo();
    let monday = date(2026, 3, 9);
    let weekly = |t: &DueTask| {
        let task = t.task(&site);
        task.frequency != Frequency::Daily && t.priority(&site) == Priority::Appearance
    };
    let tuesday = monday.tomorrow().unwrap();
    let again = due_on(&site, tuesday);
    let task = due_on(&site, monday)
        .into_iter()
        .find(|t| weekly(t) && !again.contains(t))
        .unwrap();
    let undone = [evenrun::plan::Undone {
        what: UndoneWork::Task(task),
        reason: evenrun::plan::Reason::NoTime,
    }];
    let list = waits(&site, monday, &Tonight::default(), &undone, &[]);
    assert_eq!(
        (list[0].since, list[0].next, list[0].days_late),
        (monday, tuesday, 1)
    );
    let carry = CarryDocument::new(&site, monday, &list);
    let raised = carry
        .take_up(&site, tuesday)
        .unwrap()
        .apply(&site, tuesday)
        .unwrap();
    assert!(due_on(&raised, tuesday).contains(&task));
    assert_eq!(task.priority(&raised), Priority::Expected);
    assert!(!task.is_overdue(&raised));
    // Three weeks on it has waited too long, whatever its frequency but a term.
    let later = monday.checked_add(29.days()).unwrap();
    let overdue = carry
        .take_up(&site, later)
        .unwrap()
        .apply(&site, later)
        .unwrap();
    assert!(task.is_overdue(&overdue));
    assert_eq!(
        task.priority(&overdue),
        Priority::Expected,
        "health is never pushed aside"
    );
}

#[test]
fn a_carry_over_of_another_site_or_a_later_night_is_refused() {
    let site = demo();
    let carry = CarryDocument::new(&site, date(2026, 3, 10), &[]);
    let refused = |carry: &CarryDocument, day| carry.take_up(&site, day).unwrap_err().message;
    assert!(refused(&carry, date(2026, 3, 10)).contains("not before"));
    let mut other = carry.clone();
    other.site = "Elsewhere".to_string();
    assert!(refused(&other, date(2026, 3, 11)).contains("Elsewhere"));
    assert!(
        CarryDocument::from_json("{}")
            .unwrap_err()
            .message
            .contains("no carry-over file")
    );
}

/// Friday's work is three days late on Monday.
#[test]
fn the_next_night_is_one_on_which_somebody_works() {
    let mut site = demo();
    let friday = date(2026, 3, 13);
    let task = due_on(&site, friday)[0];
    let undone = [evenrun::plan::Undone {
        what: UndoneWork::Task(task),
        reason: evenrun::plan::Reason::NoTime,
    }];
    let list = waits(&site, friday, &Tonight::default(), &undone, &[]);
    assert_eq!((list[0].next, list[0].days_late), (date(2026, 3, 16), 3));
    site.crew[0].days = Weekdays::ALL;
    let list = waits(&site, friday, &Tonight::default(), &undone, &[]);
    assert_eq!(list[0].days_late, 1);
}
