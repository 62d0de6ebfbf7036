//! A small building with a crew. All figures are invented for these tests.

use super::kinds;
use evenrun::site::{
    AccessId, Break, Cart, Closet, ClosetId, Door, Duty, Fixture, Floor, FloorId, Group, Hall,
    HallId, KindId, Machine, Moves, Place, PlaceId, Policy, Room, RoomId, Side, Site, Spot, Way,
    WayKind, Weekdays, Worker,
};
use evenrun::units::{Clock, Litres, Metres, Seconds, Span, SquareMetres};
use std::collections::BTreeMap;

/// Rooms on a floor: two restrooms, then classrooms, then the hall itself.
pub(crate) const ROOMS_PER_FLOOR: usize = 8;

/// A building of so many floors with a crew of these names, the night of 10 March 2026.
pub(crate) fn site(name: &str, floors: usize, crew: &[&str]) -> Site {
    let mut site = Site {
        name: name.into(),
        kinds: kinds::kinds(),
        access: vec!["blue key".into()],
        ..Site::default()
    };
    site.machines.push(Machine {
        name: "floor scrubber".into(),
        units: 1,
        closet: ClosetId(0),
    });
    (0..floors).for_each(|floor| add_floor(&mut site, floor));
    (0..floors).for_each(|floor| add_closet(&mut site, floor));
    site.places.push(Place {
        break_place: true,
        ..place("staff", "Staff room", 0, 5.0, None)
    });
    site.ways.push(lift(floors));
    site.crew = crew.iter().map(|name| worker(&site, name)).collect();
    site.policy = policy(&site, floors);
    site.duties.push(lock_up(&site));
    site
}

fn add_floor(site: &mut Site, floor: usize) {
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
    (0..ROOMS_PER_FLOOR).for_each(|i| add_room(site, floor, &id, i));
}

fn add_closet(site: &mut Site, floor: usize) {
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

fn lock_up(site: &Site) -> Duty {
    Duty {
        name: "Lock up".into(),
        place: staff_room(site),
        minutes: 10.0,
        window: None,
        days: Weekdays::ALL,
        skills: vec![],
        last: true,
    }
}

/// Where breaks are taken: the last place.
pub(crate) fn staff_room(site: &Site) -> PlaceId {
    PlaceId::from(site.places.len() - 1)
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
