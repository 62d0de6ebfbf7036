//! Random sites from a seed: everything that a site file can say, in sensible amounts, and now and then too much for the night.

use super::planner::date_of;
use super::sketch::{Sketch, room, task, worker};
use crate::common::read_text;
use evenrun::site::{
    AccessId, Break, Cart, ClosetId, Door, Duty, Fixture, Group, Hours, KindId, Machine, MachineId,
    Method, Moves, Priority, Room, RoomId, RoomKind, Site, SkillId, Weekdays, Worker, WorkerId,
};
use evenrun::units::{Clock, Litres, Metres, Seconds, Span, SquareMetres};
use evenrun::work::due_on;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use std::collections::BTreeMap;
use std::sync::OnceLock;

/// Kinds that rooms are drawn from; the last is our own.
const KINDS: [&str; 14] = [
    "restroom",
    "restroom",
    "restroom",
    "classroom",
    "office",
    "office",
    "corridor",
    "stairs",
    "lobby",
    "break-room",
    "lab",
    "nurse-room",
    "changing-room",
    "scrubbed",
];

/// The kinds of the built-in standard.
fn builtin_kinds() -> &'static [RoomKind] {
    static KINDS: OnceLock<Vec<RoomKind>> = OnceLock::new();
    KINDS.get_or_init(|| {
        read_text(
            "site: One room\n\
             date: 2026-03-10\n\
             floors: [{id: G}]\n\
             halls: [{id: hall, floor: G, places: [R, entrance]}]\n\
             places: [{id: entrance}]\n\
             rooms: [{id: R, kind: office, area_m2: 18}]\n\
             crew: [{name: Ana, shift: \"17:00-21:00\", start: entrance}]\n",
        )
        .kinds
    })
}

/// A site of one to four storeys with 10 to 40 rooms and two to five people. Every fourth is easy.
pub(crate) fn random_site(seed: u64) -> Site {
    drawn(seed, seed % 4 == 3, None)
}

/// A site of one to four storeys with so many rooms.
pub(crate) fn site_of(seed: u64, rooms: usize) -> Site {
    drawn(seed, false, Some(rooms))
}

/// An easy site.
pub(crate) fn eased_site(seed: u64) -> Site {
    drawn(seed, true, None)
}

fn drawn(seed: u64, easy: bool, rooms: Option<usize>) -> Site {
    let rng = &mut Pcg64Mcg::seed_from_u64(seed);
    let mut site = building(rng, easy, rooms);
    site.skills = vec!["floor machine".to_string()];
    site.access = vec!["lab clearance".to_string()];
    site.machines = vec![Machine {
        name: "scrubber".to_string(),
        units: rng.random_range(1..=2),
        closet: ClosetId(0),
    }];
    let people = rng.random_range(2..=5);
    site.crew = (0..people).map(|i| person(rng, &site, i)).collect();
    for index in 0..site.rooms.len() {
        bind(rng, &mut site.rooms[index], people);
    }
    rules(rng, &mut site);
    duties(rng, &mut site);
    if easy {
        ease(&mut site);
    }
    site
}

/// An easy site whose crew has hardly time for all of it, unless they stay longer: some overtime, some work left undone, a single machine.
pub(crate) fn short_night(seed: u64) -> Site {
    let mut site = random_site(4 * seed + 3);
    let due = due_on(&site, date_of(&site));
    let work: f64 = due
        .iter()
        .map(|d| d.minutes(&site) + d.wipe_minutes(&site))
        .sum();
    // Walking, water, waste and waiting come on top.
    let more = [1.1, 1.3, 1.5][seed as usize % 3];
    let each = (work / site.crew.len() as f64 * more).ceil() as i64 + 30;
    let shift = Span::new(Clock::at(16, 0), Clock::at(16, 0) + Seconds::minutes(each));
    for worker in &mut site.crew {
        worker.shift = shift;
        worker.breaks.retain(|b| b.window.to <= shift.to);
    }
    site.machines[0].units = 1;
    site.policy.overtime = Seconds::minutes(20);
    site
}

/// Takes away what keeps people from rooms, and gives them long shifts: everything can be done.
fn ease(site: &mut Site) {
    for (room, place) in site.rooms.iter_mut().zip(&mut site.places) {
        (room.open, room.closure, place.door) = (None, None, None);
        room.needs.clear();
        room.only.clear();
        room.never.clear();
    }
    let shift = Span::new(Clock::at(16, 0), Clock::at(26, 0));
    for worker in &mut site.crew {
        (worker.shift, worker.stairs, worker.heavy) = (shift, true, true);
        worker.skills = vec![SkillId(0)];
    }
    // Somebody has a cart, whatever chance said.
    site.crew[0].moves = Moves::Cart(Cart {
        waste: Litres(100.0),
        bucket: SquareMetres(60.0),
        bucket_rooms: 3,
        width: Metres(0.7),
    });
}

fn building(rng: &mut Pcg64Mcg, easy: bool, rooms: Option<usize>) -> Site {
    let storeys = rng.random_range(1..=4);
    let length = f64::from(rng.random_range(20..=60));
    let mut sketch = Sketch::of_storeys(storeys, length);
    if rng.random_bool(0.7) || easy {
        sketch.lift();
    }
    for kind in builtin_kinds() {
        sketch.kind_of(kind.clone());
    }
    let mut scrub = task("scrub floor", Method::Wipe, 0.05);
    scrub.machine = Some(MachineId(0));
    scrub.skills = vec![SkillId(0)];
    let mut shift = task("shift benches", Method::Dry, 0.05);
    shift.heavy = true;
    let scrubbed = sketch.kind("scrubbed", vec![shift, scrub]);
    let count = rng.random_range(10..=40);
    for index in 0..rooms.unwrap_or(count) {
        let word = KINDS[rng.random_range(0..KINDS.len())];
        let kind = builtin_kinds().iter().position(|k| k.id == word);
        let kind = kind.map_or(scrubbed, KindId::from);
        let along = rng.random_range(0.0..length);
        let drawn = furnished(rng, &format!("R{index:02}"), kind);
        sketch.room(rng.random_range(0..storeys), along, drawn);
    }
    for index in 0..rng.random_range(1..=3) {
        let storey = if index == 0 {
            0
        } else {
            rng.random_range(0..storeys)
        };
        sketch.closet(
            &format!("closet {index}"),
            storey,
            rng.random_range(0.0..length),
        );
    }
    sketch.place("staff room", 0, rng.random_range(0.0..length));
    let mut site = sketch.built();
    let staff_room = site.places.len() - 1;
    site.places[staff_room].break_place = rng.random_bool(0.5);
    for place in 0..site.rooms.len() {
        if rng.random_bool(0.15) {
            site.places[place].door = Some(door(rng));
        }
    }
    site
}

fn furnished(rng: &mut Pcg64Mcg, id: &str, kind: KindId) -> Room {
    let largest = if rng.random_bool(0.1) { 150.0 } else { 40.0 };
    let area = rng.random_range(6.0..largest);
    let count = |rng: &mut Pcg64Mcg| rng.random_range(0..=4);
    let fixtures: BTreeMap<Fixture, u32> =
        Fixture::ALL.iter().map(|(f, _)| (*f, count(rng))).collect();
    Room {
        fixtures,
        occupants: rng.random_range(0..20),
        ..room(id, kind, area)
    }
}

fn door(rng: &mut Pcg64Mcg) -> Door {
    Door {
        width: rng.random_bool(0.3).then_some(Metres(0.65)),
        needs: if rng.random_bool(0.3) {
            vec![AccessId(0)]
        } else {
            Vec::new()
        },
        extra: Seconds(rng.random_range(0..6)),
        hours: None,
    }
}

/// Every day, in minutes since midnight.
fn hours(spans: &[(i64, i64)]) -> Hours {
    let span =
        |(from, to): &(i64, i64)| (Weekdays::ALL, Span::new(Clock(from * 60), Clock(to * 60)));
    Hours {
        weekly: spans.iter().map(span).collect(),
        dated: BTreeMap::new(),
    }
}

fn some_hours(rng: &mut Pcg64Mcg) -> Hours {
    let from = rng.random_range(16 * 60..20 * 60);
    let to = from + rng.random_range(60..240);
    if rng.random_bool(0.4) {
        let again = to + rng.random_range(30..90);
        hours(&[(from, to), (again, again + rng.random_range(60..180))])
    } else {
        hours(&[(from, to)])
    }
}

/// When and by whom a room may be done.
fn bind(rng: &mut Pcg64Mcg, room: &mut Room, people: usize) {
    let anyone = |rng: &mut Pcg64Mcg| WorkerId::from(rng.random_range(0..people));
    room.open = rng.random_bool(0.25).then(|| some_hours(rng));
    room.closure = rng.random_bool(0.35).then(|| some_hours(rng));
    if rng.random_bool(0.1) {
        room.needs = vec![AccessId(0)];
    }
    match rng.random_range(0..20) {
        0 => room.only = vec![anyone(rng)],
        1 => room.never = vec![anyone(rng)],
        2 => room.prefer = vec![anyone(rng)],
        3 => room.priority = Some(Priority::Health),
        _ => {}
    }
}

fn person(rng: &mut Pcg64Mcg, site: &Site, index: usize) -> Worker {
    let from = 16 * 60 + 15 * rng.random_range(0..=8);
    let to = from + 30 * rng.random_range(5..=16);
    let cart = Cart {
        waste: Litres(rng.random_range(30.0..150.0)),
        bucket: SquareMetres(rng.random_range(15.0..120.0)),
        bucket_rooms: rng.random_range(1..=4),
        width: Metres(0.7),
    };
    Worker {
        pace: f64::from(rng.random_range(8..=12)) / 10.0,
        skills: if rng.random_bool(0.6) {
            vec![SkillId(0)]
        } else {
            Vec::new()
        },
        access: if rng.random_bool(0.6) {
            vec![AccessId(0)]
        } else {
            Vec::new()
        },
        moves: if rng.random_bool(0.75) {
            Moves::Cart(cart)
        } else {
            Moves::Foot
        },
        stairs: rng.random_bool(0.9),
        heavy: rng.random_bool(0.7),
        breaks: breaks(rng, site, from, to),
        ..worker(site, &format!("P{index}"), from, to)
    }
}

/// None, or one in each of up to two stretches of the shift.
fn breaks(rng: &mut Pcg64Mcg, site: &Site, from: i64, to: i64) -> Vec<Break> {
    let third = (to - from) / 3;
    let one = |rng: &mut Pcg64Mcg, index: i64| Break {
        name: format!("break {index}"),
        length: Seconds::minutes(rng.random_range(10..=25)),
        window: Span::new(
            Clock((from + third * index - 10) * 60),
            Clock((from + third * index + 40) * 60),
        ),
        place: rng
            .random_bool(0.4)
            .then(|| site.place_named("staff room"))
            .flatten(),
        paid: rng.random_bool(0.5),
    };
    (1..=rng.random_range(0..=2)).map(|i| one(rng, i)).collect()
}

fn rules(rng: &mut Pcg64Mcg, site: &mut Site) {
    let of = |wanted: &dyn Fn(&RoomKind) -> bool| -> Vec<RoomId> {
        let rooms = site.rooms.iter().enumerate();
        let rooms = rooms.filter(|(_, r)| wanted(&site.kinds[r.kind.index()]));
        rooms.map(|(i, _)| RoomId::from(i)).collect()
    };
    let closing = of(&|k| k.reopen.is_some());
    let ways_out = of(&|k| ["corridor", "stairs", "lobby"].contains(&k.id.as_str()));
    let policy = &mut site.policy;
    for (index, rooms) in closing.chunks(rng.random_range(2..=3)).enumerate() {
        if rooms.len() > 1 && rng.random_bool(0.6) {
            policy.groups.push(Group {
                name: format!("group {index}"),
                rooms: rooms.to_vec(),
                keep_open: rng.random_range(1..rooms.len() as u32),
            });
        }
    }
    for pair in ways_out.windows(2) {
        if rng.random_bool(0.5) {
            policy.exit_pairs.push([pair[0], pair[1]]);
        }
    }
    policy.set_up = Seconds::minutes(rng.random_range(0..=10));
    policy.tear_down = Seconds::minutes(rng.random_range(0..=10));
    policy.overtime = Seconds::minutes(if rng.random_bool(0.3) { 20 } else { 0 });
    policy.reserve = Seconds::minutes(if rng.random_bool(0.2) { 10 } else { 0 });
}

fn duties(rng: &mut Pcg64Mcg, site: &mut Site) {
    let duty = |site: &Site, name: &str, minutes: f64| Duty {
        name: name.to_string(),
        place: site.place_named("entrance").expect("every sketch has one"),
        minutes,
        window: None,
        days: Weekdays::ALL,
        skills: Vec::new(),
        last: false,
    };
    if rng.random_bool(0.4) {
        let delivery = Duty {
            window: Some(hours(&[(17 * 60, 19 * 60)])),
            ..duty(site, "take in the delivery", 10.0)
        };
        site.duties.push(delivery);
    }
    if rng.random_bool(0.4) {
        let lock_up = Duty {
            last: true,
            window: rng.random_bool(0.5).then(|| hours(&[(18 * 60, 25 * 60)])),
            ..duty(site, "lock up", 5.0)
        };
        site.duties.push(lock_up);
    }
}
