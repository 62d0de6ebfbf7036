//! What stands there and who is there: the site as it is *meant*, after reading and before any planning.
//!
//! Everything is metric, every name is resolved to an id, every figure is in range: [`crate::input`] builds a
//! [`Site`] only when it found no mistake. Ids index the vectors of [`Site`] directly.

mod building;
mod calendar;
mod crew;
mod diary;
mod ids;
mod policy;
mod room;
mod standard;
mod toilets;
mod tonight;

pub use building::{Closet, Door, Floor, Hall, Place, Point, Side, Spot, Way, WayKind};
pub use calendar::{Calendar, DayHours, Hours, Weekdays};
pub use crew::{Break, Cart, Moves, Worker};
pub use diary::{Diary, DiaryEntry};
pub use ids::{
    AccessId, ClosetId, FloorId, HallId, KindId, MachineId, PlaceId, RoomId, SkillId, WorkerId,
};
pub use policy::{Duty, Group, Policy, Speeds};
pub use room::{Fixture, Room};
pub use standard::{Frequency, Method, Priority, Rate, RoomKind, Task};
pub use toilets::toilets_required;
pub use tonight::Called;

use crate::units::Clock;
use jiff::civil::Date;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// One building or a few linked ones, with its crew and its rules.
#[derive(Clone, Debug, Default)]
pub struct Site {
    /// What people call it.
    pub name: String,
    /// The date a plan is for when the command names none.
    pub date: Option<Date>,
    /// Days on which nobody works and nothing is due.
    pub holidays: BTreeSet<Date>,
    /// On which days periodic work falls, where a calendar file says so.
    pub diary: Option<Diary>,
    /// IANA time zone, for nights on which clocks change; `None` takes every day as 24 hours.
    pub time_zone: Option<String>,
    /// Whether people there think in feet, gallons and a clock of twelve hours; reports alone look at it.
    pub us_units: bool,
    /// Which way is north on the floor plans, in degrees clockwise from the top of the sheet.
    pub north: Option<f64>,
    /// Storeys, lowest first.
    pub floors: Vec<Floor>,
    /// Corridors that rooms open off.
    pub halls: Vec<Hall>,
    /// Stairs, lifts, ramps and links between halls.
    pub ways: Vec<Way>,
    /// Everything that can be walked to: first the rooms in order, then the closets in order, then other named places.
    pub places: Vec<Place>,
    /// Rooms; room `i` is place `i`.
    pub rooms: Vec<Room>,
    /// Custodial closets; closet `i` is place `rooms.len() + i`.
    pub closets: Vec<Closet>,
    /// What each kind of room needs.
    pub kinds: Vec<RoomKind>,
    /// Names of skills.
    pub skills: Vec<String>,
    /// Names of keys and clearances: what opens doors and rooms.
    pub access: Vec<String>,
    /// Machines such as floor scrubbers.
    pub machines: Vec<Machine>,
    /// The crew.
    pub crew: Vec<Worker>,
    /// Things of the site itself: unlock, lock up, take in a delivery.
    pub duties: Vec<Duty>,
    /// The site's own rules.
    pub policy: Policy,
    /// For one night's copy of a site: what is due beyond the calendar, by room and position in its kind's list of tasks.
    pub called: BTreeMap<(RoomId, usize), Called>,
    /// Rooms in which nothing is due on one night any more, because somebody did them before the plan had them.
    pub done: BTreeSet<RoomId>,
    /// For one night's copy: what began before this moment, elapsed, cannot be changed any more.
    pub now: Option<Clock>,
}

/// A kind of machine and where its units stand.
#[derive(Clone, Debug)]
pub struct Machine {
    /// What people call it.
    pub name: String,
    /// How many there are.
    pub units: u32,
    /// Where it is fetched from and brought back to.
    pub closet: ClosetId,
}

impl Site {
    /// Where a room is.
    pub fn place_of_room(&self, room: RoomId) -> PlaceId {
        PlaceId(room.0)
    }

    /// Where a closet is.
    pub fn place_of_closet(&self, closet: ClosetId) -> PlaceId {
        PlaceId(self.rooms.len() as u32 + closet.0)
    }

    /// The closet at a place, if it is one.
    pub fn closet_at(&self, place: PlaceId) -> Option<ClosetId> {
        let index = (place.0 as usize).checked_sub(self.rooms.len())?;
        (index < self.closets.len()).then_some(ClosetId(index as u32))
    }

    /// The room at a place, if it is one.
    pub fn room_at(&self, place: PlaceId) -> Option<RoomId> {
        ((place.0 as usize) < self.rooms.len()).then_some(RoomId(place.0))
    }

    /// The room with this written id.
    pub fn room_named(&self, id: &str) -> Option<RoomId> {
        self.rooms.iter().position(|r| r.id == id).map(RoomId::from)
    }

    /// The worker with this name.
    pub fn worker_named(&self, name: &str) -> Option<WorkerId> {
        self.crew
            .iter()
            .position(|w| w.name == name)
            .map(WorkerId::from)
    }

    /// The place with this written id.
    pub fn place_named(&self, id: &str) -> Option<PlaceId> {
        self.places
            .iter()
            .position(|p| p.id == id)
            .map(PlaceId::from)
    }

    /// Closets whose water a bucket may be filled with.
    pub fn fill_points(&self) -> impl Iterator<Item = PlaceId> + '_ {
        self.closets_with(|c| c.fill_point)
    }

    /// Closets where a cart may be emptied.
    pub fn waste_points(&self) -> impl Iterator<Item = PlaceId> + '_ {
        self.closets_with(|c| c.waste_point)
    }

    fn closets_with(&self, wanted: fn(&Closet) -> bool) -> impl Iterator<Item = PlaceId> + '_ {
        let first = self.rooms.len();
        self.closets
            .iter()
            .enumerate()
            .filter(move |(_, c)| wanted(c))
            .map(move |(i, _)| PlaceId::from(first + i))
    }

    /// Workers on duty on `date`, less those named in `absent`; nobody on a holiday.
    pub fn present(&self, date: Date, absent: &[WorkerId]) -> Vec<WorkerId> {
        let holiday = self.holidays.contains(&date);
        let on_duty = |w: &Worker| !holiday && w.days.contains(date.weekday());
        let ids = self
            .crew
            .iter()
            .enumerate()
            .filter(|(_, w)| on_duty(w))
            .map(|(i, _)| WorkerId::from(i));
        ids.filter(|w| !absent.contains(w)).collect()
    }
}
