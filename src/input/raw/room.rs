//! Rooms as they are written; a CSV file has the same names as columns.

use super::standard::RawPriority;
use crate::input::at::At;
use schemars::JsonSchema;
use serde::Deserialize;

/// A room.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawRoom {
    /// Its id, such as `G12`.
    pub(crate) id: At<String>,
    /// What people call it; the id if not given.
    pub(crate) name: Option<At<String>>,
    /// What kind of room it is, such as `office`.
    pub(crate) kind: At<String>,
    /// Floor area in square metres.
    pub(crate) area_m2: Option<At<f64>>,
    /// The same in square feet.
    pub(crate) area_sqft: Option<At<f64>>,
    /// What the floor is made of.
    pub(crate) finish: Option<At<String>>,
    /// How many people use it.
    pub(crate) occupants: Option<At<u32>>,
    /// How many toilet bowls.
    pub(crate) bowls: Option<At<u32>>,
    /// How many urinals.
    pub(crate) urinals: Option<At<u32>>,
    /// How many wash basins.
    pub(crate) basins: Option<At<u32>>,
    /// How many mirrors.
    pub(crate) mirrors: Option<At<u32>>,
    /// How many soap, towel and paper dispensers.
    pub(crate) dispensers: Option<At<u32>>,
    /// How many showers.
    pub(crate) showers: Option<At<u32>>,
    /// How many waste bins.
    pub(crate) bins: Option<At<u32>>,
    /// How many desks or tables.
    pub(crate) desks: Option<At<u32>>,
    /// How many sinks other than wash basins.
    pub(crate) sinks: Option<At<u32>>,
    /// How many glazed doors or panels.
    pub(crate) glass_panels: Option<At<u32>>,
    /// How many couches or beds.
    pub(crate) couches: Option<At<u32>>,
    /// When it may be cleaned: `mon-fri 17:30-22:00; sat 08:00-12:00; 2026-03-10 closed`; always if not given.
    pub(crate) open: Option<At<String>>,
    /// When it may be closed to its users; always if not given.
    pub(crate) closure: Option<At<String>>,
    /// Keys and clearances needed to enter, beyond what its door needs.
    #[serde(default)]
    pub(crate) needs: Vec<At<String>>,
    /// Who should do it, if it costs nothing.
    #[serde(default)]
    pub(crate) prefer: Vec<At<String>>,
    /// Who must do it; anyone if not given.
    #[serde(default)]
    pub(crate) only: Vec<At<String>>,
    /// Who must not do it.
    #[serde(default)]
    pub(crate) never: Vec<At<String>>,
    /// Tasks of its kind that do not apply here.
    #[serde(default)]
    pub(crate) skip: Vec<At<String>>,
    /// All its work counts at least this much.
    pub(crate) priority: Option<RawPriority>,
    /// Clear width of its door in metres.
    pub(crate) door_width_m: Option<At<f64>>,
    /// The same in inches.
    pub(crate) door_width_in: Option<At<f64>>,
    /// Seconds to pass its door.
    pub(crate) door_extra_s: Option<At<f64>>,
    /// Keys and clearances without which its door does not open.
    #[serde(default)]
    pub(crate) door_needs: Vec<At<String>>,
    /// When its door is open to those without a key: `07:00-23:00`.
    pub(crate) door_hours: Option<At<String>>,
    /// Whether breaks may be taken there.
    pub(crate) break_place: Option<bool>,
}
