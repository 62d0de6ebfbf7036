//! A site about to be written for the first time: what is known of it, what was guessed, and the commented file that says which
//! is which. Importers and the guided start fill it in.

mod crew;
mod scalar;
mod text;

pub(crate) use crew::{crew_for, hands};
pub(crate) use scalar::scalar;
pub(crate) use text::hall_line;

/// A site about to be written.
#[derive(Clone, Debug, Default)]
pub(crate) struct Draft {
    /// What people call it.
    pub(crate) name: String,
    /// Whether reports show feet, gallons and a clock of twelve hours.
    pub(crate) us_units: bool,
    /// Lines of comment at the top: where it comes from and what to look at first.
    pub(crate) notes: Vec<String>,
    /// Lowest first.
    pub(crate) floors: Vec<Floor>,
    pub(crate) halls: Vec<Hall>,
    pub(crate) stairs: Vec<Way>,
    pub(crate) lifts: Vec<Way>,
    pub(crate) links: Vec<Way>,
    pub(crate) outdoor: Vec<Way>,
    pub(crate) closets: Vec<Closet>,
    pub(crate) places: Vec<Place>,
    /// Rooms in the site's own file; else they are in `rooms.csv`.
    pub(crate) rooms: Option<Vec<Room>>,
    pub(crate) crew: Vec<Hand>,
    /// Minutes of everybody's rest break, and its window.
    pub(crate) rest: Option<(u32, String)>,
    /// Rooms of which one at least stays open.
    pub(crate) group: Vec<String>,
}

/// A storey.
#[derive(Clone, Debug, Default)]
pub(crate) struct Floor {
    pub(crate) id: String,
    /// Metres to the next floor up.
    pub(crate) height_m: Option<f64>,
    pub(crate) guessed: bool,
}

/// A hall.
#[derive(Clone, Debug)]
pub(crate) struct Hall {
    pub(crate) id: String,
    pub(crate) floor: String,
    pub(crate) form: HallForm,
    pub(crate) guessed: bool,
}

/// What is known of a hall.
#[derive(Clone, Debug)]
pub(crate) enum HallForm {
    /// Its places in door order, and the metres from door to door.
    Listed { spacing_m: f64, places: Vec<String> },
    /// Its line on the floor plan in metres, and its places at metres along it.
    Drawn {
        line: Vec<(f64, f64)>,
        places: Vec<(String, f64)>,
    },
}

/// Stairs, a lift, or a way between halls.
#[derive(Clone, Debug, Default)]
pub(crate) struct Way {
    pub(crate) id: String,
    pub(crate) landings: Vec<String>,
    /// Metres; for links and ways through the open.
    pub(crate) length_m: Option<f64>,
    pub(crate) guessed: bool,
}

/// A custodial closet.
#[derive(Clone, Debug, Default)]
pub(crate) struct Closet {
    pub(crate) id: String,
    pub(crate) name: String,
    pub(crate) guessed: bool,
}

/// A place that is not cleaned.
#[derive(Clone, Debug, Default)]
pub(crate) struct Place {
    pub(crate) id: String,
    pub(crate) name: String,
    pub(crate) guessed: bool,
}

/// A room in the site's own file.
#[derive(Clone, Debug, Default)]
pub(crate) struct Room {
    pub(crate) id: String,
    /// Further keys and their values, as they are to be written.
    pub(crate) keys: Vec<(&'static str, String)>,
}

/// A member of the crew.
#[derive(Clone, Debug, Default)]
pub(crate) struct Hand {
    pub(crate) name: String,
    pub(crate) shift: String,
    pub(crate) start: String,
    pub(crate) guessed: bool,
}
