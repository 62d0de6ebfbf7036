//! A small building with a crew, and a plan for one night put together by hand: every stop follows the one before it by the
//! walk between them. All figures are invented for these tests.

use evenrun::plan::{Plan, PlannedStop, Reason, Run, Undone, UndoneWork, What};
use evenrun::site::{
    AccessId, Break, Calendar, Cart, Closet, ClosetId, Door, Duty, Fixture, Floor, FloorId, Group,
    Hall, HallId, KindId, Machine, MachineId, Method, Moves, Place, PlaceId, Policy, Priority,
    Rate, Room, RoomId, RoomKind, Side, Site, Spot, Task, Way, WayKind, Weekdays, Worker, WorkerId,
};
use evenrun::units::{Clock, Litres, Metres, Seconds, Span, SquareMetres};
use evenrun::walk::{Times, Walker};
use evenrun::work::DueTask;
use jiff::civil::date;
use std::collections::BTreeMap;

/// Rooms on a floor: two restrooms, then classrooms, then the hall itself.
const ROOMS_PER_FLOOR: usize = 8;

/// A building of so many floors with a crew of these names, the night of 10 March 2026.
pub(crate) fn site(name: &str, floors: usize, crew: &[&str]) -> Site {
    let mut site = Site {
        name: name.into(),
        kinds: kinds(),
        access: vec!["blue key".into()],
        ..Site::default()
    };
    site.machines.push(Machine {
        name: "floor scrubber".into(),
        units: 1,
        closet: ClosetId(0),
    });
    for floor in 0..floors {
        let id = if floor == 0 {
            "G".to_string()
        } else {
            floor.to_string()
        };
        site.floors.push(Floor {
            id: id.clone(),
            elevation: Metres(3.5 * floor as f64),
        });
        let hall = Hall {
            id: format!("{id}-East"),
            floor: FloorId::from(floor),
            length: Metres(60.0),
            line: None,
            doors: vec![],
        };
        site.halls.push(hall);
        (0..ROOMS_PER_FLOOR).for_each(|i| add_room(&mut site, floor, &id, i));
    }
    for floor in 0..floors {
        let door = Door {
            needs: vec![AccessId(0)],
            ..Door::default()
        };
        site.places.push(place(
            &format!("C{floor}"),
            "Closet",
            floor,
            30.0,
            Some(door),
        ));
        site.closets.push(Closet {
            fill_point: true,
            waste_point: floor == 0,
            supplies: vec![],
        });
    }
    site.places.push(Place {
        break_place: true,
        ..place("staff", "Staff room", 0, 5.0, None)
    });
    site.ways.push(lift(floors));
    site.crew = crew.iter().map(|name| worker(&site, name)).collect();
    site.policy = policy(&site, floors);
    let lock_up = Duty {
        name: "Lock up".into(),
        place: staff_room(&site),
        minutes: 10.0,
        window: None,
        days: Weekdays::ALL,
        skills: vec![],
        last: true,
    };
    site.duties.push(lock_up);
    site
}

fn add_room(site: &mut Site, floor: usize, id: &str, i: usize) {
    let (kind, name, area) = match i {
        0 => (0, format!("Women's restroom {id}"), 18.0),
        1 => (0, format!("Men's restroom {id}"), 16.0),
        7 => (2, format!("Hall {id}"), 120.0),
        _ => (1, format!("Classroom {id}{i}"), 55.0),
    };
    let written = format!("{id}{i:02}");
    site.places
        .push(place(&written, &name, floor, 6.0 + 6.0 * i as f64, None));
    site.rooms.push(Room {
        id: written,
        name,
        kind: KindId(kind),
        area: SquareMetres(area),
        fixtures: BTreeMap::from([(Fixture::Bowl, 3), (Fixture::Basin, 3), (Fixture::Bin, 2)]),
        ..Room::default()
    });
}

fn place(id: &str, name: &str, floor: usize, along: f64, door: Option<Door>) -> Place {
    let spot = Spot {
        hall: HallId::from(floor),
        along: Metres(along),
        side: Side::Left,
    };
    Place {
        id: id.into(),
        name: name.into(),
        spot,
        door,
        break_place: false,
    }
}

fn lift(floors: usize) -> Way {
    let landing = |floor: usize| Spot {
        hall: HallId::from(floor),
        along: Metres(0.0),
        side: Side::Ahead,
    };
    let kind = WayKind::Lift {
        wait: Seconds(20),
        per_floor: Seconds(6),
        boarding: Seconds(10),
    };
    Way {
        id: "lift".into(),
        kind,
        landings: (0..floors).map(landing).collect(),
        door: None,
    }
}

fn policy(site: &Site, floors: usize) -> Policy {
    let restrooms: Vec<_> = (0..floors * ROOMS_PER_FLOOR)
        .filter(|i| i % ROOMS_PER_FLOOR == 0)
        .map(RoomId::from)
        .collect();
    let keep_open = restrooms.len() as u32 - 1;
    let halls = [RoomId(7), RoomId::from(site.rooms.len() - 1)];
    Policy {
        set_up: Seconds(600),
        tear_down: Seconds(600),
        groups: vec![Group {
            name: "Women's restrooms".into(),
            rooms: restrooms,
            keep_open,
        }],
        exit_pairs: vec![halls],
        ..Policy::default()
    }
}

fn worker(site: &Site, name: &str) -> Worker {
    let break_at = Break {
        name: "meal".into(),
        length: Seconds(1800),
        window: Span::new(Clock::at(20, 0), Clock::at(24, 0)),
        place: None,
        paid: false,
    };
    Worker {
        name: name.into(),
        shift: Span::new(Clock::at(18, 0), Clock::at(26, 0)),
        days: Weekdays::ALL,
        pace: 1.0,
        start: site.place_of_closet(ClosetId(0)),
        skills: vec![],
        access: vec![AccessId(0)],
        moves: Moves::Cart(Cart {
            waste: Litres(240.0),
            bucket: SquareMetres(60.0),
            bucket_rooms: 3,
            width: Metres(0.7),
        }),
        stairs: true,
        heavy: true,
        breaks: vec![break_at],
    }
}

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

fn kinds() -> Vec<RoomKind> {
    let spray = Method::Spray {
        dwell: Seconds(600),
    };
    let mop = Method::Mop {
        drying: Seconds(900),
    };
    let bins = |minutes| Task {
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
    };
    let disinfect = Task {
        wipe_minutes: 1.0,
        supplies: vec!["disinfectant".into(), "cloths".into()],
        ..task(
            "disinfect fixtures",
            1.0,
            Rate::Per(Fixture::Bowl),
            spray,
            Priority::Health,
        )
    };
    let scrub = Task {
        machine: Some(MachineId(0)),
        ..task(
            "scrub",
            0.15,
            Rate::SquareMetre,
            Method::Dry,
            Priority::Appearance,
        )
    };
    vec![
        RoomKind {
            id: "restroom".into(),
            restroom: true,
            reopen: Some(Seconds(120)),
            tasks: vec![
                disinfect,
                bins(2.0),
                task("mop", 0.3, Rate::SquareMetre, mop, Priority::Health),
            ],
        },
        RoomKind {
            id: "classroom".into(),
            restroom: false,
            reopen: None,
            tasks: vec![
                bins(3.0),
                task(
                    "sweep",
                    0.2,
                    Rate::SquareMetre,
                    Method::Dry,
                    Priority::Expected,
                ),
                task(
                    "wipe desks",
                    9.0,
                    Rate::Visit,
                    Method::Wipe,
                    Priority::Expected,
                ),
            ],
        },
        RoomKind {
            id: "hall".into(),
            restroom: false,
            reopen: None,
            tasks: vec![
                scrub,
                task("mop", 0.1, Rate::SquareMetre, mop, Priority::Expected),
            ],
        },
    ]
}

fn staff_room(site: &Site) -> PlaceId {
    PlaceId::from(site.places.len() - 1)
}

/// A room's tasks, those that are wanted.
fn due(site: &Site, room: RoomId, wanted: impl Fn(Method) -> bool) -> Vec<DueTask> {
    let kind = site.rooms[room.index()].kind;
    let all = (0..site.kinds[kind.index()].tasks.len()).map(|index| DueTask { room, kind, index });
    all.filter(|d| wanted(d.task(site).method)).collect()
}

/// A run in the making.
struct Builder<'a> {
    site: &'a Site,
    times: &'a Times,
    stops: Vec<PlannedStop>,
}

impl Builder<'_> {
    fn add(&mut self, what: What, place: PlaceId, length: Seconds, not_before: Clock) {
        let ready = self.stops.last().map_or(not_before, |last| {
            last.span.to + self.times.get(last.place, place).unwrap_or(Seconds::ZERO)
        });
        let from = ready.max(not_before);
        self.stops.push(PlannedStop {
            what,
            place,
            span: Span::new(from, from + length),
        });
    }

    fn room(&mut self, room: RoomId) {
        let place = self.site.place_of_room(room);
        let restroom = self.site.rooms[room.index()].kind == KindId(0);
        let start = Clock(0);
        if !restroom {
            let tasks = due(self.site, room, |_| true);
            let minutes: f64 = tasks.iter().map(|t| t.minutes(self.site)).sum();
            return self.add(
                What::Clean(room, tasks),
                place,
                Seconds::of_work(minutes, 1.0),
                start,
            );
        }
        let fill = self
            .site
            .fill_points()
            .nth(self.floor(room))
            .unwrap_or(place);
        let wet = due(self.site, room, |m| m.step() <= 2);
        self.add(What::OpenAndWet(room, wet), place, Seconds(300), start);
        let wet_until = self
            .stops
            .last()
            .map_or(start, |s| s.span.from + Seconds(180 + 600));
        self.add(What::Fill, fill, Seconds(180), start);
        let wipe = due(self.site, room, |m| m.step() == 1 || m.step() > 2);
        self.add(What::WipeAndMop(room, wipe), place, Seconds(540), wet_until);
        let dry = self
            .stops
            .last()
            .map_or(start, |s| s.span.to + Seconds(900));
        self.add(What::Reopen(room), place, Seconds(120), dry);
    }

    fn floor(&self, room: RoomId) -> usize {
        room.index() / ROOMS_PER_FLOOR
    }
}

/// Rooms dealt out in turn; the last worker, if there are several, stays idle; the last classroom and the lock-up stay undone.
pub(crate) fn plan(site: &Site) -> Plan {
    let working = site.crew.len().max(2) - 1;
    let runs = (0..site.crew.len())
        .map(|w| run(site, w, working))
        .collect();
    let left = RoomId::from(site.rooms.len() - 2);
    let mut undone: Vec<_> = due(site, left, |_| true)
        .into_iter()
        .map(|task| Undone {
            what: UndoneWork::Task(task),
            reason: Reason::NoTime,
        })
        .collect();
    undone.push(Undone {
        what: UndoneWork::Duty(0),
        reason: Reason::Nobody("nobody holds the skill <alarm> & key".into()),
    });
    Plan {
        date: date(2026, 3, 10),
        runs,
        undone,
    }
}

fn run(site: &Site, index: usize, working: usize) -> Run {
    let worker = WorkerId::from(index);
    let times = Times::between_places(
        site,
        &Walker::of(site, worker, true, &calendar()),
        &calendar(),
    );
    let mut builder = Builder {
        site,
        times: &times,
        stops: vec![],
    };
    let rooms = site.rooms.len();
    let mine: Vec<_> = (0..rooms)
        .filter(|i| i * working / rooms == index && *i != rooms - 2)
        .map(RoomId::from)
        .collect();
    if !mine.is_empty() {
        let (home, start) = (site.crew[index].start, site.crew[index].shift.from);
        builder.add(What::SetUp, home, Seconds(600), start);
        let machine = mine
            .iter()
            .any(|r| site.rooms[r.index()].kind == KindId(2))
            .then_some(MachineId(0));
        machine
            .into_iter()
            .for_each(|m| builder.add(What::Fetch(m), home, Seconds(120), start));
        for (i, room) in mine.iter().enumerate() {
            builder.room(*room);
            if i == mine.len() / 2 {
                builder.add(
                    What::Break(0),
                    staff_room(site),
                    Seconds(1800),
                    Clock::at(20, 0),
                );
            }
        }
        builder.add(What::Dump, home, Seconds(120), start);
        machine
            .into_iter()
            .for_each(|m| builder.add(What::Return(m), home, Seconds(120), start));
        builder.add(What::TearDown, home, Seconds(600), start);
    }
    Run {
        worker,
        stops: builder.stops,
    }
}

/// The night of the plan.
pub(crate) fn calendar() -> Calendar {
    Calendar::new(date(2026, 3, 10), None)
}
