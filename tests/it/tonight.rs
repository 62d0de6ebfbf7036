//! A night that does not fit its site, as a plan file changed by hand may describe one.

use crate::common::read_file;
use evenrun::plan::{AddedTonight, ClosedTonight, ShiftTonight, Tonight, Waited};
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
