//! The split used today: a table with the columns `room` and `worker`, and `order` and `start` if there are any.
//!
//! A name that the site does not know is a problem. A room that is written for nobody, or for two workers, is none: it is
//! handed on as it is written, for the audit to tell.

use super::at::At;
use super::files::read_at;
use super::log::Log;
use super::problem::Problems;
use super::raw::RawOwned;
use super::resolve::clock;
use super::tree::{fields_of, read_as, read_csv};
use crate::site::{RoomId, Site, WorkerId};
use crate::units::Clock;
use crate::work::Split;
use std::path::Path;

/// A split that was read without an error.
#[derive(Clone, Debug, Default)]
pub struct SplitReading {
    /// Who owns what: the first of several.
    pub split: Split,
    /// Rooms that are written for a second worker, too: the room, who has it, who is written as well.
    pub twice: Vec<(RoomId, WorkerId, WorkerId)>,
    /// Every row of a room with its owner, in the order to work in: by `order`, then by `start`, then as written.
    pub rows: Vec<OwnedRow>,
    /// Whether any row has an order or a start.
    pub ordered: bool,
}

/// A row of a split.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OwnedRow {
    /// Whose.
    pub worker: WorkerId,
    /// Which room.
    pub room: RoomId,
    /// When they begin there, on the clock on the wall.
    pub start: Option<Clock>,
}

/// Reads a split of a site.
///
/// # Errors
/// Every problem of the file, in the order of lines.
pub fn read_split(path: &Path, site: &Site) -> Result<SplitReading, Problems> {
    let log = Log::default();
    let text = read_at(path, &log);
    let rows: Option<Vec<RawOwned>> = text.and_then(|text| {
        let node = read_csv(text.file, &text.text, fields_of::<RawOwned>(), &log);
        read_as(&node, &log)
    });
    let reading = resolve(&rows.unwrap_or_default(), site, &log);
    if log.errors() > 0 {
        return Err(Problems(log.into_problems()));
    }
    Ok(reading)
}

/// What a row is about.
enum Owned {
    Room(RoomId),
    Duty(usize),
}

fn resolve(rows: &[RawOwned], site: &Site, log: &Log) -> SplitReading {
    let mut reading = SplitReading {
        split: Split::of_nobody(site),
        ..SplitReading::default()
    };
    let mut keyed: Vec<(f64, i64, OwnedRow)> = Vec::new();
    for row in rows {
        let start = row.start.as_ref().and_then(|s| clock(log, s));
        let order = row.order.as_ref().map(|o| o.value);
        reading.ordered |= start.is_some() || order.is_some();
        let Some((owned, worker)) = named(row, site, log) else {
            continue;
        };
        match owned {
            Owned::Duty(duty) => {
                reading.split.duties[duty].get_or_insert(worker);
            }
            Owned::Room(room) => {
                let first = *reading.split.rooms[room.index()].get_or_insert(worker);
                if first != worker {
                    reading.twice.push((room, first, worker));
                    continue;
                }
                let row = OwnedRow {
                    worker,
                    room,
                    start,
                };
                let last = f64::INFINITY;
                keyed.push((order.unwrap_or(last), start.map_or(i64::MAX, |s| s.0), row));
            }
        }
    }
    // Stable: rows that say nothing of their order stay as they are written.
    keyed.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    reading.rows = keyed.into_iter().map(|(_, _, row)| row).collect();
    reading.twice.sort_unstable();
    reading.twice.dedup();
    reading
}

fn named(row: &RawOwned, site: &Site, log: &Log) -> Option<(Owned, WorkerId)> {
    let owned = row
        .room
        .sound
        .then(|| owned(&row.room, site, log))
        .flatten();
    let worker = row.worker.as_ref().filter(|w| w.sound);
    let worker = worker.and_then(|name| {
        let found = site.worker_named(name.value.trim());
        if found.is_none() {
            let crew: Vec<&str> = site.crew.iter().map(|w| w.name.as_str()).collect();
            let message = format!("there is no worker `{}`", name.value);
            log.error("E306", name.pos, message, log.near(&name.value, &crew));
        }
        found
    });
    owned.zip(worker)
}

fn owned(name: &At<String>, site: &Site, log: &Log) -> Option<Owned> {
    let id = name.value.trim();
    let duty = || site.duties.iter().position(|d| d.name == id);
    let found = (site.room_named(id).map(Owned::Room)).or_else(|| duty().map(Owned::Duty));
    if found.is_none() {
        let rooms: Vec<&str> = site.rooms.iter().map(|r| r.id.as_str()).collect();
        let message = format!("there is no room `{}`", name.value);
        log.error("E313", name.pos, message, log.near(&name.value, &rooms));
    }
    found
}
