//! Floors, closets and places.

use super::Names;
use super::doors::{door, room_door};
use super::halls::Spots;
use super::values::{Measure, name_or_id, texts};
use crate::input::at::At;
use crate::input::gather::Written;
use crate::input::log::Log;
use crate::input::raw::{RawCloset, RawDoor, RawFloor};
use crate::site::{Closet, Door, Floor, HallId, Place, Side, Spot};
use crate::units::Metres;

/// Height of a storey: from a crawl space to a hall of a power station.
const HEIGHT: Measure = Measure::length("height_m", "height_ft", 1.0, 60.0);
/// Metres from floor to floor if not given: an office storey (assumption).
const USUAL_HEIGHT: f64 = 3.5;

/// Storeys with their elevations.
pub(super) fn floors(raw: &[RawFloor], log: &Log) -> Vec<Floor> {
    let mut elevation = 0.0;
    let mut floors = Vec::with_capacity(raw.len());
    for floor in raw {
        floors.push(Floor {
            id: floor.id.value.trim().to_string(),
            elevation: Metres(elevation),
        });
        elevation += HEIGHT
            .read(log, floor.height_m.as_ref(), floor.height_ft.as_ref())
            .unwrap_or(USUAL_HEIGHT);
    }
    floors
}

/// Closets in order.
pub(super) fn closets(raw: &[RawCloset], log: &Log) -> Vec<Closet> {
    let closet = |c: &RawCloset| Closet {
        fill_point: c.fill_point.unwrap_or(false),
        waste_point: c.waste_point.unwrap_or(false),
        supplies: texts(log, "supply", &c.supplies),
    };
    raw.iter().map(closet).collect()
}

/// Everything that can be walked to: rooms, closets, other places. Each must be on a hall.
pub(super) fn places(written: &Written, spots: &Spots, names: &Names, log: &Log) -> Vec<Place> {
    let own_door = |raw: &Option<RawDoor>| raw.as_ref().map(|d| door(d, names, log));
    let mut places = Vec::with_capacity(names.places.len());
    let mut add = |id: &At<String>,
                   name: Option<&At<String>>,
                   door: Option<Door>,
                   break_place: Option<bool>| {
        let spot = spots.get(&places.len()).map_or_else(
            || {
                // Of two with one id, the first is where halls put it.
                if names.places.number(&id.value) == Some(places.len()) {
                    on_no_hall(log, id);
                }
                Spot {
                    hall: HallId(0),
                    along: Metres(0.0),
                    side: Side::Ahead,
                }
            },
            |(spot, _)| *spot,
        );
        let name = name_or_id(log, name, id);
        let break_place = break_place.unwrap_or(false);
        places.push(Place {
            id: id.value.trim().to_string(),
            name,
            spot,
            door,
            break_place,
        });
    };
    for room in &written.rooms {
        add(
            &room.id,
            room.name.as_ref(),
            room_door(room, names, log),
            room.break_place,
        );
    }
    for closet in &written.site.closets {
        add(
            &closet.id,
            closet.name.as_ref(),
            own_door(&closet.door),
            closet.break_place,
        );
    }
    for place in &written.site.places {
        add(
            &place.id,
            place.name.as_ref(),
            own_door(&place.door),
            place.break_place,
        );
    }
    places
}

fn on_no_hall(log: &Log, id: &At<String>) {
    if id.sound {
        let message = format!("`{}` is on no hall", id.value);
        log.error(
            "E401",
            id.pos,
            message,
            "add it to the `places` or `places_at` of its hall",
        );
    }
}

/// A site has at least a floor, a hall, a room and a worker.
pub(super) fn something_there(written: &Written, log: &Log) {
    let raw = &written.site;
    let lists = [
        ("floors", raw.floors.is_empty(), raw.site.pos),
        ("halls", raw.halls.is_empty(), raw.site.pos),
        (
            "rooms",
            written.rooms.is_empty() && raw.rooms.sound,
            raw.rooms.pos,
        ),
    ];
    for (what, _, pos) in lists.into_iter().filter(|(_, empty, _)| *empty) {
        log.error(
            "E407",
            pos,
            format!("the site has no {what}"),
            format!("list its {what} under `{what}`"),
        );
    }
    if written.crew.is_empty() && raw.crew.sound {
        log.error(
            "E601",
            raw.crew.pos,
            "the crew is empty".to_string(),
            "list at least one worker under `crew`",
        );
    }
}
