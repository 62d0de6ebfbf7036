//! From what was written to what it means: names become ids, figures become metric and are kept in range.
//!
//! Everything is looked at even if something before it was wrong; a blank then stands in, and the site that comes out must not be
//! used if the log has an error.

mod building;
mod crew;
mod diary;
mod doors;
mod halls;
mod names;
mod policy;
mod rooms;
mod standard;
mod tasks;
mod values;
mod ways;
mod words;

use super::gather::Written;
use super::log::{Log, Pos};
use super::raw::RawUnits;
use crate::site::Site;
use names::Index;
pub(super) use words::clock;

/// Where the things of a site were written, in the order of the site's own lists.
#[derive(Debug, Default)]
pub(crate) struct Origins {
    pub(crate) rooms: Vec<Pos>,
    pub(crate) workers: Vec<Pos>,
    pub(crate) breaks: Vec<Vec<Pos>>,
    /// For each kind, its tasks.
    pub(crate) tasks: Vec<Vec<Pos>>,
    pub(crate) skills: Vec<Pos>,
    pub(crate) access: Vec<Pos>,
    pub(crate) machines: Vec<Pos>,
    pub(crate) duties: Vec<Pos>,
}

/// Everything that has an id.
struct Names {
    floors: Index,
    halls: Index,
    /// Rooms, then closets, then other places.
    places: Index,
    rooms: Index,
    closets: Index,
    kinds: Index,
    skills: Index,
    access: Index,
    machines: Index,
    carts: Index,
    workers: Index,
}

impl Names {
    /// Declares everything. Kinds were declared when the standard was merged.
    fn declare(written: &Written, kinds: Index, log: &Log) -> Names {
        let raw = &written.site;
        let rooms = || written.rooms.iter().map(|r| &r.id);
        let closets = || raw.closets.iter().map(|c| &c.id);
        let places = rooms()
            .chain(closets())
            .chain(raw.places.iter().map(|p| &p.id));
        let no_rooms = written.rooms.is_empty() && !raw.rooms.sound;
        let nobody = written.crew.is_empty() && !raw.crew.sound;
        // Rooms and closets are told about once, as places.
        let quiet = Log::default();
        Names {
            floors: Index::of("floor", "E302", raw.floors.iter().map(|f| &f.id), log),
            halls: Index::of("hall", "E303", raw.halls.iter().map(|h| &h.id), log),
            places: Index::of("place", "E304", places, log).lost_if(no_rooms),
            rooms: Index::of("room", "E313", rooms(), &quiet).lost_if(no_rooms),
            closets: Index::of("closet", "E310", closets(), &quiet),
            kinds,
            skills: Index::of("skill", "E307", &raw.skills, log),
            access: Index::of("key or clearance", "E308", &raw.access, log),
            machines: Index::of("machine", "E309", raw.machines.iter().map(|m| &m.id), log),
            carts: Index::of("cart", "E311", raw.carts.iter().map(|c| &c.id), log),
            workers: Index::of("worker", "E306", written.crew.iter().map(|w| &w.name), log)
                .lost_if(nobody),
        }
    }
}

/// The site that was written, and where its parts were.
pub(crate) fn resolve(written: &Written, log: &Log) -> (Site, Origins) {
    let raw = &written.site;
    let merged = standard::merge(&written.builtin, &written.standard, log);
    let names = Names::declare(written, standard::index(&merged), log);
    let mut site = Site {
        name: values::text(log, "name of the site", &raw.site),
        date: raw.date.as_ref().and_then(|d| words::date(log, d)),
        holidays: raw
            .holidays
            .iter()
            .filter_map(|d| words::date(log, d))
            .collect(),
        time_zone: raw.time_zone.as_ref().map(|z| words::time_zone(log, z)),
        us_units: matches!(raw.units, Some(RawUnits::Us)),
        north: raw
            .north_deg
            .as_ref()
            .map(|north| values::within(log, "north_deg", north, 0.0, 360.0)),
        floors: building::floors(&raw.floors, log),
        skills: names.skills.ids().to_vec(),
        access: names.access.ids().to_vec(),
        ..Site::default()
    };
    let spots;
    (site.halls, spots) = halls::halls(&raw.halls, &names, log);
    site.ways = ways::ways(raw, &site.floors, &site.halls, &names, log);
    site.places = building::places(written, &spots, &names, log);
    site.closets = building::closets(&raw.closets, log);
    site.machines = standard::machines(&raw.machines, &names, log);
    site.kinds = tasks::kinds(&merged, &names, log);
    site.rooms = rooms::rooms(&written.rooms, &site.kinds, &names, log);
    let carts = crew::carts(&raw.carts, log);
    site.crew = crew::crew(&written.crew, &carts, &names, log);
    site.diary = written
        .diary
        .as_ref()
        .and_then(|d| diary::diary(d, &site.rooms, &site.kinds, &names, log));
    site.duties = policy::duties(&raw.duties, &names, log);
    site.policy = policy::policy(raw.policy.as_ref(), &names, log);
    building::something_there(written, log);
    let origins = origins(written, &merged, &names);
    (site, origins)
}

fn origins(written: &Written, merged: &[standard::Merged<'_>], names: &Names) -> Origins {
    let raw = &written.site;
    Origins {
        rooms: names.rooms.positions(),
        workers: names.workers.positions(),
        breaks: written
            .crew
            .iter()
            .map(|w| w.breaks.iter().map(|b| b.name.pos).collect())
            .collect(),
        tasks: merged
            .iter()
            .map(standard::Merged::task_positions)
            .collect(),
        skills: names.skills.positions(),
        access: names.access.positions(),
        machines: names.machines.positions(),
        duties: raw.duties.iter().map(|d| d.name.pos).collect(),
    }
}
