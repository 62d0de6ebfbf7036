//! The site's own rules as they are written.

use crate::input::at::At;
use schemars::JsonSchema;
use serde::Deserialize;

/// Rules that hold for every run of the site.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawPolicy {
    /// Minutes to get ready at the start place; 0 if not given.
    pub(crate) set_up_min: Option<At<f64>>,
    /// Minutes to put away at the start place; 0 if not given.
    pub(crate) tear_down_min: Option<At<f64>>,
    /// Shares closer than this many percent of the available time count as equal; 0.2 if not given.
    pub(crate) band_percent: Option<At<f64>>,
    /// Most overtime for anyone; 0 if not given.
    pub(crate) overtime_min: Option<At<f64>>,
    /// Minutes kept free in every shift; 0 if not given.
    pub(crate) reserve_min: Option<At<f64>>,
    /// Minutes to change and fill a bucket; 3 if not given.
    pub(crate) fill_min: Option<At<f64>>,
    /// Minutes to empty a cart; 2 if not given.
    pub(crate) dump_min: Option<At<f64>>,
    /// Minutes to fetch a machine, and again to bring it back; 2 if not given.
    pub(crate) fetch_min: Option<At<f64>>,
    /// Rooms of which some must stay open.
    #[serde(default)]
    pub(crate) groups: Vec<RawGroup>,
    /// Pairs of halls or stairs, as rooms, that are never wet at once.
    #[serde(default)]
    pub(crate) exit_pairs: Vec<At<Vec<At<String>>>>,
    /// Kinds of room whose work goes round: each day it is wished for another half of the crew, among equally even plans.
    #[serde(default)]
    pub(crate) rotate_kinds: Vec<At<String>>,
    /// How fast people get about.
    pub(crate) speeds: Option<RawSpeeds>,
}

/// Rooms of which some must stay open.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawGroup {
    /// What people call it.
    pub(crate) name: At<String>,
    /// Its rooms.
    #[serde(default)]
    pub(crate) rooms: Vec<At<String>>,
    /// How many stay open; 1 if not given.
    pub(crate) keep_open: Option<At<u32>>,
}

/// Walking speeds.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawSpeeds {
    /// On foot, level, in metres a second.
    pub(crate) foot_m_s: Option<At<f64>>,
    /// The same in feet a second.
    pub(crate) foot_ft_s: Option<At<f64>>,
    /// With a cart, level.
    pub(crate) cart_m_s: Option<At<f64>>,
    /// The same in feet a second.
    pub(crate) cart_ft_s: Option<At<f64>>,
    /// Stairs up, along the slope.
    pub(crate) stairs_up_m_s: Option<At<f64>>,
    /// The same in feet a second.
    pub(crate) stairs_up_ft_s: Option<At<f64>>,
    /// Stairs down, along the slope.
    pub(crate) stairs_down_m_s: Option<At<f64>>,
    /// The same in feet a second.
    pub(crate) stairs_down_ft_s: Option<At<f64>>,
    /// Whether walking takes time; true if not given.
    pub(crate) walking: Option<bool>,
}
