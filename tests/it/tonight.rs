//! A night that does not fit its site, as a plan file changed by hand may describe one.

use crate::common::read_file;
use evenrun::plan::{AddedTonight, ClosedTonight, ShiftTonight, Tonight, Waited};
use evenrun::site::{Method, Site, Task};
use evenrun::work::{DueTask, due_on};
use jiff::civil::date;

fn added(room: &str, task: &str, minutes: Option<f64>) -> Tonight {
    let (room, task) = (room.to_string(), task.to_string());
    Tonight {
        added: vec![AddedTonight {
            room,
            task,
            minutes,
            again: false,
        }],
        ..Tonight::default()
    }
}

fn shift(worker: &str, from: &str, to: &str) -> Tonight {
    Tonight {
        shifts: vec![ShiftTonight {
            worker: worker.to_string(),
            from: Some(from.to_string()),
            to: Some(to.to_string()),
            no_breaks: vec![],
        }],
        ..Tonight::default()
    }
}

fn closed(room: &str, from: &str, to: &str) -> Tonight {
    let [room, from, to] = [room, from, to].map(str::to_string);
    Tonight {
        closed: vec![ClosedTonight { room, from, to }],
        ..Tonight::default()
    }
}

fn waited(duty: &str) -> Tonight {
    Tonight {
        waited: vec![Waited {
            duty: Some(duty.to_string()),
            since: "2026-03-09".to_string(),
            ..Waited::default()
        }],
        ..Tonight::default()
    }
}

#[test]
fn what_does_not_fit_the_site_is_told_with_its_place() {
    let site = read_file("fixtures/two_floors/site.yaml");
    let extra = Tonight {
        extra: vec!["An".to_string()],
        ..Tonight::default()
    };
    let overtime = |minutes| Tonight {
        overtime_min: Some(minutes),
        ..Tonight::default()
    };
    for (night, at, message) in [
        (extra, "extra[0]", "no worker `An`"),
        (overtime(-1.0), "overtime_min", "from 0 to 1440"),
        (overtime(f64::NAN), "overtime_min", "from 0 to 1440"),
        (
            shift("Nobody", "18:00", "19:00"),
            "shifts[0].worker",
            "no worker",
        ),
        (
            shift("Ana", "19:00", "18:00"),
            "shifts[0]",
            "nothing is left",
        ),
        (
            closed("nowhere", "18:00", "19:00"),
            "closed[0].room",
            "no room",
        ),
        (closed("G01", "19:00", "18:00"), "closed[0]", "ends before"),
        (
            added("nowhere", "spill", Some(5.0)),
            "added[0].room",
            "no room",
        ),
        (
            added("G01", "spill", Some(0.0)),
            "added[0].minutes",
            "above 0",
        ),
        (added("G01", "spill", None), "added[0].task", "no task"),
        (waited("no such duty"), "waited[0].duty", "no duty"),
    ] {
        let misfits = night.apply(&site, date(2026, 3, 10)).unwrap_err();
        let found = misfits
            .iter()
            .any(|m| m.at == at && m.message.contains(message));
        assert!(found, "{at}, {message}: {misfits:?}");
    }
}

/// What is due on that Tuesday beyond what is due anyhow, with everything else about the night as usual.
fn asked_for(site: &Site, night: &Tonight) -> (Site, Vec<DueTask>) {
    let day = date(2026, 3, 10);
    let that_night = night.apply(site, day).unwrap();
    let usual = due_on(site, day);
    let mut due = due_on(&that_night, day);
    due.retain(|task| !usual.contains(task));
    (that_night, due)
}

#[test]
fn a_task_of_the_standard_that_is_asked_for_is_done_though_its_day_is_another_one() {
    let site = read_file("fixtures/two_floors/site.yaml");
    let scrub = added("corridor 1", "machine scrub", None);
    let (that_night, due) = asked_for(&site, &scrub);
    let names: Vec<&str> = due
        .iter()
        .map(|t| t.task(&that_night).name.as_str())
        .collect();
    assert_eq!(names, ["machine scrub"]);
    assert_eq!(that_night.rooms[due[0].room.index()].id, "corridor 1");
}

/// The upper corridor has no glass.
#[test]
fn a_task_that_has_nothing_to_do_in_a_room_is_refused_there() {
    let site = read_file("fixtures/two_floors/site.yaml");
    let night = added("corridor 1", "wipe door glass", None);
    let misfits = night.apply(&site, date(2026, 3, 10)).unwrap_err();
    assert_eq!(misfits.len(), 1);
    assert_eq!(
        misfits[0].to_string(),
        "added[0].task: `corridor 1` has nothing to do for `wipe door glass`"
    );
}

#[test]
fn the_same_thing_asked_for_twice_is_done_twice_and_numbered() {
    let site = read_file("fixtures/two_floors/site.yaml");
    let mut night = added("G01", "spill", Some(5.0));
    night.added.push(night.added[0].clone());
    let (that_night, due) = asked_for(&site, &night);
    let all: Vec<(&str, f64)> = due
        .iter()
        .map(|t| (t.task(&that_night).name.as_str(), t.minutes(&that_night)))
        .collect();
    assert_eq!(all, [("spill (added)", 5.0), ("spill (added 2)", 5.0)]);
}

/// Half of the minutes before the dwell, half after it.
#[test]
fn a_sprayed_task_of_other_minutes_is_still_sprayed_and_wiped() {
    let site = read_file("fixtures/two_floors/site.yaml");
    let room = site.room_named("WC-1W").unwrap();
    let kind = &site.kinds[site.rooms[room.index()].kind.index()];
    let is_sprayed = |t: &&Task| matches!(t.method, Method::Spray { .. });
    let sprayed = kind.tasks.iter().find(is_sprayed).unwrap();
    let night = added("WC-1W", &sprayed.name, Some(8.0));
    let (that_night, due) = asked_for(&site, &night);
    let task = due[0].task(&that_night);
    assert_eq!(task.name, format!("{} (added)", sprayed.name));
    assert_eq!(task.method, sprayed.method);
    assert_eq!((task.minutes, task.wipe_minutes), (4.0, 4.0));
}

#[test]
fn a_task_nearly_called_so_is_asked_back_with_both_ways_out() {
    let site = read_file("fixtures/two_floors/site.yaml");
    let misfits = added("corridor 1", "machine scrup", None)
        .apply(&site, date(2026, 3, 10))
        .unwrap_err();
    assert_eq!(
        misfits[0].to_string(),
        "added[0].task: the site has no task for `corridor 1` `machine scrup`\n  \
         hint: did you mean `machine scrub`?; to add something else, say how many minutes it takes"
    );
}

#[test]
fn what_waited_is_a_task_of_a_room_or_a_duty_and_nothing_between() {
    let site = read_file("fixtures/two_floors/site.yaml");
    let mut night = waited("lock up");
    night.waited[0].room = Some("G01".to_string());
    let misfits = night.apply(&site, date(2026, 3, 10)).unwrap_err();
    assert_eq!(
        misfits[0].to_string(),
        "waited[0]: either `room` and `task` or `duty` is needed"
    );
}
