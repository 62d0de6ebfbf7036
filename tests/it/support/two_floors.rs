//! A building of two floors with everything the rules speak of, small enough to time by hand.
//!
//! ```text
//! floor 1   closet-1 0 m · 101 10 m · · · 103 85 m · 102 90 m · 100 m
//!           lift 0 m (40 s a ride)                       stairs 100 m (15 s up, 12 s down)
//! floor G   closet-G 0 m · base 5 · break room 10 · W1 20 · W2 30 · door 40 · gym 50 · north 60 · south 80
//! ```
//! Everybody walks one metre a second, with or without a cart. All figures are invented to be round.

use evenrun::site::{
    Break, Cart, Closet, ClosetId, Duty, Floor, FloorId, Group, Hall, HallId, Hours, KindId,
    Machine, MachineId, Method, Moves, Place, PlaceId, Policy, Priority, Room, RoomId, RoomKind,
    Side, Site, SkillId, Speeds, Spot, Task, Way, WayKind, Weekdays, Worker, WorkerId,
};
use evenrun::units::{Clock, Litres, Metres, Seconds, Span, SquareMetres};
use evenrun::work::DueTask;
use std::collections::BTreeMap;

pub(crate) const W1: RoomId = RoomId(0);
pub(crate) const W2: RoomId = RoomId(1);
pub(crate) const R101: RoomId = RoomId(2);
pub(crate) const R102: RoomId = RoomId(3);
pub(crate) const R103: RoomId = RoomId(4);
pub(crate) const NORTH: RoomId = RoomId(5);
pub(crate) const SOUTH: RoomId = RoomId(6);
pub(crate) const GYM: RoomId = RoomId(7);
pub(crate) const CLOSET_G: PlaceId = PlaceId(8);
pub(crate) const CLOSET_1: PlaceId = PlaceId(9);
pub(crate) const BASE: PlaceId = PlaceId(10);
pub(crate) const BREAK_ROOM: PlaceId = PlaceId(11);
pub(crate) const DOOR: PlaceId = PlaceId(12);

pub(crate) const ANA: WorkerId = WorkerId(0);
pub(crate) const BEN: WorkerId = WorkerId(1);
pub(crate) const CARA: WorkerId = WorkerId(2);
pub(crate) const EVERYONE: [WorkerId; 3] = [ANA, BEN, CARA];

/// Daily hours.
pub(crate) fn hours(from: &str, to: &str) -> Hours {
    let weekly = vec![(Weekdays::ALL, span(from, to))];
    Hours {
        weekly,
        dated: BTreeMap::new(),
    }
}

pub(crate) fn span(from: &str, to: &str) -> Span {
    Span::new(clock(from), clock(to))
}

pub(crate) fn clock(text: &str) -> Clock {
    text.parse().unwrap()
}

/// The task of this name in a room.
pub(crate) fn task(site: &Site, room: RoomId, name: &str) -> DueTask {
    let kind = site.rooms[room.index()].kind;
    let index = site.kinds[kind.index()]
        .tasks
        .iter()
        .position(|t| t.name == name)
        .unwrap();
    DueTask { room, kind, index }
}

pub(crate) fn two_floors() -> Site {
    Site {
        name: "Two floors".to_string(),
        floors: vec![floor("G", 0.0), floor("1", 3.6)],
        halls: vec![hall("G-Main", 0), hall("1-Main", 1)],
        ways: vec![lift(), stairs()],
        places: places(),
        rooms: rooms(),
        closets: vec![
            Closet {
                fill_point: true,
                waste_point: true,
                supplies: vec![],
            },
            Closet {
                fill_point: true,
                waste_point: false,
                supplies: vec![],
            },
        ],
        kinds: kinds(),
        skills: vec!["scrubber".to_string(), "alarm".to_string()],
        access: vec!["office key".to_string()],
        machines: vec![Machine {
            name: "scrubber".to_string(),
            units: 1,
            closet: ClosetId(0),
        }],
        crew: vec![ana(), ben(), cara()],
        duties: vec![lock_up()],
        policy: policy(),
        ..Site::default()
    }
}

fn floor(id: &str, elevation: f64) -> Floor {
    Floor {
        id: id.to_string(),
        elevation: Metres(elevation),
    }
}

fn hall(id: &str, floor: usize) -> Hall {
    let (id, floor) = (id.to_string(), FloorId::from(floor));
    Hall {
        id,
        floor,
        length: Metres(100.0),
        line: None,
        doors: vec![],
    }
}

fn spot(floor: usize, along: f64) -> Spot {
    Spot {
        hall: HallId::from(floor),
        along: Metres(along),
        side: Side::Left,
    }
}

fn lift() -> Way {
    let kind = WayKind::Lift {
        wait: Seconds(20),
        per_floor: Seconds(10),
        boarding: Seconds(10),
    };
    Way {
        id: "lift".to_string(),
        kind,
        landings: vec![spot(0, 0.0), spot(1, 0.0)],
        door: None,
    }
}

/// Twenty steps of 0.3 m along the slope: 6 m, at 0.4 m/s up and 0.5 m/s down.
fn stairs() -> Way {
    let kind = WayKind::Stairs {
        steps: vec![20],
        rise: Metres(0.18),
        tread: Metres(0.24),
    };
    let landings = vec![spot(0, 100.0), spot(1, 100.0)];
    Way {
        id: "stairs".to_string(),
        kind,
        landings,
        door: None,
    }
}

fn places() -> Vec<Place> {
    let place = |id: &str, floor: usize, along: f64| Place {
        id: id.to_string(),
        name: id.to_string(),
        spot: spot(floor, along),
        door: None,
        break_place: id == "break room",
    };
    vec![
        place("W1", 0, 20.0),
        place("W2", 0, 30.0),
        place("101", 1, 10.0),
        place("102", 1, 90.0),
        place("103", 1, 85.0),
        place("north", 0, 60.0),
        place("south", 0, 80.0),
        place("gym", 0, 50.0),
        place("closet-G", 0, 0.0),
        place("closet-1", 1, 0.0),
        place("base", 0, 5.0),
        place("break room", 0, 10.0),
        place("door", 0, 40.0),
    ]
}

fn rooms() -> Vec<Room> {
    let room = |id: &str, kind: u32, area: f64| Room {
        id: id.to_string(),
        name: id.to_string(),
        kind: KindId(kind),
        area: SquareMetres(area),
        ..Room::default()
    };
    let skip = ["dust", "desks", "plants"].map(String::from).to_vec();
    vec![
        Room {
            closure: Some(hours("18:00", "19:00")),
            ..room("W1", 0, 20.0)
        },
        Room {
            closure: Some(hours("19:00", "21:00")),
            ..room("W2", 0, 20.0)
        },
        Room {
            open: Some(hours("18:30", "22:00")),
            ..room("101", 1, 20.0)
        },
        Room {
            needs: vec![evenrun::site::AccessId(0)],
            ..room("102", 2, 20.0)
        },
        Room {
            skip,
            ..room("103", 2, 20.0)
        },
        room("north", 3, 80.0),
        room("south", 3, 15.0),
        room("gym", 4, 200.0),
    ]
}

fn kinds() -> Vec<RoomKind> {
    let kind = |id: &str, tasks: Vec<Task>| RoomKind {
        id: id.to_string(),
        tasks,
        ..RoomKind::default()
    };
    let way = vec![with_method(
        timed("mop", 5.0, Priority::Expected),
        Method::Mop {
            drying: Seconds(600),
        },
    )];
    let scrub = Task {
        skills: vec![SkillId(0)],
        machine: Some(MachineId(0)),
        ..timed("scrub", 20.0, Priority::Expected)
    };
    vec![
        RoomKind {
            restroom: true,
            reopen: Some(Seconds(60)),
            ..kind("restroom", restroom_tasks())
        },
        kind("office", office_tasks()),
        kind("quiet office", quiet_tasks()),
        kind("way out", way),
        kind("gym", vec![scrub]),
    ]
}

fn restroom_tasks() -> Vec<Task> {
    vec![
        with_method(timed("flush", 1.0, Priority::Health), Method::Open),
        Task {
            wipe_minutes: 4.0,
            ..with_method(
                timed("disinfect", 2.0, Priority::Health),
                Method::Spray {
                    dwell: Seconds(600),
                },
            )
        },
        timed("restock", 3.0, Priority::Expected),
        Task {
            waste_litres: 30.0,
            ..timed("bins", 2.0, Priority::Health)
        },
        with_method(
            timed("mop", 5.0, Priority::Health),
            Method::Mop {
                drying: Seconds(900),
            },
        ),
    ]
}

fn office_tasks() -> Vec<Task> {
    vec![
        Task {
            waste_litres: 20.0,
            ..timed("bins", 1.0, Priority::Health)
        },
        timed("vacuum", 10.0, Priority::Expected),
        with_method(timed("polish", 4.0, Priority::Appearance), Method::Wipe),
    ]
}

fn quiet_tasks() -> Vec<Task> {
    vec![
        timed("dust", 10.0, Priority::Health),
        with_method(timed("desks", 3.0, Priority::Health), Method::Wipe),
        with_method(timed("plants", 3.0, Priority::Appearance), Method::Wipe),
    ]
}

/// Dry work of so many minutes a visit.
fn timed(name: &str, minutes: f64, priority: Priority) -> Task {
    Task {
        name: name.to_string(),
        minutes,
        priority,
        ..Task::default()
    }
}

fn with_method(task: Task, method: Method) -> Task {
    Task { method, ..task }
}

fn ana() -> Worker {
    let cart = Cart {
        waste: Litres(60.0),
        bucket: SquareMetres(50.0),
        bucket_rooms: 3,
        width: Metres(0.7),
    };
    Worker {
        name: "Ana".to_string(),
        shift: span("18:00", "24:00"),
        days: Weekdays::ALL,
        pace: 1.0,
        start: BASE,
        skills: vec![],
        access: vec![],
        moves: Moves::Cart(cart),
        stairs: true,
        heavy: false,
        breaks: vec![rest("meal", 30, span("20:00", "21:00"), None)],
    }
}

fn ben() -> Worker {
    let breaks = vec![rest("meal", 30, span("19:30", "21:00"), Some(BREAK_ROOM))];
    Worker {
        name: "Ben".to_string(),
        pace: 0.8,
        skills: vec![SkillId(0)],
        breaks,
        ..ana()
    }
}

fn cara() -> Worker {
    Worker {
        name: "Cara".to_string(),
        skills: vec![SkillId(1)],
        access: vec![evenrun::site::AccessId(0)],
        moves: Moves::Foot,
        breaks: vec![rest("tea", 15, span("18:00", "24:00"), None)],
        ..ana()
    }
}

fn rest(name: &str, minutes: i64, window: Span, place: Option<PlaceId>) -> Break {
    Break {
        name: name.to_string(),
        length: Seconds::minutes(minutes),
        window,
        place,
        paid: false,
    }
}

fn lock_up() -> Duty {
    Duty {
        name: "lock up".to_string(),
        place: DOOR,
        minutes: 6.0,
        window: Some(hours("20:00", "23:00")),
        days: Weekdays::ALL,
        skills: vec![SkillId(1)],
        last: true,
    }
}

fn policy() -> Policy {
    Policy {
        set_up: Seconds::minutes(5),
        tear_down: Seconds::minutes(5),
        reserve: Seconds::minutes(10),
        groups: vec![Group {
            name: "women".to_string(),
            rooms: vec![W1, W2],
            keep_open: 1,
        }],
        exit_pairs: vec![[NORTH, SOUTH]],
        speeds: Speeds {
            foot: 1.0,
            cart: 1.0,
            stairs_up: 0.4,
            stairs_down: 0.5,
            walking: true,
        },
        ..Policy::default()
    }
}
