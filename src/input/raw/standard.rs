//! Room kinds, tasks and machines as they are written.

use crate::input::at::At;
use schemars::JsonSchema;
use serde::Deserialize;

/// A kind of room and what it needs. Given for a kind of the built-in standard, it changes that one.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawKind {
    /// Its id, such as `restroom`.
    pub(crate) kind: At<String>,
    /// Whether water used here is used nowhere else.
    pub(crate) restroom: Option<bool>,
    /// Minutes to open it again; given, it is closed to its users while it is cleaned.
    pub(crate) reopen_min: Option<At<f64>>,
    /// False takes back the closing of a built-in kind.
    pub(crate) closes: Option<bool>,
    /// Tasks of the built-in kind that are not wanted.
    #[serde(default)]
    pub(crate) drop: Vec<At<String>>,
    /// Its tasks: one with the name of a built-in task replaces it, others are added.
    #[serde(default)]
    pub(crate) tasks: Vec<RawTask>,
}

/// One thing done in a room.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawTask {
    /// What it is called.
    pub(crate) task: At<String>,
    /// How it is done; dry if not given.
    pub(crate) how: Option<At<RawHow>>,
    /// Minutes per unit of `per`.
    pub(crate) min: Option<At<f64>>,
    /// What the minutes are multiplied by: `visit`, `m2`, `sqft`, `occupant`, or a fixture such as `bowls`; `visit` if not given.
    pub(crate) per: Option<At<String>>,
    /// Square metres an hour, instead of `min` and `per`.
    pub(crate) m2_per_h: Option<At<f64>>,
    /// Square feet an hour, instead of `min` and `per`.
    pub(crate) sqft_per_h: Option<At<f64>>,
    /// For a sprayed task: minutes that the surface stays wet at least, from the product's label.
    pub(crate) dwell_min: Option<At<f64>>,
    /// For a sprayed task: minutes of wiping per unit of `per`.
    pub(crate) wipe_min: Option<At<f64>>,
    /// For a mopped task: minutes until the floor is dry.
    pub(crate) drying_min: Option<At<f64>>,
    /// How often: `daily`, `mon,thu`, `3 per week`, `every 2 weeks`, `monthly`, `termly`; daily if not given.
    pub(crate) when: Option<At<String>>,
    /// How much it matters; `expected` if not given.
    pub(crate) priority: Option<RawPriority>,
    /// Who may do it: all are needed.
    #[serde(default)]
    pub(crate) skills: Vec<At<String>>,
    /// The machine it is done with.
    pub(crate) machine: Option<At<String>>,
    /// Whether it needs a cart, beyond what waste, water and machines ask for.
    pub(crate) cart: Option<bool>,
    /// Whether it is heavy lifting.
    pub(crate) heavy: Option<bool>,
    /// Litres of waste per unit of `waste_per`.
    pub(crate) waste_l: Option<At<f64>>,
    /// The same in gallons.
    pub(crate) waste_gal: Option<At<f64>>,
    /// What the waste is multiplied by; `visit` if not given.
    pub(crate) waste_per: Option<At<String>>,
    /// What is used, for the kit list.
    #[serde(default)]
    pub(crate) supplies: Vec<At<String>>,
    /// Where the figures come from, or `assumption`.
    pub(crate) source: Option<At<String>>,
    /// How many people it takes at once; only 1 is planned for.
    pub(crate) people: Option<At<u32>>,
}

/// How a task is done, in the order of the work in a room.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub(crate) enum RawHow {
    /// Before anything else.
    Open,
    /// Spray, leave wet, wipe.
    Spray,
    /// Dry work.
    #[default]
    Dry,
    /// Damp wiping.
    Wipe,
    /// Wet mopping.
    Mop,
}

/// How much work matters.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub(crate) enum RawPriority {
    /// Hygiene and safety.
    Health,
    /// What users expect of every night.
    Expected,
    /// What only the eye misses.
    Appearance,
}

/// A kind of machine.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawMachine {
    /// What people call it.
    pub(crate) id: At<String>,
    /// How many there are; 1 if not given.
    pub(crate) units: Option<At<u32>>,
    /// The closet it is fetched from and brought back to.
    pub(crate) closet: At<String>,
}
