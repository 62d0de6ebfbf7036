//! A building as the formats tell it: rooms on storeys, doors between them, ways up. Nothing here knows of a format.

use crate::input::log::Pos;

/// A building.
#[derive(Clone, Debug, Default)]
pub(super) struct Building {
    /// Its name, if it has one.
    pub(super) name: Option<String>,
    /// Lowest first.
    pub(super) storeys: Vec<Storey>,
    pub(super) spaces: Vec<Space>,
    /// Pairs of spaces of one storey that one walks between, with the clear width of the door in metres, if known.
    pub(super) joins: Vec<(usize, usize, Option<f64>)>,
    /// Stairs and lifts.
    pub(super) risers: Vec<Riser>,
}

/// A storey.
#[derive(Clone, Debug, Default)]
pub(super) struct Storey {
    pub(super) name: String,
    /// Metres.
    pub(super) elevation: f64,
}

/// A room or a piece of corridor.
#[derive(Clone, Debug, Default)]
pub(super) struct Space {
    pub(super) id: String,
    pub(super) name: String,
    /// Index of its storey.
    pub(super) storey: usize,
    /// Square metres, if known.
    pub(super) area: Option<f64>,
    /// Where it is on the plan in metres, if known.
    pub(super) at: Option<(f64, f64)>,
    /// What it is said to be for.
    pub(super) usage: String,
    /// Whether a door leads out of the building.
    pub(super) leads_out: bool,
    pub(super) pos: Pos,
}

/// A way up.
#[derive(Clone, Debug, Default)]
pub(super) struct Riser {
    pub(super) name: String,
    pub(super) is_lift: bool,
    /// The spaces it is entered from, one for each storey it serves, if known.
    pub(super) spaces: Vec<usize>,
    /// The storeys it serves.
    pub(super) storeys: Vec<usize>,
}
