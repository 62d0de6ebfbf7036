//! Events of a room calendar into the hours in which rooms may be cleaned.
//!
//! ```text
//! .ics ──lines──> components ──busy──> times a room is in use ──places──> by room ──cut──> `open` of rooms.csv
//!                     └── zones, recurrences, exceptions
//! ```

mod busy;
mod component;
mod cut;
mod lines;
mod places;
mod recur;
mod time;
mod zone;

use super::rooms::{Change, Changes, Present, present_rooms};
use super::settle;
use super::table::whole;
use crate::input::files::{Instead, main_file, read_text};
use crate::input::limits;
use crate::input::log::Log;
use crate::input::{Problem, Problems, read_site_with};
use crate::site::Site;
use busy::{Busy, Reader};
use jiff::ToSpan;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use places::Places;
use recur::Effort;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use zone::Zones;

/// What is to be imported.
#[derive(Clone, Debug)]
pub struct EventsRequest<'a> {
    /// The calendar.
    pub file: &'a Path,
    /// The site: a folder or YAML file.
    pub site: &'a Path,
    /// A mapping file of locations.
    pub mapping: Option<&'a Path>,
    /// First day.
    pub from: Date,
    /// How many days.
    pub days: u16,
    /// Minutes before and after an event in which the room is not to be cleaned either.
    pub margin_min: u16,
    /// Whether dated hours that are there within these days are forgotten first.
    pub forget: bool,
}

/// What an import of events would do. Nothing is written yet.
#[derive(Clone, Debug, Default)]
pub struct EventsImport {
    /// First day and the day after the last.
    pub days: (Date, Date),
    /// How many times of events were found in rooms of the site.
    pub times: usize,
    /// How many events take no room: cancelled, or marked as free.
    pub free: usize,
    /// What changes in the site's table of rooms.
    pub changes: Changes,
    /// Locations that are no room of the site, each with how many times.
    pub unknown: Vec<(String, usize)>,
    /// Whole files to be written.
    pub files: Vec<(PathBuf, String)>,
    /// A mapping file for the unknown locations.
    pub mapping: String,
    /// Guesses and gaps.
    pub notes: Vec<Problem>,
    /// What `check` would say of the site then.
    pub after: Vec<Problem>,
}

/// Works out what an import of events would do, and writes nothing.
///
/// # Errors
///
/// Everything wrong with the calendar, or with the site it is to go into.
pub fn import_events(request: &EventsRequest<'_>) -> Result<EventsImport, Problems> {
    let log = Log::default();
    let main = main_file(request.site);
    // The site must be sound: its rooms and their hours are what events are put against.
    let site = read_site_with(&main, &Instead::new())?.site;
    let import = import(request, &main, &site, &log);
    settle(import, log, |import, notes| import.notes = notes)
}

fn import(
    request: &EventsRequest<'_>,
    main: &Path,
    site: &Site,
    log: &Log,
) -> Option<EventsImport> {
    let (path, mut present, crlf) = present_rooms(main, log)?;
    let text = read_text(request.file, limits::EVENTS_BYTES, log)?;
    let calendars =
        component::components(text.file, lines::lines(text.file, &text.text, log)?, log)?;
    let effort = Effort::default();
    let zones = Zones::of(&calendars, &effort, log);
    let home = home(site, &text.text, text.file, log);
    let days = i64::from(request.days).min(limits::EVENT_DAYS);
    let until = request.from.saturating_add(days.days());
    let reader = Reader {
        zones: &zones,
        home: home.as_ref(),
        from: request.from,
        until,
        log,
        effort: &effort,
    };
    let found = reader.read(&calendars).filter(|_| log.errors() == 0)?;
    let ids = present.ids();
    let rooms: Vec<(String, String)> = ids
        .iter()
        .map(|id| (id.clone(), name_of(site, id)))
        .collect();
    let mut places = Places::new(&rooms);
    if let Some(path) = request.mapping {
        places.map(path, &ids, log)?;
    }
    let (by_room, unknown) = placed(&found.busy, &places);
    tell_unknown(&unknown, log);
    let changes = cut_all(request, until, &by_room, &ids, &mut present);
    let files = if changes.changed.is_empty() {
        Vec::new()
    } else {
        vec![(path, present.csv(crlf))]
    };
    let instead: Instead = files.iter().cloned().collect();
    let after = match read_site_with(main, &instead) {
        Ok(reading) => reading.warnings,
        Err(problems) => problems.0,
    };
    let names: Vec<String> = unknown
        .keys()
        .filter(|l| !l.is_empty())
        .map(|l| (*l).to_string())
        .collect();
    Some(EventsImport {
        days: (request.from, until),
        times: by_room.values().map(Vec::len).sum(),
        free: found.free,
        changes,
        unknown: unknown
            .iter()
            .map(|(l, (n, _))| ((*l).to_string(), *n))
            .collect(),
        files,
        mapping: places::text(&names, &ids),
        notes: Vec::new(),
        after,
    })
}

/// Times by room, and by location for those that are no room: how many, and the first.
type Placed<'a> = (
    BTreeMap<usize, Vec<&'a Busy>>,
    BTreeMap<&'a str, (usize, &'a Busy)>,
);

fn placed<'a>(all: &'a [Busy], places: &Places) -> Placed<'a> {
    let mut by_room: BTreeMap<usize, Vec<&Busy>> = BTreeMap::new();
    let mut unknown: BTreeMap<&str, (usize, &Busy)> = BTreeMap::new();
    for busy in all {
        match places.rooms(&busy.location) {
            Some(rooms) => {
                for room in rooms.into_iter().collect::<BTreeSet<_>>() {
                    by_room.entry(room).or_default().push(busy);
                }
            }
            None => unknown.entry(busy.location.as_str()).or_insert((0, busy)).0 += 1,
        }
    }
    (by_room, unknown)
}

fn tell_unknown(unknown: &BTreeMap<&str, (usize, &Busy)>, log: &Log) {
    for (location, (count, first)) in unknown {
        let (called, hint) = if location.is_empty() {
            ("no location".to_string(), "")
        } else {
            let called = format!("the location `{location}`, which is no room");
            (
                called,
                "say which room is meant in a mapping file: `--map FILE`",
            )
        };
        log.warning(
            "I906",
            first.pos,
            format!("left out: {count} times of events with {called}"),
            hint,
        );
    }
}

/// Cuts the times out of the hours of every room.
fn cut_all(
    request: &EventsRequest<'_>,
    until: Date,
    by_room: &BTreeMap<usize, Vec<&Busy>>,
    ids: &[String],
    present: &mut Present,
) -> Changes {
    let margin = i64::from(request.margin_min) * 60;
    let mut changes = Changes::default();
    for (room, id) in ids.iter().enumerate() {
        let busy = by_room.get(&room).map(Vec::as_slice).unwrap_or_default();
        if busy.is_empty() && !request.forget {
            continue;
        }
        let before = present.get(room, "open");
        // The site was read: what stands there are hours.
        let cut = cut::cut(&before, busy, request.from, until, margin, request.forget);
        let Ok(Some(after)) = cut else { continue };
        present.set(room, "open", &after);
        changes.changed.push(Change {
            room: id.clone(),
            column: "open".to_string(),
            before,
            after,
        });
    }
    changes
}

/// The zone of the site. Without one, times stand on one wall: that of the calendar, if it names no more than one zone; if it names more, the
/// log says so.
fn home(site: &Site, text: &str, file: u32, log: &Log) -> Option<TimeZone> {
    if let Some(name) = &site.time_zone {
        return TimeZone::get(name).ok();
    }
    let in_zone = text
        .lines()
        .filter_map(|l| l.split_once("TZID="))
        .map(|(_, rest)| rest.split([':', ';']).next().unwrap_or_default());
    let named: BTreeSet<&str> = in_zone.map(|n| n.trim_matches('"')).collect();
    let universal = text.lines().any(|l| {
        (l.starts_with("DTSTART") || l.starts_with("RDATE")) && l.trim_end().ends_with('Z')
    });
    if named.len() + usize::from(universal) > 1 || universal {
        let hint = "write the site's `time_zone`, such as `Europe/London`";
        log.error(
            "I408",
            whole(file),
            "times in several zones, or in universal time, and the site has no time zone"
                .to_string(),
            hint,
        );
    }
    None
}

fn name_of(site: &Site, id: &str) -> String {
    site.room_named(id.trim())
        .map(|r| site.rooms[r.index()].name.clone())
        .unwrap_or_default()
}
