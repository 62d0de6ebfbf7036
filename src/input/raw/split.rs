//! Who owns which rooms, as it is written: a table of its own beside the site.

use crate::input::at::At;
use schemars::JsonSchema;
use serde::Deserialize;

/// A row: a room, or a duty, and whose it is.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawOwned {
    /// The room's id, or the name of a duty.
    pub(crate) room: At<String>,
    /// Whose it is; nobody's if not given.
    pub(crate) worker: Option<At<String>>,
    /// Its place in the worker's order: a number, the smallest first.
    pub(crate) order: Option<At<f64>>,
    /// When the worker begins there, such as `18:05`.
    pub(crate) start: Option<At<String>>,
}
