//! The smallest thing that would have saved what waits is told truly: with it the work is done, with less it is not.

use crate::support::coverer::{broken, covered};
use crate::support::planner::planned;
use crate::support::sketch::{Sketch, room, task, worker};
use evenrun::cover::{Changes, Saver, diff, waits};
use evenrun::plan::{Tonight, measure};
use evenrun::report::{CoverSheet, cover_sheet};
use evenrun::site::{Method, Priority, Site, WorkerId};
use evenrun::units::{Clock, Seconds};

/// Three rooms of fifty minutes each, two people with two hours each: with one away one room has to wait.
fn three_rooms() -> Site {
    let mut sketch = Sketch::of_storeys(1, 30.0);
    let mut clean = task("clean", Method::Dry, 5.0);
    clean.priority = Priority::Expected;
    let kind = sketch.kind("office", vec![clean]);
    for (index, along) in [10.0, 12.0, 14.0].into_iter().enumerate() {
        sketch.room(0, along, room(&format!("R{index}"), kind, 10.0));
    }
    let mut site = sketch.built();
    site.crew = ["Ana", "Ben"]
        .map(|name| worker(&site, name, 18 * 60, 20 * 60))
        .to_vec();
    site
}

#[test]
fn so_many_more_minutes_would_do_and_fewer_would_not() {
    let site = three_rooms();
    let plan = planned(&site, 20, 1).plan;
    assert!(plan.undone.is_empty());
    let away = |overtime: Option<Seconds>| Changes {
        absent: vec![WorkerId(1)],
        overtime,
        ..Changes::default()
    };
    let short = covered(&site, &plan, &away(None), 20);
    assert_eq!(broken(&short), Vec::<String>::new());
    assert_eq!(short.made.plan.undone.len(), 1);
    let Some(Saver::Minutes { more, nearest, .. }) = &short.savers[0] else {
        panic!("{:?}", short.savers);
    };
    assert_eq!(*nearest, WorkerId(0));
    let with = covered(&site, &plan, &away(Some(*more)), 20);
    assert_eq!(with.made.plan.undone.len(), 0, "{more:?} more are enough");
    let less = covered(&site, &plan, &away(Some(*more - Seconds(1))), 20);
    assert_eq!(less.made.plan.undone.len(), 1, "a second less is not");
}

fn more(minutes: i64, needs: &[&str], before: Option<Clock>) -> Saver {
    Saver::Minutes {
        more: Seconds::minutes(minutes),
        nearest: WorkerId(0),
        needs: needs.iter().map(ToString::to_string).collect(),
        before,
    }
}

fn somebody(minutes: i64, needs: &[&str], could: &[u32]) -> Saver {
    Saver::Person {
        work: Seconds::minutes(minutes),
        needs: needs.iter().map(ToString::to_string).collect(),
        could: could.iter().copied().map(WorkerId).collect(),
        before: None,
    }
}

#[test]
fn what_would_have_saved_it_is_said_as_a_lead_would_say_it() {
    let site = three_rooms();
    let opening = |minutes| Saver::Opening {
        work: Seconds::minutes(minutes),
    };
    for (saver, words) in [
        (more(12, &[], None), "12 more minutes for Ana"),
        (
            more(1, &[], Some(Clock::at(18, 30))),
            "1 more minute for Ana before 18:30",
        ),
        (
            more(12, &["`lab key`", "a cart"], Some(Clock::at(18, 30))),
            "12 more minutes for anyone with `lab key` and a cart before 18:30 (Ana comes nearest)",
        ),
        (somebody(5, &[], &[]), "5 minutes of one more person"),
        (
            somebody(5, &["`lab key`"], &[0, 1]),
            "5 minutes of anyone with `lab key` (Ana or Ben)",
        ),
        (
            opening(7),
            "the room open for 7 minutes longer while somebody is there who may do it",
        ),
    ] {
        assert_eq!(saver.words(&site), words);
    }
    // Whole minutes that are enough.
    let a_little_more = Saver::Opening {
        work: Seconds(7 * 60 + 1),
    };
    assert!(a_little_more.words(&site).contains("for 8 minutes longer"));
}

/// Minutes count all that is more important in the room already; the work of somebody else adds up.
#[test]
fn what_saves_two_things_in_a_room_is_told_once() {
    let opening = |minutes| Saver::Opening {
        work: Seconds::minutes(minutes),
    };
    assert_eq!(
        more(5, &[], None).and(&more(9, &[], None)),
        Some(more(9, &[], None))
    );
    assert_eq!(
        more(9, &[], None).and(&more(5, &[], None)),
        Some(more(9, &[], None))
    );
    assert_eq!(
        somebody(5, &[], &[1]).and(&somebody(9, &[], &[1])),
        Some(somebody(14, &[], &[1]))
    );
    assert_eq!(opening(5).and(&opening(9)), Some(opening(14)));
    // Different things are told side by side.
    assert_eq!(more(5, &["a cart"], None).and(&more(9, &[], None)), None);
    assert_eq!(
        somebody(5, &["a cart"], &[]).and(&somebody(9, &[], &[])),
        None
    );
    assert_eq!(more(5, &[], None).and(&opening(9)), None);
}

/// Each room takes forty minutes and then ten. Whoever is alone does two whole rooms and has no time for the third.
#[test]
fn the_sheet_tells_the_minutes_that_save_all_of_a_room() {
    let mut site = three_rooms();
    let clean = &mut site.kinds[0].tasks[0];
    clean.minutes = 4.0;
    let mut dust = clean.clone();
    (dust.name, dust.minutes) = ("dust".to_string(), 1.0);
    site.kinds[0].tasks.push(dust);
    let plan = planned(&site, 20, 1).plan;
    assert!(plan.undone.is_empty());
    let changes = Changes {
        absent: vec![WorkerId(1)],
        ..Changes::default()
    };
    let covered = covered(&site, &plan, &changes, 20);
    let made = &covered.made;
    assert_eq!(made.plan.undone.len(), 2, "{:?}", made.plan.undone);
    let list = waits(
        &covered.site,
        made.plan.date,
        &Tonight::default(),
        &made.plan.undone,
        &covered.savers,
    );
    let minutes = covered.savers.iter().map(|s| match s {
        Some(Saver::Minutes { more, .. }) => more.0,
        other => panic!("{other:?}"),
    });
    let most = minutes.max().unwrap();
    let sheet = cover_sheet(&CoverSheet {
        title: "cover sheet",
        site: &covered.site,
        calendar: &made.calendar,
        news: &[],
        before: (&covered.before, &measure(&site, &covered.before)),
        after: (&made.plan, &made.measures),
        diff: &diff(&covered.site, &covered.before, &made.plan),
        waits: &list,
        violations: Some(&made.violations),
    });
    let told = sheet.lines().filter(|l| l.contains("saved by: "));
    let told: Vec<&str> = told.map(str::trim).collect();
    let words = format!("saved by: {} more minutes for Ana", (most + 59) / 60);
    assert_eq!(told, [words], "{sheet}");
    assert!(most > 25 * 60, "all of the room, not one of its tasks");
}
