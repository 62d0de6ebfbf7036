//! A sound plan for [`two_floors`](super::two_floors), every moment of it worked out by hand.
//!
//! Comments give the walk before a stop and what its length is made of, in seconds.

use super::two_floors::{
    ANA, BASE, BEN, BREAK_ROOM, CARA, CLOSET_G, DOOR, GYM, NORTH, R101, R102, SOUTH, W1, W2, span,
    task,
};
use evenrun::plan::{Plan, PlannedStop, Reason, Run, Undone, UndoneWork, What};
use evenrun::site::{MachineId, PlaceId, RoomId, Site};
use evenrun::work::DueTask;
use jiff::civil::date;

/// A Tuesday.
pub(crate) fn night(site: &Site) -> Plan {
    let polish = UndoneWork::Task(task(site, R101, "polish"));
    Plan {
        date: date(2026, 3, 10),
        runs: vec![
            Run {
                worker: ANA,
                stops: ana(site),
            },
            Run {
                worker: BEN,
                stops: ben(site),
            },
            Run {
                worker: CARA,
                stops: cara(site),
            },
        ],
        undone: vec![Undone {
            what: polish,
            reason: Reason::NoTime,
        }],
    }
}

pub(crate) fn stop(what: What, place: PlaceId, from: &str, to: &str) -> PlannedStop {
    PlannedStop {
        what,
        place,
        span: span(from, to),
    }
}

pub(crate) fn tasks(site: &Site, room: RoomId, names: &[&str]) -> Vec<DueTask> {
    names.iter().map(|name| task(site, room, name)).collect()
}

/// The positions of Ana's stops.
pub(crate) mod ana {
    pub(crate) const SET_UP: usize = 0;
    pub(crate) const FILL: usize = 1;
    pub(crate) const WET_W1: usize = 2;
    pub(crate) const MOP_W1: usize = 3;
    pub(crate) const CLEAN_101: usize = 4;
    pub(crate) const REOPEN_W1: usize = 5;
    pub(crate) const DUMP: usize = 6;
    pub(crate) const MEAL: usize = 7;
}

fn ana(site: &Site) -> Vec<PlannedStop> {
    let wet = tasks(site, W1, &["flush", "disinfect", "restock", "bins"]);
    let mop = tasks(site, W1, &["disinfect", "mop"]);
    let office = tasks(site, R101, &["bins", "vacuum"]);
    vec![
        stop(What::SetUp, BASE, "18:00:00", "18:05:00"),
        // 5; 180
        stop(What::Fill, CLOSET_G, "18:05:05", "18:08:05"),
        // 20; 60 + 120 + 180 + 120
        room_stop(What::OpenAndWet(W1, wet), "18:08:25", "18:16:25"),
        // wet until 18:08:25 + 60 + 120 + 600 = 18:21:25; 240 + 300
        room_stop(What::WipeAndMop(W1, mop), "18:21:25", "18:30:25"),
        // 20 + lift 40 + 10; 60 + 600
        room_stop(What::Clean(R101, office), "18:31:35", "18:42:35"),
        // 70, there at 18:43:45; dry at 18:30:25 + 900 = 18:45:25; 60
        room_stop(What::Reopen(W1), "18:45:25", "18:46:25"),
        // 20; 120
        stop(What::Dump, CLOSET_G, "18:46:45", "18:48:45"),
        // 10, there at 18:48:55; not before 20:00
        stop(What::Break(0), BREAK_ROOM, "20:00:00", "20:30:00"),
        // 5
        stop(What::TearDown, BASE, "20:30:05", "20:35:05"),
    ]
}

/// The positions of Ben's stops.
pub(crate) mod ben {
    pub(crate) const FETCH: usize = 1;
    pub(crate) const SCRUB: usize = 2;
    pub(crate) const RETURN: usize = 3;
    pub(crate) const FILL: usize = 4;
    pub(crate) const NORTH: usize = 5;
    pub(crate) const SOUTH: usize = 6;
    pub(crate) const SECOND_FILL: usize = 7;
    pub(crate) const WET_W2: usize = 8;
    pub(crate) const MEAL: usize = 10;
    pub(crate) const REOPEN_W2: usize = 11;
    pub(crate) const TEAR_DOWN: usize = 13;
}

/// Ben works at pace 0.8: five quarters of the time.
fn ben(site: &Site) -> Vec<PlannedStop> {
    let wet = tasks(site, W2, &["flush", "disinfect", "restock", "bins"]);
    let mop = tasks(site, W2, &["disinfect", "mop"]);
    vec![
        stop(What::SetUp, BASE, "18:00:00", "18:05:00"),
        // 5; 120
        stop(What::Fetch(MachineId(0)), CLOSET_G, "18:05:05", "18:07:05"),
        // 50; 1200 / 0.8
        room_stop(
            What::Clean(GYM, tasks(site, GYM, &["scrub"])),
            "18:07:55",
            "18:32:55",
        ),
        // 50; 120
        stop(What::Return(MachineId(0)), CLOSET_G, "18:33:45", "18:35:45"),
        // 0; 180
        stop(What::Fill, CLOSET_G, "18:35:45", "18:38:45"),
        // 60; 300 / 0.8 = 375, and 80 m² take a second bucket: 60 + 180 + 60
        room_stop(
            What::Clean(NORTH, tasks(site, NORTH, &["mop"])),
            "18:39:45",
            "18:51:00",
        ),
        // 20, there at 18:51:20; the other way out is dry at 18:51:00 + 600; 375
        room_stop(
            What::Clean(SOUTH, tasks(site, SOUTH, &["mop"])),
            "19:01:00",
            "19:07:15",
        ),
        // 80; 180
        stop(What::Fill, CLOSET_G, "19:08:35", "19:11:35"),
        // 30; 75 + 150 + 225 + 150
        room_stop(What::OpenAndWet(W2, wet), "19:12:05", "19:22:05"),
        // wet until 19:12:05 + 75 + 150 + 600 = 19:25:50; 300 + 375
        room_stop(What::WipeAndMop(W2, mop), "19:25:50", "19:37:05"),
        // 20; the floor dries until 19:37:05 + 900 = 19:52:05
        stop(What::Break(0), BREAK_ROOM, "19:37:25", "20:07:25"),
        // 20; 75
        room_stop(What::Reopen(W2), "20:07:45", "20:09:00"),
        // 30; 120
        stop(What::Dump, CLOSET_G, "20:09:30", "20:11:30"),
        // 5
        stop(What::TearDown, BASE, "20:11:35", "20:16:35"),
    ]
}

/// The positions of Cara's stops.
pub(crate) mod cara {
    pub(crate) const CLEAN_102: usize = 1;
    pub(crate) const TEA: usize = 2;
    pub(crate) const LOCK_UP: usize = 3;
    pub(crate) const TEAR_DOWN: usize = 4;
}

fn cara(site: &Site) -> Vec<PlannedStop> {
    let all = tasks(site, R102, &["dust", "desks", "plants"]);
    vec![
        stop(What::SetUp, BASE, "18:00:00", "18:05:00"),
        // 95 + stairs 15 + 10; 600 + 180 + 180
        room_stop(What::Clean(R102, all), "18:07:00", "18:23:00"),
        // 10 + stairs 12 + 90; 900
        stop(What::Break(0), BREAK_ROOM, "18:24:52", "18:39:52"),
        // 30; when Ana, the last of the others, is back; 360
        stop(What::Duty(0), DOOR, "20:35:05", "20:41:05"),
        // 35
        stop(What::TearDown, BASE, "20:41:40", "20:46:40"),
    ]
}

pub(crate) fn room_stop(what: What, from: &str, to: &str) -> PlannedStop {
    let room = what.room().unwrap();
    stop(what, PlaceId(room.0), from, to)
}
