//! A walk as steps that can be said: along which hall, turning which way, by which stairs or lift.
//!
//! ```text
//!               room on the left
//!              +-----| v |------+       out of its door one faces the hall's right side:
//!   start ----------------------------> end      towards the end is left
//!              +-----| ^ |------+       out of this one, towards the end is right
//!               room on the right
//! ```

use super::path::{Leg, Path};
use super::ways::level_length;
use crate::site::{FloorId, HallId, Side, Site, WayKind};
use crate::units::Metres;

/// Which way one turns to go on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turn {
    /// To the left.
    Left,
    /// To the right.
    Right,
    /// Straight on, or not known.
    None,
}

/// One step of a walk.
#[derive(Clone, Debug, PartialEq)]
pub enum Step {
    /// Along a hall.
    Along {
        /// Which.
        hall: HallId,
        /// How far.
        length: Metres,
        /// Where to on entering it; known where the site gives the side that the door or landing is on.
        turn: Turn,
    },
    /// By a way to another hall.
    Way {
        /// Index of the way in the site's list.
        way: usize,
        /// The hall it leads to.
        to_hall: HallId,
        /// That hall's floor, if it is another one.
        to_floor: Option<FloorId>,
        /// How far on the level; `None` by stairs and lifts.
        length: Option<Metres>,
    },
}

/// The steps of a walk, in order.
pub fn steps(site: &Site, path: &Path) -> Vec<Step> {
    let sides = path.legs.iter().map(|leg| side_after(site, leg));
    let left_from = std::iter::once(site.places[path.from.index()].spot.side).chain(sides);
    let legs = path.legs.iter().zip(left_from);
    legs.map(|(leg, facing)| step(site, leg, facing)).collect()
}

/// The side of the hall one stands on after a leg, facing it.
fn side_after(site: &Site, leg: &Leg) -> Side {
    match leg {
        Leg::Hall { .. } => Side::Ahead,
        Leg::Way { way, to, .. } => site.ways[*way].landings[*to].side,
    }
}

fn step(site: &Site, leg: &Leg, facing: Side) -> Step {
    match leg {
        Leg::Hall { hall, from, to } => Step::Along {
            hall: *hall,
            length: Metres((to.0 - from.0).abs()),
            turn: turn(facing, to.0 > from.0),
        },
        Leg::Way {
            way: index,
            from,
            to,
        } => {
            let way = &site.ways[*index];
            let [left, entered] = [*from, *to].map(|landing| way.landings[landing].hall);
            let floor = |hall: HallId| site.halls[hall.index()].floor;
            let climbs = matches!(way.kind, WayKind::Stairs { .. } | WayKind::Lift { .. });
            Step::Way {
                way: *index,
                to_hall: entered,
                to_floor: (floor(left) != floor(entered)).then(|| floor(entered)),
                length: (!climbs).then(|| level_length(way, *from, *to)),
            }
        }
    }
}

/// Facing the hall from one of its sides, which way one turns to go on.
fn turn(side: Side, towards_end: bool) -> Turn {
    match (side, towards_end) {
        (Side::Left, true) | (Side::Right, false) => Turn::Left,
        (Side::Left, false) | (Side::Right, true) => Turn::Right,
        (Side::Ahead, _) => Turn::None,
    }
}

/// Whether a walk of no length leads from one side of a hall to the other.
pub fn is_across(site: &Site, path: &Path) -> bool {
    let [from, to] = [path.from, path.to].map(|place| site.places[place.index()].spot);
    let sides = [from.side, to.side];
    from.hall == to.hall
        && (sides == [Side::Left, Side::Right] || sides == [Side::Right, Side::Left])
}
