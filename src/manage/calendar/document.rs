//! A calendar as it is written: the file that a site names, and one JSON object with everything known about it.

use super::{Heaviest, PeriodicCalendar};
use crate::site::{Diary, Site};
use schemars::JsonSchema;
use serde::Serialize;
use std::fmt::Write;

/// The version of documents written here.
const VERSION: u32 = 1;

/// The written calendar.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct CalendarDocument {
    /// Version of this format: 1.
    pub version: u32,
    /// The program that wrote it, with its version.
    pub program: String,
    /// The site's name.
    pub site: String,
    /// First day.
    pub from: String,
    /// Last day.
    pub to: String,
    /// What the choices were drawn from.
    pub seed: u64,
    /// Turns in all.
    pub turns: usize,
    /// Of these, taken over from the calendar file.
    pub kept: usize,
    /// Working days.
    pub days: Vec<DayDocument>,
    /// The heaviest days: everybody's first, then each owner's.
    pub heaviest: Vec<HeaviestDocument>,
    /// Turns without any day, as room and task.
    pub without_day: Vec<[String; 2]>,
    /// Turns out of step, as room, task and day.
    pub irregular: Vec<[String; 3]>,
    /// The days of each task.
    pub work: Vec<WorkDocument>,
}

/// A working day.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct DayDocument {
    /// Which.
    pub date: String,
    /// Minutes of daily work.
    pub daily_minutes: f64,
    /// Minutes of periodic work.
    pub periodic_minutes: f64,
    /// Minutes available.
    pub available_minutes: f64,
}

/// A heaviest day.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct HeaviestDocument {
    /// Whose; everybody's if not there.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub worker: Option<String>,
    /// Its share without a calendar.
    pub before: f64,
    /// Its share in this calendar.
    pub share: f64,
    /// What no calendar can be below.
    pub bound: f64,
    /// Share over bound, less 1.
    pub gap: f64,
}

/// The days of a task.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct WorkDocument {
    /// The room.
    pub room: String,
    /// The task.
    pub task: String,
    /// In whose run it was counted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub worker: Option<String>,
    /// The days.
    pub days: Vec<String>,
}

impl CalendarDocument {
    /// Writes a calendar down.
    pub fn new(
        site: &Site,
        calendar: &PeriodicCalendar,
        program: &str,
        seed: u64,
    ) -> CalendarDocument {
        let minutes = |seconds: i64| (seconds as f64 / 60.0 * 100.0).round() / 100.0;
        let day = |d: &super::DayLoad| DayDocument {
            date: d.date.to_string(),
            daily_minutes: minutes(d.daily),
            periodic_minutes: minutes(d.periodic),
            available_minutes: minutes(d.available),
        };
        let named = |t: &crate::work::DueTask| {
            let room = site.rooms[t.room.index()].id.clone();
            [room, t.task(site).name.clone()]
        };
        CalendarDocument {
            version: VERSION,
            program: program.to_string(),
            site: site.name.clone(),
            from: calendar.diary.from.to_string(),
            to: calendar.diary.to.to_string(),
            seed,
            turns: calendar.turns,
            kept: calendar.kept,
            days: calendar.days.iter().map(day).collect(),
            heaviest: calendar
                .heaviest
                .iter()
                .map(|h| heaviest(site, h))
                .collect(),
            without_day: calendar.without_day.iter().map(named).collect(),
            irregular: calendar
                .irregular
                .iter()
                .map(|(task, date)| {
                    let [room, name] = named(task);
                    [room, name, date.to_string()]
                })
                .collect(),
            work: work(site, &calendar.diary),
        }
    }

    /// The text of the object, indented, with a line break at its end.
    ///
    /// # Errors
    /// Where a number cannot be written: JSON has no infinity.
    pub fn to_json(&self) -> Result<String, serde_json::Error> {
        Ok(serde_json::to_string_pretty(self)? + "\n")
    }

    /// The calendar file that a site names: YAML, an entry for each task of each room.
    pub fn to_file(&self) -> String {
        // A JSON text is a YAML text, whatever is in it.
        let quoted = |text: &str| serde_json::Value::from(text).to_string();
        let mut text = format!(
            "# On which days periodic work falls. Written by `evenrun calendar`; change a day as you like.\nversion: {}\nfrom: {}\nto: {}\nwork:\n",
            self.version, self.from, self.to
        );
        for entry in &self.work {
            let worker = entry
                .worker
                .as_deref()
                .map(|w| format!("worker: {}, ", quoted(w)));
            // Writing to a text cannot fail.
            let _ = writeln!(
                text,
                "  - {{room: {}, task: {}, {}days: [{}]}}",
                quoted(&entry.room),
                quoted(&entry.task),
                worker.unwrap_or_default(),
                entry.days.join(", ")
            );
        }
        text
    }
}

fn heaviest(site: &Site, heaviest: &Heaviest) -> HeaviestDocument {
    let millionths = |share: f64| (share * 1e6).round() / 1e6;
    HeaviestDocument {
        worker: heaviest.owner.map(|w| site.crew[w.index()].name.clone()),
        before: millionths(heaviest.before),
        share: millionths(heaviest.share),
        bound: millionths(heaviest.bound),
        gap: millionths(heaviest.gap()),
    }
}

fn work(site: &Site, diary: &Diary) -> Vec<WorkDocument> {
    let entries = diary.work.iter();
    let one =
        |((room, task), entry): (&(crate::site::RoomId, String), &crate::site::DiaryEntry)| {
            WorkDocument {
                room: site.rooms[room.index()].id.clone(),
                task: task.clone(),
                worker: entry.owner.map(|w| site.crew[w.index()].name.clone()),
                days: entry.days.iter().map(ToString::to_string).collect(),
            }
        };
    entries.map(one).collect()
}

impl Heaviest {
    /// Share over bound, less 1; 0 where there is no bound.
    pub fn gap(&self) -> f64 {
        if self.bound > 0.0 {
            self.share / self.bound - 1.0
        } else {
            0.0
        }
    }
}
