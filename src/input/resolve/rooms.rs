//! Rooms: kind, size, fixtures, hours, and who may do them.

use super::Names;
use super::tasks::priority;
use super::values::{Measure, count, name_or_id, text};
use super::words::hours;
use crate::input::at::At;
use crate::input::log::Log;
use crate::input::raw::RawRoom;
use crate::site::{Fixture, KindId, Room, RoomKind};
use crate::units::SquareMetres;
use std::collections::BTreeMap;

/// Floor area: up to a large hangar's.
const AREA: Measure = Measure::area("area_m2", "area_sqft", 0.0, 100_000.0);
/// Most of one fixture, and most people, in one room.
const MOST: u32 = 100_000;

/// Rooms in order.
pub(super) fn rooms(raw: &[RawRoom], kinds: &[RoomKind], names: &Names, log: &Log) -> Vec<Room> {
    raw.iter()
        .map(|room| read(room, kinds, names, log))
        .collect()
}

fn read(raw: &RawRoom, kinds: &[RoomKind], names: &Names, log: &Log) -> Room {
    let kind = names.kinds.find(&raw.kind, log);
    Room {
        id: raw.id.value.trim().to_string(),
        name: name_or_id(log, raw.name.as_ref(), &raw.id),
        kind: KindId::from(kind.unwrap_or(0)),
        area: SquareMetres(AREA.required(
            log,
            raw.area_m2.as_ref(),
            raw.area_sqft.as_ref(),
            raw.id.pos,
        )),
        finish: raw
            .finish
            .as_ref()
            .map(|f| text(log, "finish", f))
            .unwrap_or_default(),
        fixtures: fixtures(raw, log),
        occupants: count(log, "occupants", raw.occupants.as_ref(), 0..=MOST, 0),
        open: hours(log, raw.open.as_ref()),
        closure: hours(log, raw.closure.as_ref()),
        needs: names.access.find_all(&raw.needs, log),
        prefer: names.workers.find_all(&raw.prefer, log),
        only: names.workers.find_all(&raw.only, log),
        never: names.workers.find_all(&raw.never, log),
        priority: raw.priority.map(priority),
        skip: skipped(&raw.skip, kind.and_then(|k| kinds.get(k)), log),
    }
}

fn fixtures(raw: &RawRoom, log: &Log) -> BTreeMap<Fixture, u32> {
    let given = [
        (Fixture::Bowl, &raw.bowls),
        (Fixture::Urinal, &raw.urinals),
        (Fixture::Basin, &raw.basins),
        (Fixture::Mirror, &raw.mirrors),
        (Fixture::Dispenser, &raw.dispensers),
        (Fixture::Shower, &raw.showers),
        (Fixture::Bin, &raw.bins),
        (Fixture::Desk, &raw.desks),
        (Fixture::Sink, &raw.sinks),
        (Fixture::Glass, &raw.glass_panels),
        (Fixture::Couch, &raw.couches),
    ];
    let counted =
        given.map(|(fixture, n)| (fixture, count(log, fixture.word(), n.as_ref(), 0..=MOST, 0)));
    counted.into_iter().filter(|(_, n)| *n > 0).collect()
}

fn skipped(raw: &[At<String>], kind: Option<&RoomKind>, log: &Log) -> Vec<String> {
    let Some(kind) = kind else { return Vec::new() };
    let known: Vec<&str> = kind.tasks.iter().map(|t| t.name.as_str()).collect();
    for name in raw
        .iter()
        .filter(|n| n.sound && !known.contains(&n.value.trim()))
    {
        let message = format!("room kind `{}` has no task `{}`", kind.id, name.value);
        log.error("E312", name.pos, message, log.near(&name.value, &known));
    }
    raw.iter()
        .map(|name| name.value.trim().to_string())
        .collect()
}
