//! A walk in words, for people who know the building: "left along 2-East 18 m, lift to G, along G-East 6 m to G12".
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
use crate::site::{Side, Site, WayKind};
use crate::units::Metres;

/// The walk in words: "left along 2-East 18 m, lift to G, right along G-East 6 m to G12". Metres are rounded to whole ones;
/// what rounds to none is left out. Staying is "stay".
///
/// Left and right are said where the site gives the side of the hall that the door or landing is on.
pub fn directions(site: &Site, path: &Path) -> String {
    if path.from == path.to {
        return "stay".to_string();
    }
    let sides = path.legs.iter().map(|leg| side_after(site, leg));
    let left_from = std::iter::once(site.places[path.from.index()].spot.side).chain(sides);
    let legs = path.legs.iter().zip(left_from);
    let words: Vec<String> = legs
        .filter_map(|(leg, facing)| in_words(site, leg, facing))
        .collect();
    let end = &site.places[path.to.index()].name;
    if words.is_empty() {
        return format!(
            "{}to {end}",
            if is_across(site, path) {
                "across the hall "
            } else {
                ""
            }
        );
    }
    format!("{} to {end}", words.join(", "))
}

/// The side of the hall one stands on after a leg, facing it.
fn side_after(site: &Site, leg: &Leg) -> Side {
    match leg {
        Leg::Hall { .. } => Side::Ahead,
        Leg::Way { way, to, .. } => site.ways[*way].landings[*to].side,
    }
}

fn in_words(site: &Site, leg: &Leg, facing: Side) -> Option<String> {
    match leg {
        Leg::Hall { hall, from, to } => {
            let length = whole(Metres((to.0 - from.0).abs()))?;
            let turn = turn(facing, to.0 > from.0);
            Some(format!(
                "{turn}along {} {length} m",
                site.halls[hall.index()].id
            ))
        }
        Leg::Way { way, from, to } => {
            let way = &site.ways[*way];
            let [before, hall] =
                [*from, *to].map(|landing| &site.halls[way.landings[landing].hall.index()]);
            let other_floor = before.floor != hall.floor;
            let end = if other_floor {
                &site.floors[hall.floor.index()].id
            } else {
                &hall.id
            };
            match way.kind {
                WayKind::Stairs { .. } | WayKind::Lift { .. } => {
                    Some(format!("{} to {end}", way.id))
                }
                _ => {
                    let length = whole(level_length(way, *from, *to))?;
                    Some(format!("{} {length} m to {end}", way.id))
                }
            }
        }
    }
}

/// Facing the hall from one of its sides, which way one turns to go on.
fn turn(side: Side, towards_end: bool) -> &'static str {
    match (side, towards_end) {
        (Side::Left, true) | (Side::Right, false) => "left ",
        (Side::Left, false) | (Side::Right, true) => "right ",
        (Side::Ahead, _) => "",
    }
}

fn whole(length: Metres) -> Option<u64> {
    let metres = length.0.round() as u64;
    (metres > 0).then_some(metres)
}

fn is_across(site: &Site, path: &Path) -> bool {
    let [from, to] = [path.from, path.to].map(|place| site.places[place.index()].spot);
    let sides = [from.side, to.side];
    from.hall == to.hall
        && (sides == [Side::Left, Side::Right] || sides == [Side::Right, Side::Left])
}
