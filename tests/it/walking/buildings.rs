//! Small buildings written in code, for tests of walking.

use evenrun::site::{
    Calendar, Door, Floor, FloorId, Hall, HallId, Place, PlaceId, Side, Site, Speeds, Spot, Way,
    WayKind,
};
use evenrun::units::{Clock, Metres, Seconds, Span};
use evenrun::walk::{Times, Walker};
use jiff::civil::date;

/// Speeds that make whole milliseconds of whole metres and of steps with a slope of 0.3 m.
pub(super) const ROUND_SPEEDS: Speeds = Speeds {
    foot: 1.0,
    cart: 0.8,
    stairs_up: 0.4,
    stairs_down: 0.5,
    walking: true,
};

pub(super) fn calendar() -> Calendar {
    Calendar::new(date(2026, 3, 10), None)
}

/// On foot, stairs and all, without keys, 18:00 to 02:00.
pub(super) fn on_foot() -> Walker {
    let shift = Span::new(Clock::at(18, 0), Clock::at(26, 0));
    Walker {
        cart: None,
        stairs: true,
        access: vec![],
        shift,
    }
}

pub(super) fn with_cart() -> Walker {
    Walker {
        cart: Some(Metres(0.7)),
        stairs: false,
        ..on_foot()
    }
}

pub(super) fn floor(id: &str, elevation: f64) -> Floor {
    Floor {
        id: id.to_string(),
        elevation: Metres(elevation),
    }
}

pub(super) fn hall(id: &str, floor: usize, length: f64) -> Hall {
    Hall {
        id: id.to_string(),
        floor: FloorId::from(floor),
        length: Metres(length),
        line: None,
        doors: vec![],
    }
}

pub(super) fn spot(hall: usize, along: f64, side: Side) -> Spot {
    Spot {
        hall: HallId::from(hall),
        along: Metres(along),
        side,
    }
}

pub(super) fn place(id: &str, spot: Spot) -> Place {
    Place {
        id: id.to_string(),
        name: id.to_string(),
        spot,
        door: None,
        break_place: false,
    }
}

/// Steps with a slope of 0.3 m: 18 cm high, 24 cm deep.
pub(super) fn stairs(steps: Vec<u32>) -> WayKind {
    WayKind::Stairs {
        steps,
        rise: Metres(0.18),
        tread: Metres(0.24),
    }
}

pub(super) fn lift(wait: i64, per_floor: i64, boarding: i64) -> WayKind {
    WayKind::Lift {
        wait: Seconds(wait),
        per_floor: Seconds(per_floor),
        boarding: Seconds(boarding),
    }
}

pub(super) fn way(id: &str, kind: WayKind, landings: Vec<Spot>) -> Way {
    Way {
        id: id.to_string(),
        kind,
        landings,
        door: None,
    }
}

pub(super) fn slow_door(seconds: i64) -> Door {
    Door {
        extra: Seconds(seconds),
        ..Door::default()
    }
}

/// ```text
///   1    stairs 0 m ---- R1 10 m (left) -------------- R2 26 m (right) -- 30 m lift
///   G    stairs 0 m ---- G1 10 m (left) -- G2 22 m (right, 3 s door) ---- 30 m lift
///                        G3 10 m (right)
/// ```
/// Stairs: 20 steps of 0.3 m, 15 s up and 12 s down. Lift: 20 s wait, 6 s boarding, 5 s a floor.
pub(super) fn two_floors() -> Site {
    let mut g2 = place("G2", spot(0, 22.0, Side::Right));
    g2.door = Some(slow_door(3));
    let mut site = Site {
        floors: vec![floor("G", 0.0), floor("1", 3.6)],
        halls: vec![hall("G-East", 0, 30.0), hall("1-East", 1, 30.0)],
        places: vec![
            place("G1", spot(0, 10.0, Side::Left)),
            g2,
            place("R1", spot(1, 10.0, Side::Left)),
            place("R2", spot(1, 26.0, Side::Right)),
            place("G3", spot(0, 10.0, Side::Right)),
        ],
        ..Site::default()
    };
    let both = |along, side| vec![spot(0, along, side), spot(1, along, side)];
    site.ways = vec![
        way("north stairs", stairs(vec![20]), both(0.0, Side::Ahead)),
        way("lift", lift(20, 5, 6), both(30.0, Side::Left)),
    ];
    site.policy.speeds = ROUND_SPEEDS;
    site
}

pub(super) fn named(site: &Site, id: &str) -> PlaceId {
    site.place_named(id)
        .expect("a place of the test's own building")
}

/// Seconds between two places by name; `None` if there is no way.
pub(super) fn seconds(site: &Site, walker: &Walker, from: &str, to: &str) -> Option<i64> {
    let times = Times::between_places(site, walker, &calendar());
    times
        .get(named(site, from), named(site, to))
        .map(|time| time.0)
}
