//! The answer as it is written: one JSON object.

use super::{Attempt, Formula, Level, Staff};
use crate::site::Site;
use schemars::JsonSchema;
use serde::Serialize;
use std::collections::BTreeMap;

/// The version of documents written here.
const VERSION: u32 = 1;

/// The written answer.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct StaffDocument {
    /// Version of this format: 1.
    pub version: u32,
    /// The program that wrote it, with its version.
    pub program: String,
    /// The site's name.
    pub site: String,
    /// For which date.
    pub date: String,
    /// What the search's choices were drawn from.
    pub seed: u64,
    /// Everybody's shift, elapsed since midnight.
    pub shift: [String; 2],
    /// Minutes available to each.
    pub available_minutes: f64,
    /// All work first.
    pub levels: Vec<LevelDocument>,
    /// How many of those asked for there was no time for.
    pub levels_left: usize,
    /// Hours a week by how often, then by priority.
    pub weekly_hours: BTreeMap<String, BTreeMap<String, f64>>,
    /// Floor area of all rooms.
    pub area_sqft: f64,
    /// Published formulas, for orientation.
    pub formulas: Vec<FormulaDocument>,
}

/// People for all work that matters at least so much.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LevelDocument {
    /// The least important work that is done.
    pub priority: String,
    /// Fewer cannot do it.
    pub at_least: usize,
    /// So many were found to be enough.
    pub enough: Option<usize>,
    /// Tasks and duties that no number of people does.
    pub never_done: usize,
    /// Plans that were made.
    pub attempts: Vec<AttemptDocument>,
    /// Hours of cleaning a week.
    pub weekly_hours: f64,
    /// Hours of cleaning a year.
    pub yearly_hours: f64,
}

/// A plan with so many people.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct AttemptDocument {
    /// How many.
    pub people: usize,
    /// Highest share.
    pub highest: f64,
    /// Lowest share.
    pub lowest: f64,
    /// Undone minutes.
    pub undone_minutes: f64,
    /// Undone tasks and duties.
    pub left: usize,
}

/// A formula's answer.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FormulaDocument {
    /// Who gives it.
    pub list: String,
    /// Which of its levels, or what it divides by.
    pub basis: String,
    /// Fewest people.
    pub least: f64,
    /// Most people.
    pub most: f64,
    /// What it was read in.
    pub source: String,
}

impl StaffDocument {
    /// Writes the answer down.
    pub fn new(site: &Site, staff: &Staff, program: &str, seed: u64) -> StaffDocument {
        let hours = |row: &[f64; 3]| -> BTreeMap<String, f64> {
            let priorities = crate::site::Priority::ALL.map(|p| p.word().to_string());
            priorities.into_iter().zip(row.map(hundredths)).collect()
        };
        let weekly = staff.workload.weekly.iter();
        StaffDocument {
            version: VERSION,
            program: program.to_string(),
            site: site.name.clone(),
            date: staff.date.to_string(),
            seed,
            shift: [staff.shift.from, staff.shift.to].map(|c| c.to_string()),
            available_minutes: hundredths(staff.available.as_minutes()),
            levels: staff.levels.iter().map(level).collect(),
            levels_left: staff.levels_left,
            weekly_hours: weekly
                .map(|(turn, row)| (turn.word().to_string(), hours(row)))
                .collect(),
            area_sqft: hundredths(staff.square_feet),
            formulas: staff.formulas.iter().map(formula).collect(),
        }
    }

    /// The text of the object, indented, with a line break at its end.
    ///
    /// # Errors
    /// Where a number cannot be written: JSON has no infinity.
    pub fn to_json(&self) -> Result<String, serde_json::Error> {
        Ok(serde_json::to_string_pretty(self)? + "\n")
    }
}

fn hundredths(number: f64) -> f64 {
    (number * 100.0).round() / 100.0
}

fn level(level: &Level) -> LevelDocument {
    let attempt = |a: &Attempt| AttemptDocument {
        people: a.people,
        highest: (a.highest * 1e6).round() / 1e6,
        lowest: (a.lowest * 1e6).round() / 1e6,
        undone_minutes: hundredths(a.undone.as_minutes()),
        left: a.left,
    };
    LevelDocument {
        priority: level.priority.word().to_string(),
        at_least: level.at_least,
        enough: level.enough,
        never_done: level.never_done,
        attempts: level.attempts.iter().map(attempt).collect(),
        weekly_hours: hundredths(level.weekly_hours),
        yearly_hours: hundredths(level.yearly_hours),
    }
}

fn formula(formula: &Formula) -> FormulaDocument {
    FormulaDocument {
        list: formula.list.to_string(),
        basis: formula.basis.to_string(),
        least: hundredths(formula.least),
        most: hundredths(formula.most),
        source: formula.source.to_string(),
    }
}
