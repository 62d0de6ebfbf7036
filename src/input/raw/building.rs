//! Floors, halls, ways, closets and places as they are written.

use crate::input::at::At;
use schemars::JsonSchema;
use serde::Deserialize;

/// A storey.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawFloor {
    /// Its id, such as `G` or `2`.
    pub(crate) id: At<String>,
    /// Metres from its floor to the floor above; 3.5 if not given.
    pub(crate) height_m: Option<At<f64>>,
    /// The same in feet.
    pub(crate) height_ft: Option<At<f64>>,
}

/// A corridor: its places in door order, or drawn as a line with places along it.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawHall {
    /// Its id, such as `2-East`.
    pub(crate) id: At<String>,
    /// The floor it is on.
    pub(crate) floor: At<String>,
    /// Metres between neighbouring doors of `places`; 4 if not given.
    pub(crate) spacing_m: Option<At<f64>>,
    /// The same in feet.
    pub(crate) spacing_ft: Option<At<f64>>,
    /// Rooms, closets and places in door order; sides alternate, left first.
    #[serde(default)]
    pub(crate) places: Vec<At<String>>,
    /// The hall's line on the floor plan, as x and y in metres.
    #[serde(default)]
    pub(crate) line_m: Vec<At<[f64; 2]>>,
    /// The same in feet.
    #[serde(default)]
    pub(crate) line_ft: Vec<At<[f64; 2]>>,
    /// Its length, for a hall with `places_at` but without a line.
    pub(crate) length_m: Option<At<f64>>,
    /// The same in feet.
    pub(crate) length_ft: Option<At<f64>>,
    /// Rooms, closets and places at a distance along the hall.
    #[serde(default)]
    pub(crate) places_at: Vec<RawPlaceAt>,
    /// Doors across the hall.
    #[serde(default)]
    pub(crate) doors: Vec<RawHallDoor>,
}

/// A place at a distance along its hall.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawPlaceAt {
    /// The room, closet or place.
    pub(crate) place: At<String>,
    /// Metres from the hall's start.
    pub(crate) m: Option<At<f64>>,
    /// The same in feet.
    pub(crate) ft: Option<At<f64>>,
    /// The side its door is on, seen from the hall's start.
    pub(crate) side: Option<RawSideWord>,
}

/// Sides of a hall.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub(crate) enum RawSideWord {
    /// On the left.
    Left,
    /// On the right.
    Right,
    /// At its end.
    Ahead,
}

/// A door across a hall.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawHallDoor {
    /// Metres from the hall's start.
    pub(crate) m: Option<At<f64>>,
    /// The same in feet.
    pub(crate) ft: Option<At<f64>>,
    /// Clear width in metres.
    pub(crate) width_m: Option<At<f64>>,
    /// The same in inches.
    pub(crate) width_in: Option<At<f64>>,
    /// Keys and clearances without which it does not open.
    #[serde(default)]
    pub(crate) needs: Vec<At<String>>,
    /// Seconds to pass it, beyond the walk.
    pub(crate) extra_s: Option<At<f64>>,
    /// When it is open to those without a key, the same every day: `07:00-23:00`.
    pub(crate) hours: Option<At<String>>,
}

/// The door of a place or a way.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawDoor {
    /// Clear width in metres.
    pub(crate) width_m: Option<At<f64>>,
    /// The same in inches.
    pub(crate) width_in: Option<At<f64>>,
    /// Keys and clearances without which it does not open.
    #[serde(default)]
    pub(crate) needs: Vec<At<String>>,
    /// Seconds to pass it, beyond the walk.
    pub(crate) extra_s: Option<At<f64>>,
    /// When it is open to those without a key, the same every day: `07:00-23:00`.
    pub(crate) hours: Option<At<String>>,
}

/// Stairs.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawStairs {
    /// Its id, such as `north stairs`.
    pub(crate) id: At<String>,
    /// Where it can be entered and left, in order: `G-East@12`, `1-East@start`, `2-East@end`, `G-West@40ft`.
    #[serde(default)]
    pub(crate) landings: Vec<At<String>>,
    /// Number of steps of each flight: one number for all, or one per flight; worked out from the floors' heights if not given.
    #[serde(default)]
    pub(crate) steps: Vec<At<u32>>,
    /// Height of a step in metres; 0.17 if not given.
    pub(crate) rise_m: Option<At<f64>>,
    /// The same in inches.
    pub(crate) rise_in: Option<At<f64>>,
    /// Depth of a step in metres; 0.28 if not given.
    pub(crate) tread_m: Option<At<f64>>,
    /// The same in inches.
    pub(crate) tread_in: Option<At<f64>>,
    /// A door that every use passes.
    pub(crate) door: Option<RawDoor>,
}

/// A lift.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawLift {
    /// Its id.
    pub(crate) id: At<String>,
    /// Where it stops.
    #[serde(default)]
    pub(crate) landings: Vec<At<String>>,
    /// Seconds one waits for it, on average; 25 if not given.
    pub(crate) wait_s: Option<At<f64>>,
    /// Seconds per floor; 6 if not given.
    pub(crate) per_floor_s: Option<At<f64>>,
    /// Seconds for doors, stepping in and out; 8 if not given.
    pub(crate) boarding_s: Option<At<f64>>,
    /// A door that every use passes.
    pub(crate) door: Option<RawDoor>,
}

/// A ramp, a link or a way through the open.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawWay {
    /// Its id.
    pub(crate) id: At<String>,
    /// Where it can be entered and left, in order.
    #[serde(default)]
    pub(crate) landings: Vec<At<String>>,
    /// Metres between neighbouring landings.
    pub(crate) length_m: Option<At<f64>>,
    /// The same in feet.
    pub(crate) length_ft: Option<At<f64>>,
    /// A door that every use passes.
    pub(crate) door: Option<RawDoor>,
}

/// A custodial closet.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawCloset {
    /// Its id.
    pub(crate) id: At<String>,
    /// What people call it; the id if not given.
    pub(crate) name: Option<At<String>>,
    /// Whether buckets are filled and changed there.
    pub(crate) fill_point: Option<bool>,
    /// Whether carts are emptied there.
    pub(crate) waste_point: Option<bool>,
    /// Whether breaks may be taken there.
    pub(crate) break_place: Option<bool>,
    /// What is kept there.
    #[serde(default)]
    pub(crate) supplies: Vec<At<String>>,
    /// Its door.
    pub(crate) door: Option<RawDoor>,
}

/// A place that is not a room to clean.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawPlace {
    /// Its id.
    pub(crate) id: At<String>,
    /// What people call it; the id if not given.
    pub(crate) name: Option<At<String>>,
    /// Whether breaks may be taken there.
    pub(crate) break_place: Option<bool>,
    /// Its door.
    pub(crate) door: Option<RawDoor>,
}
