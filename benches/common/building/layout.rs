//! Where halls, ways and closets are: floors alike, halls side by side like the rungs of a ladder.

use super::Figures;
use super::rooms::Room;
use std::fmt::Write;

/// Most rooms on one hall.
const ROOMS_ON_A_HALL: usize = 26;
/// Metres of hall for two rooms that face each other.
const PITCH: f64 = 6.0;
/// Metres from hall to hall.
const BETWEEN_HALLS: usize = 24;

/// A floor plan. Hall `i` of the building is hall `i % halls` of floor `i / halls`.
#[derive(Debug)]
pub(super) struct Layout {
    pub(super) floors: usize,
    /// Halls on each floor.
    pub(super) halls: usize,
    /// Length of every hall.
    pub(super) length: f64,
    rooms: usize,
}

impl Layout {
    pub(super) fn new(figures: Figures) -> Layout {
        let halls = figures
            .rooms
            .div_ceil(figures.floors)
            .div_ceil(ROOMS_ON_A_HALL);
        let mut layout = Layout {
            floors: figures.floors,
            halls,
            length: 0.0,
            rooms: figures.rooms,
        };
        let most = layout.all_halls().map(|h| layout.slots(h)).max();
        layout.length = 6.0 + PITCH * most.unwrap_or(0).div_ceil(2) as f64;
        layout
    }

    pub(super) fn all_halls(&self) -> std::ops::Range<usize> {
        0..self.floors * self.halls
    }

    /// How many rooms are on a hall: as many everywhere, as far as that is possible.
    pub(super) fn slots(&self, hall: usize) -> usize {
        share(self.rooms, hall, self.all_halls().len())
    }

    pub(super) fn floor(&self, hall: usize) -> usize {
        hall / self.halls
    }

    pub(super) fn id(&self, hall: usize) -> String {
        format!("{}.{}", self.floor(hall), hall % self.halls)
    }

    /// Where a slot of a hall is along it, before anybody moved a door.
    pub(super) fn along(slot: usize) -> f64 {
        3.0 + PITCH * (slot / 2) as f64
    }

    /// The hall of a floor with closet, staff room and lift.
    fn middle(&self, floor: usize) -> usize {
        floor * self.halls + self.halls / 2
    }

    /// Floors, halls, ways, closets and places.
    pub(super) fn write(&self, rooms: &[Room]) -> String {
        let mut text = String::from("floors:\n");
        for floor in 0..self.floors {
            let _ = writeln!(text, "  - {{id: \"{floor}\", height_m: 3.6}}");
        }
        text += "halls:\n";
        for hall in self.all_halls() {
            self.write_hall(hall, rooms, &mut text);
        }
        self.write_ways(&mut text);
        self.write_closets(&mut text);
        text
    }

    fn write_hall(&self, hall: usize, rooms: &[Room], text: &mut String) {
        let (id, floor, length) = (self.id(hall), self.floor(hall), self.length);
        let y = hall % self.halls * BETWEEN_HALLS;
        let _ = write!(
            text,
            "  - id: \"{id}\"\n    floor: \"{floor}\"\n    line_m: [[0, {y}], [{length}, {y}]]\n    \
             doors:\n      - {{m: {:.1}, width_m: 1.4, extra_s: 2}}\n    places_at:\n",
            length * 0.4
        );
        let mut place = |id: &str, along: f64, side: &str| {
            let _ = writeln!(
                text,
                "      - {{place: \"{id}\", m: {along:.1}, side: {side}}}"
            );
        };
        for room in rooms.iter().filter(|room| room.hall == hall) {
            place(&room.id, room.along, room.side);
        }
        if hall == 0 {
            place("crew base", 1.0, "right");
        }
        if hall + 1 == self.halls {
            place("loading bay", length - 1.0, "right");
        }
        if hall == self.middle(floor) {
            place(&format!("closet {floor}"), length / 2.0 + 2.0, "right");
            if floor % 2 == 0 {
                place(&format!("staff room {floor}"), length / 2.0 - 2.0, "left");
            }
        }
    }

    fn write_ways(&self, text: &mut String) {
        let landings = |hall: usize, at: &str| {
            let all = (0..self.floors)
                .map(|floor| format!("\"{}@{at}\"", self.id(floor * self.halls + hall)));
            all.collect::<Vec<_>>().join(", ")
        };
        if self.floors > 1 {
            text.push_str("stairs:\n");
            let mut stairs = vec![("first", 0, "start"), ("last", self.halls - 1, "end")];
            if self.halls > 3 {
                stairs.push(("middle", self.halls / 2, "start"));
            }
            for (name, hall, at) in stairs {
                let _ = writeln!(
                    text,
                    "  - {{id: {name} stairs, landings: [{}], rise_m: 0.17, tread_m: 0.28}}",
                    landings(hall, at)
                );
            }
            text.push_str("lifts:\n");
            let lifts = self.halls.div_ceil(4);
            for lift in 0..lifts {
                let hall = (2 * lift + 1) * self.halls / (2 * lifts);
                let _ = writeln!(
                    text,
                    "  - {{id: lift {lift}, landings: [{}], wait_s: 20, per_floor_s: 5, boarding_s: 8, door: {{width_m: 0.9}}}}",
                    landings(hall, &format!("{:.1}", self.length / 2.0))
                );
            }
        }
        if self.halls > 1 {
            text.push_str("links:\n");
        }
        for hall in self
            .all_halls()
            .filter(|hall| hall % self.halls + 1 < self.halls)
        {
            for end in ["start", "end"] {
                let (here, there) = (self.id(hall), self.id(hall + 1));
                let _ = writeln!(
                    text,
                    "  - {{id: {here} to {there} at the {end}, landings: [\"{here}@{end}\", \"{there}@{end}\"], length_m: {BETWEEN_HALLS}}}"
                );
            }
        }
    }

    fn write_closets(&self, text: &mut String) {
        text.push_str("closets:\n");
        for floor in 0..self.floors {
            let _ = writeln!(
                text,
                "  - {{id: closet {floor}, fill_point: {}, waste_point: true}}",
                floor % 2 == 0
            );
        }
        text.push_str("places:\n  - {id: crew base}\n  - {id: loading bay}\n");
        for floor in (0..self.floors).step_by(2) {
            let _ = writeln!(text, "  - {{id: staff room {floor}, break_place: true}}");
        }
    }
}

/// The `part`-th of so many parts of a whole, which differ by one at most.
pub(super) fn share(whole: usize, part: usize, parts: usize) -> usize {
    (part + 1) * whole / parts - part * whole / parts
}
