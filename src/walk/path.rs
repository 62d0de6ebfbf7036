//! One walk spelled out: its legs, and the words for them.

use super::Walker;
use crate::site::{HallId, PlaceId, Site};
use crate::units::{Metres, Seconds};

/// One leg of a walk.
#[derive(Clone, Debug, PartialEq)]
pub enum Leg {
    /// Along a hall, from one distance to another.
    Hall {
        /// Which hall.
        hall: HallId,
        /// From this distance along it.
        from: Metres,
        /// To this one.
        to: Metres,
    },
    /// By stairs, lift, ramp, link or outdoors, between two of its landings.
    Way {
        /// Index of the way in the site's list.
        way: usize,
        /// Index of the landing entered.
        from: usize,
        /// Index of the landing left.
        to: usize,
    },
}

/// A walk from one place to another.
#[derive(Clone, Debug, PartialEq)]
pub struct Path {
    /// Its legs in order; legs of no length are left out.
    pub legs: Vec<Leg>,
    /// Its time, rounded up once.
    pub time: Seconds,
    /// How far on the level, stairs and lifts not counted.
    pub distance: Metres,
}

/// The shortest walk; `None` if this walker cannot get there.
pub fn path(_site: &Site, _walker: &Walker, _from: PlaceId, _to: PlaceId) -> Option<Path> {
    todo!()
}

/// The walk in words: "left along 2-East 18 m, lift to G, right along G-East 6 m".
pub fn directions(_site: &Site, _path: &Path) -> String {
    todo!()
}
