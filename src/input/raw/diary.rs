//! A calendar of periodic work as it is written: a YAML file that the site names.

use crate::input::at::At;
use schemars::JsonSchema;
use serde::Deserialize;

/// A calendar.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawDiary {
    /// Version of this format: 1, also if it is left out.
    pub(crate) version: Option<At<u32>>,
    /// Its first day, such as `2026-03-09`.
    pub(crate) from: At<String>,
    /// Its last day.
    pub(crate) to: At<String>,
    /// Periodic tasks of rooms, with their days.
    #[serde(default)]
    pub(crate) work: Vec<RawDiaryEntry>,
}

/// A task of a room and its days.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RawDiaryEntry {
    /// The room.
    pub(crate) room: At<String>,
    /// The task.
    pub(crate) task: At<String>,
    /// In whose run it was counted; anyone may do it all the same.
    pub(crate) worker: Option<At<String>>,
    /// The days it falls on.
    #[serde(default)]
    pub(crate) days: Vec<At<String>>,
}
