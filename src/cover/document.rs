//! The changes as they are written: what `changes.json` holds.

use super::diff::{Diff, PersonDiff, Shift, Work};
use crate::plan::UndoneWork;
use crate::site::{Site, WorkerId};
use crate::units::Span;
use crate::work::DueTask;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Everything that changed from one plan to another. Times are `HH:MM:SS`, elapsed since midnight of the plan's date.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ChangesDocument {
    /// Version of this format: 1.
    pub version: u32,
    /// The site's name.
    pub site: String,
    /// The date of the night.
    pub date: String,
    /// Stops that those present in both plans had.
    pub stops: usize,
    /// Of these, still done by the same person.
    pub kept: usize,
    /// Of those kept, started within a quarter of an hour of before.
    pub on_time: usize,
    /// Runs that are not as they were.
    pub runs_touched: usize,
    /// Highest share before.
    pub highest_before: f64,
    /// Highest share now.
    pub highest: f64,
    /// One for each person of either plan.
    pub people: Vec<PersonDocument>,
    /// Done before, undone now.
    pub given_up: Vec<WorkDocument>,
    /// Undone before, done now.
    pub taken_on: Vec<WorkDocument>,
}

/// What changed for one person.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PersonDocument {
    /// Who.
    pub worker: String,
    /// When the run was, `from` and `to`.
    pub before: Option<[String; 2]>,
    /// When it is.
    pub after: Option<[String; 2]>,
    /// What is new; `other` had it before.
    pub added: Vec<WorkDocument>,
    /// What is not theirs any more; `other` has it now.
    pub dropped: Vec<WorkDocument>,
    /// What starts at another time by more than a quarter of an hour.
    pub moved: Vec<WorkDocument>,
    /// Rooms of which less or more is done.
    pub cut: Vec<CutDocument>,
    /// Keys and clearances needed now and not before.
    pub keys: Vec<String>,
    /// Machines fetched now and not before.
    pub machines: Vec<WorkDocument>,
    /// Machines not fetched any more.
    pub machines_off: Vec<String>,
}

/// A piece of work, and when.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WorkDocument {
    /// A room.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub room: Option<String>,
    /// A task of it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub task: Option<String>,
    /// Or a duty.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub duty: Option<String>,
    /// Or a break.
    #[serde(default, rename = "break", skip_serializing_if = "Option::is_none")]
    pub rest: Option<String>,
    /// Or a machine.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub machine: Option<String>,
    /// From when.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
    /// Until when.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to: Option<String>,
    /// From when it was before.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from_before: Option<String>,
    /// Whose it was, or is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub other: Option<String>,
}

/// A room of which less or more is done.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CutDocument {
    /// Which.
    pub room: String,
    /// Tasks given up.
    pub without: Vec<String>,
    /// Tasks taken on.
    pub with: Vec<String>,
}

impl ChangesDocument {
    /// Writes changes down. `shares` are the highest before and now.
    pub fn new(site: &Site, date: String, diff: &Diff, shares: (f64, f64)) -> ChangesDocument {
        let millionths = |share: f64| (share * 1e6).round() / 1e6;
        let undone = |list: &[UndoneWork]| list.iter().map(|w| undone(site, *w)).collect();
        ChangesDocument {
            version: 1,
            site: site.name.clone(),
            date,
            stops: diff.counts.stops,
            kept: diff.counts.kept,
            on_time: diff.counts.on_time,
            runs_touched: diff.counts.runs,
            highest_before: millionths(shares.0),
            highest: millionths(shares.1),
            people: diff.people.iter().map(|p| person(site, p)).collect(),
            given_up: undone(&diff.given_up),
            taken_on: undone(&diff.taken_on),
        }
    }

    /// The text of the file, indented, with a line break at its end.
    ///
    /// # Errors
    /// Where a number cannot be written: JSON has no infinity.
    pub fn to_json(&self) -> Result<String, serde_json::Error> {
        Ok(serde_json::to_string_pretty(self)? + "\n")
    }
}

fn person(site: &Site, person: &PersonDiff) -> PersonDocument {
    let span = |s: &Option<Span>| s.map(|s| [s.from.to_string(), s.to.to_string()]);
    let names = |tasks: &[DueTask]| tasks.iter().map(|t| t.task(site).name.clone()).collect();
    let shift = |s: &Shift| WorkDocument {
        other: s.other.map(|w| name(site, w)),
        ..work(site, person.worker, s.work, s.span)
    };
    PersonDocument {
        worker: name(site, person.worker),
        before: span(&person.runs.0),
        after: span(&person.runs.1),
        added: person.added.iter().map(shift).collect(),
        dropped: person.dropped.iter().map(shift).collect(),
        moved: person
            .moved
            .iter()
            .map(|(what, before, after)| WorkDocument {
                from_before: Some(before.from.to_string()),
                ..work(site, person.worker, *what, *after)
            })
            .collect(),
        cut: person
            .cut
            .iter()
            .map(|(room, without, with)| CutDocument {
                room: site.rooms[room.index()].id.clone(),
                without: names(without),
                with: names(with),
            })
            .collect(),
        keys: person
            .keys
            .iter()
            .map(|k| site.access[k.index()].clone())
            .collect(),
        machines: person
            .machines
            .iter()
            .map(|(machine, span)| WorkDocument {
                machine: Some(site.machines[machine.index()].name.clone()),
                ..times(*span)
            })
            .collect(),
        machines_off: person
            .machines_off
            .iter()
            .map(|m| site.machines[m.index()].name.clone())
            .collect(),
    }
}

fn name(site: &Site, worker: WorkerId) -> String {
    site.crew[worker.index()].name.clone()
}

fn times(span: Span) -> WorkDocument {
    WorkDocument {
        from: Some(span.from.to_string()),
        to: Some(span.to.to_string()),
        ..WorkDocument::default()
    }
}

fn work(site: &Site, worker: WorkerId, work: Work, span: Span) -> WorkDocument {
    let mut entry = times(span);
    match work {
        Work::Room(room) => entry.room = Some(site.rooms[room.index()].id.clone()),
        Work::Duty(duty) => entry.duty = site.duties.get(duty).map(|d| d.name.clone()),
        Work::Break(rest) => {
            entry.rest = site.crew[worker.index()]
                .breaks
                .get(rest)
                .map(|b| b.name.clone());
        }
    }
    entry
}

fn undone(site: &Site, work: UndoneWork) -> WorkDocument {
    match work {
        UndoneWork::Task(task) => WorkDocument {
            room: Some(site.rooms[task.room.index()].id.clone()),
            task: Some(task.task(site).name.clone()),
            ..WorkDocument::default()
        },
        UndoneWork::Duty(duty) => WorkDocument {
            duty: site.duties.get(duty).map(|d| d.name.clone()),
            ..WorkDocument::default()
        },
    }
}
