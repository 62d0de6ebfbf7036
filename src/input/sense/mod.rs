//! Contradictions: everything is readable, but it cannot be as it says. One file per family.
//!
//! What is found here holds for the whole crew on any day: that somebody is away is no mistake of a site.

mod clearance;
mod duties;
mod need;
mod reach;
mod shifts;
mod skills;
mod unused;
mod windows;

use super::log::Log;
use super::resolve::Origins;
use crate::site::{Calendar, RoomId, Site, WorkerId};
use jiff::civil::{Date, date};

/// What can be seen from one entry alone, whatever else is wrong.
pub(crate) fn alone(site: &Site, origins: &Origins, log: &Log) {
    shifts::look(site, origins, log);
}

/// What needs the whole site; every id in it must hold.
pub(crate) fn together(site: &Site, origins: &Origins, log: &Log) {
    skills::look(site, origins, log);
    let hands: Vec<Vec<WorkerId>> = clearance::look(site, origins, log);
    windows::look(site, &hands, origins, log);
    duties::look(site, origins, log);
    reach::look(site, &hands, origins, log);
    unused::look(site, origins, log);
}

/// All rooms with their ids.
fn rooms(site: &Site) -> impl Iterator<Item = (RoomId, &crate::site::Room)> {
    site.rooms
        .iter()
        .enumerate()
        .map(|(index, room)| (RoomId::from(index), room))
}

/// A day to look at: the site's own date, or any Monday.
fn some_date(site: &Site) -> Date {
    site.date.unwrap_or(date(2026, 3, 2))
}

fn calendar(site: &Site, date: Date) -> Calendar {
    Calendar::new(date, site.time_zone.as_deref())
}
