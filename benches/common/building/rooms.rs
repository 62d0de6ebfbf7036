//! Which rooms there are, where, of which kind and size, and when they may be cleaned.

use super::layout::{Layout, share};
use super::{Figures, windows};
use rand::RngExt;
use rand::seq::{IndexedRandom, SliceRandom};
use rand_pcg::Pcg64Mcg;
use std::fmt::Write;

/// A room as its row in the table and its place on a hall.
#[derive(Debug)]
pub(super) struct Room {
    pub(super) id: String,
    pub(super) kind: &'static str,
    pub(super) hall: usize,
    pub(super) along: f64,
    pub(super) side: &'static str,
    area: u32,
    /// By the columns of [`FIXTURES`].
    fixtures: [u32; FIXTURES.len()],
    hours: &'static str,
}

/// Columns of what is counted.
const FIXTURES: [&str; 9] = [
    "bowls",
    "urinals",
    "basins",
    "mirrors",
    "dispensers",
    "bins",
    "desks",
    "sinks",
    "glass_panels",
];

/// Kinds that fill the halls, by how common they are; they add up to 100.
const ORDINARY: [(&str, u32); 6] = [
    ("office", 45),
    ("classroom", 22),
    ("meeting-room", 10),
    ("storage", 9),
    ("lab", 8),
    ("break-room", 6),
];

/// Restrooms, in the halls' order: women's and men's in pairs.
pub(super) const WOMEN: &str = "women's";
/// See [`WOMEN`].
pub(super) const MEN: &str = "men's";

/// All rooms, hall by hall.
pub(super) fn rooms(figures: Figures, layout: &Layout, rng: &mut Pcg64Mcg) -> Vec<Room> {
    let mut rooms: Vec<Room> = layout
        .all_halls()
        .flat_map(|hall| on_hall(figures, layout, hall, rng))
        .collect();
    let mut order: Vec<usize> = (0..rooms.len()).collect();
    order.shuffle(rng);
    let (short, rest) = order.split_at(rooms.len() * 2 / 5);
    for room in short {
        rooms[*room].hours = windows::short(figures.plain, rng);
    }
    for room in rest {
        rooms[*room].hours = windows::long(rng);
    }
    rooms
}

fn on_hall(figures: Figures, layout: &Layout, hall: usize, rng: &mut Pcg64Mcg) -> Vec<Room> {
    let mut kinds = vec![corridor(layout.floor(hall))];
    let on_floor = hall % layout.halls;
    let has_storey_above = layout.floor(hall) + 1 < layout.floors;
    // Stairs are one room for each storey, at the door of the lower floor.
    kinds.extend((has_storey_above && on_floor == 0).then_some("stairs first"));
    kinds.extend((has_storey_above && on_floor + 1 == layout.halls).then_some("stairs last"));
    kinds.extend((hall == 0).then_some("lobby"));
    let pairs = (figures.rooms / 20).max(1);
    for _ in 0..share(pairs, hall, layout.all_halls().len()) {
        kinds.extend([WOMEN, MEN]);
    }
    let slots = layout.slots(hall);
    while kinds.len() < slots {
        let (kind, _) = ORDINARY
            .choose_weighted(rng, |(_, weight)| *weight)
            .unwrap_or(&ORDINARY[0]);
        kinds.push(kind);
    }
    // Corridor and stairs keep their places; the others lie along the hall as chance has it.
    let fixed = kinds
        .iter()
        .take_while(|k| k.contains("corridor") || k.contains("stairs"))
        .count();
    kinds[fixed..].shuffle(rng);
    kinds
        .into_iter()
        .enumerate()
        .map(|(slot, kind)| room(layout, hall, slot, kind, rng))
        .collect()
}

/// Every second floor is scrubbed by machine, the others mopped.
fn corridor(floor: usize) -> &'static str {
    if floor.is_multiple_of(2) {
        "main-corridor"
    } else {
        "corridor"
    }
}

fn room(
    layout: &Layout,
    hall: usize,
    slot: usize,
    wanted: &'static str,
    rng: &mut Pcg64Mcg,
) -> Room {
    let door = (Layout::along(slot) + rng.random_range(0.0..3.0)).min(layout.length);
    let side = if slot.is_multiple_of(2) {
        "left"
    } else {
        "right"
    };
    let number = format!("{}.{slot:02}", layout.id(hall));
    let (id, kind, along, side) = match wanted {
        "corridor" | "main-corridor" => (
            format!("corridor {}", layout.id(hall)),
            wanted,
            layout.length / 2.0,
            "ahead",
        ),
        "stairs first" => (
            format!("first stairs {}", layout.floor(hall)),
            "stairs",
            0.5,
            "left",
        ),
        "stairs last" => (
            format!("last stairs {}", layout.floor(hall)),
            "stairs",
            layout.length - 0.5,
            "left",
        ),
        "lobby" => ("lobby".to_string(), wanted, door, side),
        WOMEN | MEN => (format!("{wanted} {number}"), "restroom", door, side),
        _ => (number, wanted, door, side),
    };
    let (area, fixtures) = size(wanted, layout.length, rng);
    Room {
        id,
        kind,
        hall,
        along,
        side,
        area,
        fixtures,
        hours: "",
    }
}

/// Floor area and fixtures, in the order of [`FIXTURES`].
fn size(kind: &str, hall: f64, rng: &mut Pcg64Mcg) -> (u32, [u32; FIXTURES.len()]) {
    match kind {
        WOMEN => {
            let bowls = rng.random_range(2..=4);
            (8 + 4 * bowls, [bowls, 0, bowls, 2, bowls + 2, 2, 0, 0, 0])
        }
        MEN => {
            let each = rng.random_range(1..=3);
            (
                10 + 5 * each,
                [each, each, each + 1, 1, each + 2, 1, 0, 0, 0],
            )
        }
        "corridor" | "main-corridor" => ((hall * 1.8) as u32, [0, 0, 0, 0, 0, 1, 0, 0, 2]),
        "stairs first" | "stairs last" => (rng.random_range(22..=28), [0; FIXTURES.len()]),
        "lobby" => (140, [0, 0, 0, 0, 0, 3, 0, 0, 6]),
        "classroom" => {
            let desks = rng.random_range(8..=15);
            (20 + 3 * desks, [0, 0, 0, 0, 0, 2, desks, 0, 1])
        }
        "meeting-room" => (rng.random_range(16..=45), [0, 0, 0, 0, 0, 1, 2, 0, 1]),
        "lab" => (
            rng.random_range(50..=90),
            [0, 0, 0, 0, 2, 2, rng.random_range(4..=8), 2, 0],
        ),
        "break-room" => (rng.random_range(18..=40), [0, 0, 0, 0, 2, 2, 3, 1, 0]),
        "storage" => (rng.random_range(12..=40), [0; FIXTURES.len()]),
        _ => {
            // In nearly half of the offices people carry their own waste to the corridor, so that no cart is needed.
            let desks = rng.random_range(1..=6);
            let bins = if rng.random_bool(0.45) { 0 } else { desks };
            (8 + 5 * desks, [0, 0, 0, 0, 0, bins, desks, 0, 0])
        }
    }
}

/// The table of rooms.
pub(super) fn table(figures: Figures, rooms: &[Room]) -> String {
    let mut text = format!(
        "id,kind,area_m2,{},open,closure,needs\n",
        FIXTURES.join(",")
    );
    for room in rooms {
        let closes = room.kind == "restroom" && !figures.plain;
        let (open, closure) = if closes {
            ("", room.hours)
        } else {
            (room.hours, "")
        };
        let needs = if room.kind == "lab" && !figures.plain {
            "lab clearance"
        } else {
            ""
        };
        let fixtures = room.fixtures.map(|count| match count {
            0 => String::new(),
            count => count.to_string(),
        });
        let fixtures = fixtures.join(",");
        let _ = writeln!(
            text,
            "{},{},{},{fixtures},{open},{closure},{needs}",
            room.id, room.kind, room.area
        );
    }
    text
}
