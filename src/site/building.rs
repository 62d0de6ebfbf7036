//! Floors, halls, ways between them, doors and closets.

use super::{AccessId, DayHours, FloorId, HallId};
use crate::units::{Metres, Seconds};

/// A storey.
#[derive(Clone, Debug)]
pub struct Floor {
    /// Its written id, such as `G` or `2`.
    pub id: String,
    /// Height of its floor above the lowest floor's.
    pub elevation: Metres,
}

/// A point of a floor plan, in metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Metres to the right (east if the plan is drawn north up).
    pub x: f64,
    /// Metres up the sheet (north if the plan is drawn north up).
    pub y: f64,
}

/// A corridor. Rooms open off it at a distance along it.
#[derive(Clone, Debug)]
pub struct Hall {
    /// Its written id, such as `2-East`.
    pub id: String,
    /// The floor it is on.
    pub floor: FloorId,
    /// How long it is.
    pub length: Metres,
    /// Its shape on the floor plan, if the site gives one; its length is then this line's.
    pub line: Option<Vec<Point>>,
    /// Doors across it, by distance along it: who walks past them passes them.
    pub doors: Vec<(Metres, Door)>,
}

/// Which side of a hall a door is on, seen walking from its start to its end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// On the left.
    Left,
    /// On the right.
    Right,
    /// At its end, or not said.
    Ahead,
}

/// A point of a hall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// The hall.
    pub hall: HallId,
    /// Distance from the hall's start.
    pub along: Metres,
    /// Which side of the hall.
    pub side: Side,
}

/// Something that can be walked to: a room, a closet, an entrance.
#[derive(Clone, Debug)]
pub struct Place {
    /// Its written id.
    pub id: String,
    /// What people call it.
    pub name: String,
    /// Where its door is.
    pub spot: Spot,
    /// Its door; `None` is an open doorway wide enough for a cart.
    pub door: Option<Door>,
    /// Whether breaks may be taken there.
    pub break_place: bool,
}

/// A door that may be too narrow, locked, slow, or shut at some hours.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Door {
    /// Clear width; `None` is wide enough for anything.
    pub width: Option<Metres>,
    /// Key or clearance without which it does not open; all are needed.
    pub needs: Vec<AccessId>,
    /// Extra time to pass, one way.
    pub extra: Seconds,
    /// When it is open to those without a key; `None` is always. A door whose hours do not cover a worker's whole shift
    /// is no way for that worker, unless it needs a key or clearance and the worker holds it.
    pub hours: Option<DayHours>,
}

/// A way between halls.
#[derive(Clone, Debug)]
pub struct Way {
    /// Its written id, such as `north stairs`.
    pub id: String,
    /// What it is.
    pub kind: WayKind,
    /// Where it can be entered and left. Stairs, ramps and links join neighbours of this list; a lift joins all.
    pub landings: Vec<Spot>,
    /// A door that every use passes.
    pub door: Option<Door>,
}

/// The kinds of way.
#[derive(Clone, Debug, PartialEq)]
pub enum WayKind {
    /// Stairs; never for a cart. `steps[i]` lie between landings `i` and `i + 1`; `rise` is the height of one step.
    Stairs {
        /// Number of steps of each flight.
        steps: Vec<u32>,
        /// Height of one step.
        rise: Metres,
        /// Depth of one step.
        tread: Metres,
    },
    /// A lift: expected wait, then seconds per floor travelled, plus boarding.
    Lift {
        /// Expected wait at a landing.
        wait: Seconds,
        /// Travel per floor.
        per_floor: Seconds,
        /// Doors, stepping in and out, once per ride.
        boarding: Seconds,
    },
    /// A ramp, walked at level speed; carts may use it.
    Ramp {
        /// Its length between neighbouring landings.
        length: Metres,
    },
    /// A level link between halls.
    Link {
        /// Its length between neighbouring landings; may be zero where halls meet.
        length: Metres,
    },
    /// A way through the open, between buildings.
    Outdoor {
        /// Its length between neighbouring landings.
        length: Metres,
    },
}

/// A custodial closet.
#[derive(Clone, Debug, Default)]
pub struct Closet {
    /// Whether it has a service sink where a bucket is filled and changed.
    pub fill_point: bool,
    /// Whether a cart may be emptied there.
    pub waste_point: bool,
    /// What is kept there, for the cards.
    pub supplies: Vec<String>,
}
