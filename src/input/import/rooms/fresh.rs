//! A new site around imported rooms: floors, halls, ways, a closet and a crew are guessed, so that it can be planned at once, and marked
//! as guesses, so that nobody takes them for known.

use super::floors::{natural, order};
use super::place::{Spot, halls, spot};
use super::rows::{Found, Rooms};
use crate::input::draft::{Closet, Draft, Floor, Hall, HallForm, Place, Way};
use crate::input::log::Log;
use std::collections::BTreeMap;

/// Where runs begin.
const ENTRANCE: &str = "entrance";
/// Metres between two buildings, if nothing is known (assumption).
const BETWEEN_BUILDINGS: f64 = 40.0;
/// Rooms named in one message.
const NAMED: usize = 8;

/// The closet of a site whose list of rooms has none.
const CLOSET: &str = "closet";

/// The site, but for its crew.
pub(crate) fn draft(name: &str, source: &str, us_units: bool, rooms: &Rooms, log: &Log) -> Draft {
    let mut spots = spots(rooms.found.iter().chain(&rooms.closets), log);
    let ground = ground(&spots);
    let mut places: BTreeMap<Spot, Vec<&Found>> = BTreeMap::new();
    for room in rooms.found.iter().chain(&rooms.closets) {
        let spot = spots
            .remove(room.id.as_str())
            .unwrap_or_else(|| ground.clone());
        places.entry(spot).or_default().push(room);
    }
    let mut halls = halls(&places);
    let mut first = vec![ENTRANCE.to_string()];
    first.extend(rooms.closets.is_empty().then(|| CLOSET.to_string()));
    put_first(&mut halls, &ground, first);
    let several = halls.iter().any(|h| h.floor != ground.floor);
    let up = |what: &str| {
        if several {
            ways(what, "start", &halls)
        } else {
            Vec::new()
        }
    };
    let is_restroom = |r: &&Found| r.cells.get("kind").is_some_and(|k| k == "restroom");
    Draft {
        name: name.to_string(),
        us_units,
        notes: notes(source, several),
        floors: floors(&halls),
        stairs: up("Stairs"),
        lifts: up("Lift"),
        outdoor: outdoor(&halls, &ground),
        halls,
        closets: closets(rooms),
        places: vec![Place {
            id: ENTRANCE.to_string(),
            name: "Main entrance".to_string(),
            guessed: true,
        }],
        group: rooms
            .found
            .iter()
            .filter(is_restroom)
            .map(|r| r.id.clone())
            .collect(),
        ..Draft::default()
    }
}

fn closets(rooms: &Rooms) -> Vec<Closet> {
    let usual = || "Custodial closet".to_string();
    if rooms.closets.is_empty() {
        return vec![Closet {
            id: CLOSET.to_string(),
            name: usual(),
            guessed: true,
        }];
    }
    let closet = |c: &Found| Closet {
        id: c.id.clone(),
        name: c.cells.get("name").cloned().unwrap_or_else(usual),
        guessed: true,
    };
    rooms.closets.iter().map(closet).collect()
}

fn notes(source: &str, several: bool) -> Vec<String> {
    let mut notes = vec![
        format!("Made from {source}. What is marked `guessed` is not known: look at it, put it right, and take the mark away."),
        "First of all: the order of doors along the halls, where the entrance and the closets are, and who is there when.".to_string(),
    ];
    if several {
        notes.push("Stairs and a lift are taken to be at the start of every hall. Without a lift carts stay on their floor: take it out then.".to_string());
    }
    notes
        .push("Run `evenrun check` after each change: it lists every mistake at once.".to_string());
    notes
}

/// Where each room is; those of which nothing tells are told once and left to the ground floor.
fn spots<'a>(rooms: impl Iterator<Item = &'a Found>, log: &Log) -> BTreeMap<&'a str, Spot> {
    let mut spots = BTreeMap::new();
    let mut unknown: Vec<&Found> = Vec::new();
    for room in rooms {
        match spot(room) {
            Some(spot) => {
                spots.insert(room.id.as_str(), spot);
            }
            None => unknown.push(room),
        }
    }
    if let Some(first) = unknown.first() {
        let named: Vec<String> = unknown
            .iter()
            .take(NAMED)
            .map(|r| format!("`{}`", r.id))
            .collect();
        let more = unknown.len().saturating_sub(NAMED);
        let more = if more > 0 {
            format!(" and {more} more")
        } else {
            String::new()
        };
        let message = format!(
            "nothing tells the floor of {}{more}: the lowest is taken",
            named.join(", ")
        );
        log.warning("I905", first.pos, message, "add a column `Floor`");
    }
    spots
}

/// The floor people come in on: G, else 0, else 1, else the lowest; of the building with the most rooms there.
fn ground(spots: &BTreeMap<&str, Spot>) -> Spot {
    let mut counts: BTreeMap<&Spot, usize> = BTreeMap::new();
    for spot in spots.values() {
        *counts.entry(spot).or_default() += 1;
    }
    let on = |floor: &str| {
        let there = counts.iter().filter(|(s, _)| s.floor == floor);
        there.max_by_key(|(_, n)| **n).map(|(s, _)| (*s).clone())
    };
    let lowest = || {
        counts
            .keys()
            .min_by(|a, b| order(&a.floor, &b.floor))
            .map(|s| (*s).clone())
    };
    let usual = ["G", "0", "1"].into_iter().find_map(on);
    usual.or_else(lowest).unwrap_or_else(|| Spot {
        building: String::new(),
        floor: "G".to_string(),
    })
}

fn put_first(halls: &mut [Hall], ground: &Spot, mut first: Vec<String>) {
    let id = if ground.building.is_empty() {
        format!("Hall {}", ground.floor)
    } else {
        format!("Hall {} {}", ground.building, ground.floor)
    };
    if let Some(HallForm::Listed { places, .. }) =
        halls.iter_mut().find(|h| h.id == id).map(|h| &mut h.form)
    {
        first.append(places);
        *places = first;
    }
}

fn floors(halls: &[Hall]) -> Vec<Floor> {
    let mut ids: Vec<String> = halls.iter().map(|h| h.floor.clone()).collect();
    ids.sort_by(|a, b| order(a, b));
    ids.dedup();
    ids.into_iter()
        .map(|id| Floor {
            id,
            height_m: None,
            guessed: false,
        })
        .collect()
}

/// The building of a guessed hall: what stands between `Hall` and the floor.
fn building(hall: &Hall) -> String {
    let inner = hall
        .id
        .strip_prefix("Hall ")
        .and_then(|rest| rest.strip_suffix(hall.floor.as_str()));
    inner.unwrap_or_default().trim().to_string()
}

/// One way up in each building that has several floors.
fn ways(what: &str, at: &str, halls: &[Hall]) -> Vec<Way> {
    let mut by_building: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for hall in halls {
        by_building
            .entry(building(hall))
            .or_default()
            .push(format!("{}@{at}", hall.id));
    }
    let joined = by_building
        .into_iter()
        .filter(|(_, landings)| landings.len() > 1);
    joined
        .map(|(building, landings)| Way {
            id: format!("{what} {building}").trim().to_string(),
            landings,
            length_m: None,
            guessed: true,
        })
        .collect()
}

/// A way through the open from the ground floor to each other building, at its lowest hall.
fn outdoor(halls: &[Hall], ground: &Spot) -> Vec<Way> {
    let mut lowest: BTreeMap<String, &Hall> = BTreeMap::new();
    for hall in halls {
        // The floor that people come in on, where a building has it; halls are lowest first.
        let entry = lowest.entry(building(hall)).or_insert(hall);
        if hall.floor == ground.floor {
            *entry = hall;
        }
    }
    let Some(from) = lowest
        .get(&ground.building)
        .map(|h| format!("{}@start", h.id))
    else {
        return Vec::new();
    };
    let mut others: Vec<_> = lowest
        .iter()
        .filter(|(b, _)| **b != ground.building)
        .collect();
    others.sort_by(|a, b| natural(a.0, b.0));
    others
        .into_iter()
        .map(|(building, hall)| Way {
            id: format!("Way to {building}"),
            landings: vec![from.clone(), format!("{}@start", hall.id)],
            length_m: Some(BETWEEN_BUILDINGS),
            guessed: true,
        })
        .collect()
}
