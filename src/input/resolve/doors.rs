//! Doors: of a place, of a way, or across a hall.

use super::Names;
use super::values::{Measure, seconds};
use super::words;
use crate::input::at::At;
use crate::input::log::Log;
use crate::input::raw::{RawDoor, RawHallDoor, RawRoom};
use crate::site::Door;
use crate::units::Metres;

/// Clear width: from a cupboard's to a loading bay's.
const WIDTH: Measure = Measure::width("width_m", "width_in", 0.3, 20.0);

/// What a door is written with, wherever it is written.
struct Given<'a> {
    width_m: Option<&'a At<f64>>,
    width_in: Option<&'a At<f64>>,
    needs: &'a [At<String>],
    extra_s: Option<&'a At<f64>>,
    hours: Option<&'a At<String>>,
}

/// The door of a place or a way.
pub(super) fn door(raw: &RawDoor, names: &Names, log: &Log) -> Door {
    let RawDoor {
        width_m,
        width_in,
        needs,
        extra_s,
        hours,
    } = raw;
    let (width_m, width_in, extra_s) = (width_m.as_ref(), width_in.as_ref(), extra_s.as_ref());
    read(
        &Given {
            width_m,
            width_in,
            needs,
            extra_s,
            hours: hours.as_ref(),
        },
        names,
        log,
    )
}

/// A door across a hall; where it stands is read with the hall.
pub(super) fn hall_door(raw: &RawHallDoor, names: &Names, log: &Log) -> Door {
    let RawHallDoor {
        width_m,
        width_in,
        needs,
        extra_s,
        hours,
        ..
    } = raw;
    let (width_m, width_in, extra_s) = (width_m.as_ref(), width_in.as_ref(), extra_s.as_ref());
    read(
        &Given {
            width_m,
            width_in,
            needs,
            extra_s,
            hours: hours.as_ref(),
        },
        names,
        log,
    )
}

/// The door of a room, if anything is said about it.
pub(super) fn room_door(raw: &RawRoom, names: &Names, log: &Log) -> Option<Door> {
    let given = Given {
        width_m: raw.door_width_m.as_ref(),
        width_in: raw.door_width_in.as_ref(),
        needs: &raw.door_needs,
        extra_s: raw.door_extra_s.as_ref(),
        hours: raw.door_hours.as_ref(),
    };
    let door = read(&given, names, log);
    (door != Door::default()).then_some(door)
}

fn read(given: &Given<'_>, names: &Names, log: &Log) -> Door {
    Door {
        width: WIDTH.read(log, given.width_m, given.width_in).map(Metres),
        needs: names.access.find_all(given.needs, log),
        extra: seconds(log, "extra_s", given.extra_s, 0.0),
        hours: given.hours.and_then(|hours| daily(log, hours)),
    }
}

/// A door's hours are the same every day.
fn daily(log: &Log, given: &At<String>) -> Option<crate::site::DayHours> {
    let plain = given.value.trim();
    let without_daily = plain.strip_prefix("daily").unwrap_or(plain).trim();
    if without_daily.starts_with(|c: char| c.is_ascii_alphabetic()) {
        let message = "a door's hours are the same every day".to_string();
        log.error("E209", given.pos, message, "write them like `07:00-23:00`");
        return None;
    }
    let given = At {
        value: without_daily.to_string(),
        ..*given
    };
    words::span(log, &given, "E209")
}
