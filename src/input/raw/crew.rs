//! The crew, its carts and the site's duties as they are written.

use crate::input::at::At;
use schemars::JsonSchema;
use serde::Deserialize;

/// A kind of cart, with its bucket.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawCart {
    /// Its id.
    pub(crate) id: At<String>,
    /// Litres of waste it holds; 120 if not given.
    pub(crate) waste_l: Option<At<f64>>,
    /// The same in gallons.
    pub(crate) waste_gal: Option<At<f64>>,
    /// Square metres that one fill of the bucket mops; 60 if not given.
    pub(crate) bucket_m2: Option<At<f64>>,
    /// The same in square feet.
    pub(crate) bucket_sqft: Option<At<f64>>,
    /// Rooms that one fill serves at most; 3 if not given.
    pub(crate) bucket_rooms: Option<At<u32>>,
    /// Clear width it needs, in metres; 0.75 if not given.
    pub(crate) width_m: Option<At<f64>>,
    /// The same in inches.
    pub(crate) width_in: Option<At<f64>>,
}

/// A member of the crew.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawWorker {
    /// Name, unique in the crew.
    pub(crate) name: At<String>,
    /// The shift, such as `17:00-01:00`.
    pub(crate) shift: At<String>,
    /// Days worked, by the day the shift starts on: `mon-fri`, `mon,wed,sat`, `daily`; `mon-fri` if not given.
    pub(crate) days: Option<At<String>>,
    /// Speed of work against the standard: 1.1 is a tenth faster; 1 if not given.
    pub(crate) pace: Option<At<f64>>,
    /// Where runs start and end.
    pub(crate) start: At<String>,
    /// What they may do.
    #[serde(default)]
    pub(crate) skills: Vec<At<String>>,
    /// Keys and clearances they hold.
    #[serde(default)]
    pub(crate) access: Vec<At<String>>,
    /// The cart they push; on foot if not given.
    pub(crate) cart: Option<At<String>>,
    /// Whether they may use stairs; true if not given.
    pub(crate) stairs: Option<bool>,
    /// Whether they may do heavy lifting; true if not given.
    pub(crate) heavy: Option<bool>,
    /// Meal and rest breaks.
    #[serde(default)]
    pub(crate) breaks: Vec<RawBreak>,
}

/// A break.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawBreak {
    /// What it is called.
    pub(crate) name: At<String>,
    /// How many minutes; taken whole.
    pub(crate) min: At<f64>,
    /// When: wholly inside these hours; the whole shift if not given.
    pub(crate) window: Option<At<String>>,
    /// Where; the nearest break place if not given.
    pub(crate) place: Option<At<String>>,
    /// Whether it is paid; false if not given.
    pub(crate) paid: Option<bool>,
}

/// A thing of the site, not of a room.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawDuty {
    /// What it is called.
    pub(crate) name: At<String>,
    /// Where.
    pub(crate) place: At<String>,
    /// How many minutes.
    pub(crate) min: At<f64>,
    /// When it may be done: `daily 21:00-25:00`; always if not given.
    pub(crate) window: Option<At<String>>,
    /// On which days; every day if not given.
    pub(crate) days: Option<At<String>>,
    /// Who may do it: all are needed.
    #[serde(default)]
    pub(crate) skills: Vec<At<String>>,
    /// Whether everybody else must be back first.
    pub(crate) last: Option<bool>,
    /// How many people it takes at once; only 1 is planned for.
    pub(crate) people: Option<At<u32>>,
}
