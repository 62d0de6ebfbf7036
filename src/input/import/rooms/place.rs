//! Halls for rooms of which only number, floor and building are known: one on each floor of each building, doors in the order of the
//! numbers. That is a guess and is marked as one.

use super::floors::{natural, of_number, order};
use super::rows::Found;
use crate::input::draft::{Hall, HallForm};
use crate::units::SQUARE_METRES_PER_SQUARE_FOOT;
use std::collections::BTreeMap;

/// Where a room is thought to be.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Spot {
    /// Its building; empty if the site has one only.
    pub(crate) building: String,
    pub(crate) floor: String,
}

/// The spot of a room: as its columns say, or else as its number does. `None` if neither tells.
pub(crate) fn spot(room: &Found) -> Option<Spot> {
    let told = of_number(&room.id);
    let (building, floor) = match (&room.floor, told) {
        // Letters before a number may be the floor's own: `G101` on floor G.
        (Some(floor), told) => (
            told.and_then(|t| t.0)
                .filter(|b| !b.eq_ignore_ascii_case(floor)),
            floor.clone(),
        ),
        (None, Some((building, floor))) => (building, floor),
        (None, None) => return None,
    };
    // Letters before a number that has three digits may be a building, but only a column says so for sure; without one they count.
    let building = room.building.clone().or(building).unwrap_or_default();
    Some(Spot { building, floor })
}

/// A hall for each spot, lowest floor first, with its places in the order of their numbers.
pub(crate) fn halls(places: &BTreeMap<Spot, Vec<&Found>>) -> Vec<Hall> {
    let mut spots: Vec<_> = places.keys().collect();
    spots.sort_by(|a, b| order(&a.floor, &b.floor).then_with(|| natural(&a.building, &b.building)));
    spots
        .into_iter()
        .map(|spot| hall(spot, &places[spot]))
        .collect()
}

fn hall(spot: &Spot, rooms: &[&Found]) -> Hall {
    let mut ids: Vec<String> = rooms.iter().map(|r| r.id.clone()).collect();
    ids.sort_by(|a, b| natural(a, b));
    let building = if spot.building.is_empty() {
        String::new()
    } else {
        format!("{} ", spot.building)
    };
    Hall {
        id: format!("Hall {building}{}", spot.floor),
        floor: spot.floor.clone(),
        form: HallForm::Listed {
            spacing_m: spacing(rooms),
            places: ids,
        },
        guessed: true,
    }
}

/// Metres from door to door: square rooms of the middle size on both sides of the hall.
fn spacing(rooms: &[&Found]) -> f64 {
    const NARROWEST: f64 = 1.5;
    const WIDEST: f64 = 8.0;
    let mut areas: Vec<f64> = rooms.iter().filter_map(|r| area(r)).collect();
    areas.sort_by(f64::total_cmp);
    let middle = areas.get(areas.len() / 2).copied().unwrap_or(20.0);
    // To half a metre: more would look like a measurement.
    ((middle.sqrt() / 2.0) * 2.0)
        .round()
        .max(1.0)
        .mul_add(0.5, 0.0)
        .clamp(NARROWEST, WIDEST)
}

fn area(room: &Found) -> Option<f64> {
    let of = |key| {
        room.cells
            .get(key)
            .and_then(|a: &String| a.parse::<f64>().ok())
    };
    of("area_m2").or_else(|| of("area_sqft").map(|a| a * SQUARE_METRES_PER_SQUARE_FOOT))
}
