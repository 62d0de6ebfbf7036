//! Rule 14 where a lot is undone and many are there: sixty people with a room each, sixty rooms that nobody comes to.

use crate::support::sketch::{Sketch, room, task, worker};
use evenrun::plan::{
    Plan, PlannedStop, Reason, Rule, Run, Undone, UndoneWork, Violation, What, check,
};
use evenrun::site::{Calendar, KindId, Method, Priority, RoomId, Site, Task, WorkerId};
use evenrun::units::{Clock, Seconds, Span};
use evenrun::walk::Walks;
use evenrun::work::DueTask;
use itertools::Itertools;
use jiff::civil::{Date, date};

const PEOPLE: usize = 60;

/// A Tuesday.
const TODAY: Date = date(2026, 3, 10);

/// Everybody begins at six.
const SIX: Clock = Clock::at(18, 0);

/// Ten minutes of desks, and so many of plants; in empty rooms desks and shelves.
fn site(plants: &[usize], kinds: [f64; 2]) -> Site {
    let mut sketch = Sketch::of_storeys(1, 700.0);
    let of = |name, minutes, priority| Task {
        priority,
        ..task(name, Method::Dry, minutes)
    };
    let with_plants = |minutes| {
        let desks = of("desks", 10.0, Priority::Expected);
        vec![desks, of("plants", minutes, Priority::Appearance)]
    };
    let kinds = kinds.map(|minutes| sketch.kind("planted", with_plants(minutes)));
    let shelves = of("shelves", 10.0, Priority::Expected);
    let empty = sketch.kind(
        "empty",
        vec![of("desks", 10.0, Priority::Expected), shelves],
    );
    for index in 0..PEOPLE {
        let along = 10.0 * index as f64;
        let kind = kinds[usize::from(plants.contains(&index))];
        sketch.room(0, along, room(&format!("own {index}"), kind, 1.0));
        sketch.room(0, along + 5.0, room(&format!("empty {index}"), empty, 1.0));
    }
    let mut site = sketch.built();
    let all = (0..PEOPLE).map(|i| worker(&site, &format!("W{i}"), 18 * 60, 24 * 60));
    site.crew = all.collect();
    site
}

fn tasks(site: &Site, room: usize) -> Vec<DueTask> {
    let kind: KindId = site.rooms[room].kind;
    let tasks = 0..site.kinds[kind.index()].tasks.len();
    let due = |index| DueTask {
        room: RoomId::from(room),
        kind,
        index,
    };
    tasks.map(due).collect()
}

/// Everybody does their own room and has no time to spare.
fn plan(site: &mut Site) -> (Plan, Vec<WorkerId>) {
    let present = (0..PEOPLE).map(WorkerId::from).collect_vec();
    let calendar = Calendar::new(TODAY, None);
    let walks = Walks::of(site, &calendar, &present);
    let mut runs = Vec::new();
    for worker in &present {
        let start = site.crew[worker.index()].start;
        let own = site.place_of_room(RoomId::from(2 * worker.index()));
        let times = walks.times(*worker, false).unwrap();
        let (there, back) = (
            times.get(start, own).unwrap(),
            times.get(own, start).unwrap(),
        );
        let work = tasks(site, 2 * worker.index());
        let minutes: f64 = work.iter().map(|t| t.minutes(site)).sum();
        let from = SIX + there;
        let done = from + Seconds::of_work(minutes, 1.0);
        let home = done + back;
        let stop = |what, place, from, to| PlannedStop {
            what,
            place,
            span: Span::new(from, to),
        };
        let room = RoomId::from(2 * worker.index());
        let stops = vec![
            stop(What::SetUp, start, SIX, SIX),
            stop(What::Clean(room, work), own, from, done),
            stop(What::TearDown, start, home, home),
        ];
        runs.push(Run {
            worker: *worker,
            stops,
        });
        site.crew[worker.index()].shift = Span::new(SIX, home);
    }
    let empty = (0..PEOPLE).flat_map(|i| tasks(site, 2 * i + 1));
    let undone = empty.map(|task| Undone {
        what: UndoneWork::Task(task),
        reason: Reason::NoTime,
    });
    (
        Plan {
            date: TODAY,
            runs,
            undone: undone.collect(),
        },
        present,
    )
}

/// Makes every exchange that is named.
fn exchange(plan: &mut Plan, found: &[Violation]) {
    for violation in found {
        let better = violation.exchange.as_ref().unwrap();
        let run = plan
            .runs
            .iter_mut()
            .find(|r| Some(r.worker) == violation.worker);
        run.unwrap().stops.clone_from(&better.stops);
        plan.undone
            .retain(|u| u.what != UndoneWork::Task(better.add));
        plan.undone.extend(better.drops.iter().map(|task| Undone {
            what: UndoneWork::Task(*task),
            reason: Reason::NoTime,
        }));
    }
}

#[test]
fn nothing_is_found_where_nobody_has_time() {
    // Five minutes of plants are less than the ten of desks, wherever they are.
    let mut site = site(&[], [5.0, 5.0]);
    let (plan, present) = plan(&mut site);
    assert_eq!(plan.undone.len() * plan.runs.len(), 7_200);
    assert_eq!(check(&site, &plan, &present), []);
}

#[test]
fn one_run_of_sixty_that_has_time_is_found() {
    let mut site = site(&[37], [5.0, 30.0]);
    let (mut plan, present) = plan(&mut site);
    let found = check(&site, &plan, &present);
    let [only] = &found[..] else {
        panic!("{found:?}");
    };
    assert_eq!(
        (only.rule, only.worker),
        (Rule::Priority, Some(present[37]))
    );
    let better = only.exchange.as_ref().unwrap();
    assert_eq!(better.drops, [tasks(&site, 2 * 37)[1]]);
    exchange(&mut plan, &found);
    // Nothing else: what was dropped matters less than all that is done.
    assert!(
        check(&site, &plan, &present)
            .iter()
            .all(|v| v.rule == Rule::Priority)
    );
}

/// Desks and shelves of one room are for one of the two who have time, not for both at once.
#[test]
fn exchanges_can_all_be_made_together() {
    let mut site = site(&[37, 41], [5.0, 30.0]);
    let (mut plan, present) = plan(&mut site);
    for made in 0.. {
        let found = check(&site, &plan, &present);
        assert!(
            found.iter().all(|v| v.rule == Rule::Priority),
            "{made}: {found:?}"
        );
        if found.is_empty() {
            assert!(made > 0);
            break;
        }
        exchange(&mut plan, &found);
    }
    let done = plan
        .runs
        .iter()
        .flat_map(|r| &r.stops)
        .flat_map(|s| s.what.tasks());
    let rooms = done.filter(|t| t.room.index() % 2 == 1).map(|t| t.room);
    assert!(rooms.count() >= 2);
}
