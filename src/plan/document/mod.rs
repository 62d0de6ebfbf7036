//! A plan as it is written: the JSON document, and the way back.
//!
//! The document names everything as the site file does and gives times as `HH:MM:SS`, elapsed since midnight of the plan's
//! date. It holds more than the plan: measures, walks and proof are there for readers, and are worked out again rather than
//! believed when a document is read back. Minutes are rounded to hundredths, shares to millionths.

mod misfit;
mod resolve;
mod word;
mod write;

pub use misfit::Misfit;
pub(crate) use resolve::MOST_STOPS;
pub use word::{StopWord, UndoneReason};
pub use write::Facts;

use super::Tonight;
use crate::site::Worker;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The version of documents written and read here.
const VERSION: u32 = 1;

/// The written plan.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PlanDocument {
    /// Version of this format: 1.
    pub version: u32,
    /// The program that wrote it, with its version.
    pub program: String,
    /// The site's name.
    pub site: String,
    /// The date planned for, such as `2026-03-10`.
    pub date: String,
    /// What the search's choices were drawn from.
    pub seed: u64,
    /// How many rounds the search made.
    pub iterations: u64,
    /// Whether the plan keeps every rule.
    pub sound: bool,
    /// Names of those on duty that day who are away.
    pub absent: Vec<String>,
    /// How the night differs from what the site says, if it does.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tonight: Option<Tonight>,
    /// What is due and not done.
    pub undone: Vec<UndoneDocument>,
    /// How even the runs are.
    pub evenness: EvennessDocument,
    /// What the bound on the highest share is made of.
    pub certificate: Vec<Certificate>,
    /// Where the time of all runs goes.
    pub minutes: MinutesDocument,
    /// One run for each of those present.
    pub runs: Vec<RunDocument>,
}

/// Something due that no run does.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct UndoneDocument {
    /// The room of a task left undone.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub room: Option<String>,
    /// The task, if a room is given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub task: Option<String>,
    /// The duty left undone, instead of a room and a task.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub duty: Option<String>,
    /// How much the task matters: `health`, `expected` or `appearance`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub priority: Option<String>,
    /// How long it would take at pace 1.
    pub minutes: f64,
    /// Why it is undone.
    pub reason: UndoneReason,
    /// The reason in more words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub detail: Option<String>,
}

/// How the shares compare; all of them fractions of available time.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EvennessDocument {
    /// The highest share.
    pub highest: f64,
    /// The lowest share.
    pub lowest: f64,
    /// Between the two.
    pub range: f64,
    /// Standard deviation.
    pub sd: f64,
    /// Gini coefficient.
    pub gini: f64,
    /// What the highest share of any plan doing the same work is at least.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bound: Option<f64>,
    /// Highest share over bound, less 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gap: Option<f64>,
}

/// A part of the bound.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Certificate {
    /// What no plan can do without.
    pub what: String,
    /// Its minutes.
    pub minutes: f64,
}

/// Where time goes, in minutes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MinutesDocument {
    /// Cleaning, reopening and duties.
    pub work: f64,
    /// Walking, lift waits included.
    pub walk: f64,
    /// Filling buckets.
    pub fill: f64,
    /// Emptying carts.
    pub dump: f64,
    /// Fetching machines and bringing them back.
    pub machine: f64,
    /// Set-up and tear-down.
    pub set_up: f64,
    /// Staying in a room to wait for a dwell or a floor to dry.
    pub wait: f64,
    /// Other waiting; not load.
    pub idle: f64,
    /// Breaks; not load.
    #[serde(rename = "break")]
    pub rest: f64,
    /// All that is load.
    pub load: f64,
    /// What `walk`, `fill` and `dump` of any plan doing the same work are together at least.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub not_cleaning_bound: Option<f64>,
}

/// One worker's run.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RunDocument {
    /// Whose.
    pub worker: String,
    /// The shift.
    pub shift: ShiftDocument,
    /// `on foot` or `with cart`.
    pub way: String,
    /// Load over available time.
    pub share: f64,
    /// Available time: the shift less breaks and reserve.
    pub available_minutes: f64,
    /// Where the time goes.
    pub minutes: MinutesDocument,
    /// Floors with work on them, lowest first.
    pub floors: Vec<String>,
    /// The stops in order; none for someone with nothing to do.
    pub stops: Vec<StopDocument>,
}

/// From when to when someone is there, elapsed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ShiftDocument {
    /// Its start.
    pub from: String,
    /// Its end.
    pub to: String,
}

/// One stop.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StopDocument {
    /// What happens.
    pub what: StopWord,
    /// The room worked in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub room: Option<String>,
    /// Where; left out where the room says it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
    /// From when, elapsed.
    pub from: String,
    /// Until when, elapsed.
    pub to: String,
    /// The tasks worked on.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub tasks: Vec<String>,
    /// The machine fetched or brought back.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub machine: Option<String>,
    /// The break taken.
    #[serde(default, rename = "break", skip_serializing_if = "Option::is_none")]
    pub rest: Option<String>,
    /// The duty done.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub duty: Option<String>,
    /// Seconds walked to get here.
    #[serde(default)]
    pub walk_s: i64,
}

/// What a worker's breaks are called in documents: by their names, and by a number too where two have the same.
pub(crate) fn break_names(worker: &Worker) -> Vec<String> {
    let names: Vec<&str> = worker.breaks.iter().map(|b| b.name.as_str()).collect();
    let numbered = |(index, name): (usize, &&str)| {
        let same = |others: &[&str]| others.iter().filter(|other| *other == name).count();
        match same(&names) {
            1 => (*name).to_string(),
            _ => format!("{name} ({})", same(&names[..=index])),
        }
    };
    names.iter().enumerate().map(numbered).collect()
}
