//! What is done in each kind of room of the small building. All figures are invented for these tests.

use evenrun::site::{Fixture, MachineId, Method, Priority, Rate, RoomKind, Task};
use evenrun::units::Seconds;

fn task(name: &str, minutes: f64, rate: Rate, method: Method, priority: Priority) -> Task {
    Task {
        name: name.into(),
        minutes,
        rate,
        method,
        priority,
        source: "assumption".into(),
        ..Task::default()
    }
}

fn bins(minutes: f64) -> Task {
    Task {
        waste_litres: 20.0,
        waste_rate: Rate::Per(Fixture::Bin),
        supplies: vec!["bin bags".into()],
        ..task(
            "empty bins",
            minutes,
            Rate::Visit,
            Method::Dry,
            Priority::Health,
        )
    }
}

fn disinfect() -> Task {
    let spray = Method::Spray {
        dwell: Seconds(600),
    };
    Task {
        wipe_minutes: 1.0,
        supplies: vec!["disinfectant".into(), "cloths".into()],
        ..task(
            "disinfect fixtures",
            1.0,
            Rate::Per(Fixture::Bowl),
            spray,
            Priority::Health,
        )
    }
}

fn scrub() -> Task {
    let machine = Some(MachineId(0));
    Task {
        machine,
        ..task(
            "scrub",
            0.15,
            Rate::SquareMetre,
            Method::Dry,
            Priority::Appearance,
        )
    }
}

fn mop(minutes: f64, priority: Priority) -> Task {
    task(
        "mop",
        minutes,
        Rate::SquareMetre,
        Method::Mop {
            drying: Seconds(900),
        },
        priority,
    )
}

/// Restroom, classroom and hall, in this order.
pub(crate) fn kinds() -> Vec<RoomKind> {
    let sweep = task(
        "sweep",
        0.2,
        Rate::SquareMetre,
        Method::Dry,
        Priority::Expected,
    );
    let desks = task(
        "wipe desks",
        9.0,
        Rate::Visit,
        Method::Wipe,
        Priority::Expected,
    );
    let kind = |id: &str, tasks| RoomKind {
        id: id.into(),
        restroom: false,
        reopen: None,
        tasks,
    };
    vec![
        RoomKind {
            restroom: true,
            reopen: Some(Seconds(120)),
            ..kind(
                "restroom",
                vec![disinfect(), bins(2.0), mop(0.3, Priority::Health)],
            )
        },
        kind("classroom", vec![bins(3.0), sweep, desks]),
        kind("hall", vec![scrub(), mop(0.1, Priority::Expected)]),
    ]
}
