//! What it is too late for is left, and says so: nothing is done after what has to come after it.

use crate::support::coverer::{broken, covered};
use crate::support::night::night;
use crate::support::planner::planned;
use crate::support::sketch::{Sketch, room, task, worker};
use crate::support::two_floors::{ANA, R102, clock, two_floors};
use evenrun::cover::{Changes, Covered};
use evenrun::plan::{Reason, Undone, UndoneWork, What};
use evenrun::site::{Method, Priority, Site, SkillId, WorkerId};
use evenrun::units::Seconds;

const BENCHES: WorkerId = WorkerId(0);
const FLOOR: WorkerId = WorkerId(1);

/// A room in which one person moves the benches and then another one wipes the floor.
fn two_runs_in_a_room() -> Site {
    let mut sketch = Sketch::of_storeys(1, 30.0);
    let mut benches = task("shift benches", Method::Dry, 10.0);
    benches.skills = vec![SkillId(0)];
    let mut floor = task("wipe floor", Method::Wipe, 10.0);
    floor.skills = vec![SkillId(1)];
    for task in [&mut benches, &mut floor] {
        task.priority = Priority::Expected;
    }
    let kind = sketch.kind("gym", vec![benches, floor]);
    sketch.room(0, 10.0, room("gym", kind, 1.0));
    let mut site = sketch.built();
    site.skills = vec!["benches".to_string(), "floors".to_string()];
    site.crew = ["Ana", "Ben"]
        .map(|name| worker(&site, name, 18 * 60, 22 * 60))
        .to_vec();
    site.crew[0].skills = vec![SkillId(0)];
    site.crew[1].skills = vec![SkillId(1)];
    site
}

/// The floor is wiped already when it turns out that nobody was there to move the benches.
#[test]
fn a_room_is_not_begun_again_with_what_comes_before() {
    let site = two_runs_in_a_room();
    let plan = planned(&site, 20, 1).plan;
    assert!(plan.undone.is_empty(), "{:?}", plan.undone);
    let bens = &plan.runs[FLOOR.index()].stops;
    let wiped = bens.iter().find(|s| s.what.room().is_some()).unwrap();
    let told = |now| {
        let late = vec![(BENCHES, clock("18:10"))];
        let now = Some(now);
        let changes = Changes {
            late,
            now,
            ..Changes::default()
        };
        let covered = covered(&site, &plan, &changes, 20);
        assert_eq!(broken(&covered), Vec::<String>::new());
        covered.made.plan.undone
    };
    // Five minutes before the floor is begun there is time: then it waits for the benches.
    assert_eq!(told(wiped.span.from - Seconds::minutes(5)), []);
    let undone = told(wiped.span.from + Seconds(1));
    let why = "`wipe floor` has begun there and comes after it";
    assert_eq!(reasons(&undone), [&Reason::TooLate(why.to_string())]);
}

/// Cara locks up at 20:35:05 and walks there from 20:34:35 on.
#[test]
fn nobody_works_after_lock_up() {
    let at = |now: &str| {
        let changes = Changes {
            now: Some(clock(now)),
            added: vec![(R102, "spill".to_string(), Some(7.0))],
            ..Changes::default()
        };
        let site = two_floors();
        let covered = covered(&site, &night(&site), &changes, 20);
        assert_eq!(broken(&covered), Vec::<String>::new());
        covered
    };
    let spill = |covered: &Covered| {
        let undone = covered.made.plan.undone.iter();
        let mut of = undone.filter(|u| u.what == UndoneWork::Duty(1));
        of.next().map(|u| u.reason.clone())
    };
    assert_eq!(spill(&at("19:30")), None, "there is time for it");
    let on_the_way = at("20:34:50");
    assert!(spill(&on_the_way).is_some());
    let stops = on_the_way.made.plan.runs.iter().flat_map(|r| &r.stops);
    let locked = stops
        .filter(|s| s.what == What::Duty(0))
        .map(|s| s.span.from);
    assert!(locked.eq([clock("20:35:05")]), "it stays when it was");
    let why = "`lock up` began at 20:35:05 and comes last";
    let too_late = Some(Reason::TooLate(why.to_string()));
    assert_eq!(spill(&at("20:36")), too_late);
}

/// Whoever did not come has lost the night by then, and no time of theirs would save anything.
#[test]
fn everything_of_who_did_not_come_waits_after_lock_up() {
    let changes = Changes {
        now: Some(clock("20:36")),
        late: vec![(ANA, clock("20:30"))],
        ..Changes::default()
    };
    let site = two_floors();
    let covered = covered(&site, &night(&site), &changes, 20);
    assert_eq!(broken(&covered), Vec::<String>::new());
    let too_late = |u: &&Reason| matches!(u, Reason::TooLate(_));
    let count = reasons(&covered.made.plan.undone)
        .into_iter()
        .filter(too_late);
    assert!(count.count() > 5, "{:?}", covered.made.plan.undone);
    for (undone, saver) in covered.made.plan.undone.iter().zip(&covered.savers) {
        assert!(saver.is_none() || !matches!(undone.reason, Reason::TooLate(_)));
    }
}

fn reasons(undone: &[Undone]) -> Vec<&Reason> {
    undone.iter().map(|u| &u.reason).collect()
}
