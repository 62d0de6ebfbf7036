//! What a site's files may say: the raw types, before any name is looked up or any unit converted.
//!
//! These types are the format: the JSON Schema is derived from them. Every quantity has its unit in its key; where two keys
//! differ only in the unit, one of them may be given. Keys that may be missing are `Option` or lists.

mod building;
mod crew;
mod diary;
mod policy;
mod room;
mod split;
mod standard;

pub(crate) use building::{
    RawCloset, RawDoor, RawFloor, RawHall, RawHallDoor, RawLift, RawPlace, RawPlaceAt, RawSideWord,
    RawStairs, RawWay,
};
pub(crate) use crew::{RawBreak, RawCart, RawDuty, RawWorker};
pub(crate) use diary::{RawDiary, RawDiaryEntry};
pub(crate) use policy::{RawGroup, RawPolicy, RawSpeeds};
pub(crate) use room::RawRoom;
pub(crate) use split::RawOwned;
pub(crate) use standard::{RawHow, RawKind, RawMachine, RawPriority, RawTask};

use super::at::{At, FileOr};
use schemars::JsonSchema;
use serde::Deserialize;

/// A site: its building, its rooms, what each kind of room needs, its crew and its own rules.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "A site")]
pub(crate) struct RawSite {
    /// What people call the site.
    pub(crate) site: At<String>,
    /// The date a plan is for when the command names none, such as `2026-03-10`.
    pub(crate) date: Option<At<String>>,
    /// Days on which nobody works and nothing is due, such as `2026-03-17`.
    #[serde(default)]
    pub(crate) holidays: Vec<At<String>>,
    /// The name of a YAML file with the days of periodic work, as `evenrun calendar` writes it.
    pub(crate) calendar: Option<At<String>>,
    /// IANA name of the time zone, such as `Europe/London`; needed only for nights on which clocks change.
    pub(crate) time_zone: Option<At<String>>,
    /// How reports show figures; metric if not given.
    pub(crate) units: Option<RawUnits>,
    /// Which way is north on floor plans, in degrees clockwise from the top of the sheet; maps have no arrow if not given.
    pub(crate) north_deg: Option<At<f64>>,
    /// Whether the built-in standard is used; true if not given.
    pub(crate) builtin_standard: Option<bool>,
    /// Storeys, lowest first.
    #[serde(default)]
    pub(crate) floors: Vec<RawFloor>,
    /// Corridors that rooms open off.
    #[serde(default)]
    pub(crate) halls: Vec<RawHall>,
    /// Stairs: never for a cart.
    #[serde(default)]
    pub(crate) stairs: Vec<RawStairs>,
    /// Lifts.
    #[serde(default)]
    pub(crate) lifts: Vec<RawLift>,
    /// Ramps; carts may use them.
    #[serde(default)]
    pub(crate) ramps: Vec<RawWay>,
    /// Level links between halls.
    #[serde(default)]
    pub(crate) links: Vec<RawWay>,
    /// Ways through the open.
    #[serde(default)]
    pub(crate) outdoor: Vec<RawWay>,
    /// Custodial closets.
    #[serde(default)]
    pub(crate) closets: Vec<RawCloset>,
    /// Places that are not rooms to clean: entrances, staff rooms.
    #[serde(default)]
    pub(crate) places: Vec<RawPlace>,
    /// Every key and clearance of the site.
    #[serde(default)]
    pub(crate) access: Vec<At<String>>,
    /// Every skill that some work asks for.
    #[serde(default)]
    pub(crate) skills: Vec<At<String>>,
    /// Machines.
    #[serde(default)]
    pub(crate) machines: Vec<RawMachine>,
    /// Rooms: a list, or the name of a CSV or YAML file.
    pub(crate) rooms: At<FileOr<RawRoom>>,
    /// Room kinds that add to or change the built-in standard: a list, or the name of a YAML file.
    pub(crate) standard: Option<At<FileOr<RawKind>>>,
    /// Kinds of cart.
    #[serde(default)]
    pub(crate) carts: Vec<RawCart>,
    /// The crew: a list, or the name of a YAML file.
    pub(crate) crew: At<FileOr<RawWorker>>,
    /// Things of the site itself: unlock, lock up, take in a delivery.
    #[serde(default)]
    pub(crate) duties: Vec<RawDuty>,
    /// The site's own rules.
    pub(crate) policy: Option<RawPolicy>,
}

/// How reports show figures.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub(crate) enum RawUnits {
    /// Metres, square metres, litres.
    Metric,
    /// Feet, square feet, gallons.
    Us,
}
