//! Rooms and what is in them.

use super::{AccessId, Hours, KindId, Priority, WorkerId};
use crate::units::SquareMetres;
use std::collections::BTreeMap;

/// Something in a room that is cleaned or served by the piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Fixture {
    /// A toilet bowl.
    Bowl,
    /// A urinal.
    Urinal,
    /// A wash basin.
    Basin,
    /// A mirror.
    Mirror,
    /// A soap, towel or paper dispenser.
    Dispenser,
    /// A shower.
    Shower,
    /// A waste bin.
    Bin,
    /// A desk or table.
    Desk,
    /// A sink other than a wash basin.
    Sink,
    /// A glazed door or panel.
    Glass,
    /// A couch or bed in a nurse room.
    Couch,
}

impl Fixture {
    /// All of them, with the words used in site files.
    pub const ALL: [(Fixture, &'static str); 11] = [
        (Fixture::Bowl, "bowls"),
        (Fixture::Urinal, "urinals"),
        (Fixture::Basin, "basins"),
        (Fixture::Mirror, "mirrors"),
        (Fixture::Dispenser, "dispensers"),
        (Fixture::Shower, "showers"),
        (Fixture::Bin, "bins"),
        (Fixture::Desk, "desks"),
        (Fixture::Sink, "sinks"),
        (Fixture::Glass, "glass_panels"),
        (Fixture::Couch, "couches"),
    ];

    /// The word used in site files.
    pub fn word(self) -> &'static str {
        Fixture::ALL
            .iter()
            .find(|(f, _)| *f == self)
            .map_or("", |(_, word)| word)
    }
}

/// A room.
#[derive(Clone, Debug, Default)]
pub struct Room {
    /// Its written id, such as `G12`.
    pub id: String,
    /// What people call it; the id if nothing better is known.
    pub name: String,
    /// What kind of room it is.
    pub kind: KindId,
    /// Floor area.
    pub area: SquareMetres,
    /// What the floor is made of, for the cards.
    pub finish: String,
    /// How many of each fixture.
    pub fixtures: BTreeMap<Fixture, u32>,
    /// How many people use it.
    pub occupants: u32,
    /// When it may be cleaned; `None` is always.
    pub open: Option<Hours>,
    /// When it may be closed to its users; `None` is always. Only kinds that are closed for cleaning look at it.
    pub closure: Option<Hours>,
    /// Keys and clearances needed to enter, beyond what its door needs.
    pub needs: Vec<AccessId>,
    /// Who should do it, if it costs nothing.
    pub prefer: Vec<WorkerId>,
    /// Who must do it: nobody else may. Empty is anyone.
    pub only: Vec<WorkerId>,
    /// Who must not do it.
    pub never: Vec<WorkerId>,
    /// All its work counts at least this much, if given.
    pub priority: Option<Priority>,
    /// Names of tasks of its kind that do not apply here.
    pub skip: Vec<String>,
}
