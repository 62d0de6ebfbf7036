//! The carry-over: what waits, written down for the next night, and how that night takes it up.

use super::waits::Wait;
use crate::plan::{Misfit, Tonight, UndoneReason, UndoneWork, Waited};
use crate::site::Site;
use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The version of documents written and read here.
const VERSION: u32 = 1;

/// Everything that waits at the end of a night.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CarryDocument {
    /// Version of this format: 1.
    pub version: u32,
    /// The site's name.
    pub site: String,
    /// The date of the night.
    pub date: String,
    /// What waits, most important first.
    pub waits: Vec<WaitDocument>,
}

/// One piece of work that waits.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WaitDocument {
    /// The room of a task.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub room: Option<String>,
    /// The task.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub task: Option<String>,
    /// The duty, instead of a room and a task.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub duty: Option<String>,
    /// How much the task matters: `health`, `expected` or `appearance`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub priority: Option<String>,
    /// How long it takes at pace 1.
    pub minutes: f64,
    /// Why it waits.
    pub reason: UndoneReason,
    /// The reason in more words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub detail: Option<String>,
    /// The date on which it was due first.
    pub since: String,
    /// The next date on which anybody is on duty.
    pub next: String,
    /// How many days late it becomes if it is done then.
    pub days_late: i32,
    /// Whether that is longer than its frequency allows.
    pub overdue: bool,
    /// The smallest thing that would have saved it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub saved_by: Option<String>,
}

impl CarryDocument {
    /// Writes down what waits after the night of a date.
    pub fn new(site: &Site, date: Date, waits: &[Wait]) -> CarryDocument {
        CarryDocument {
            version: VERSION,
            site: site.name.clone(),
            date: date.to_string(),
            waits: waits.iter().map(|w| entry(site, w)).collect(),
        }
    }

    /// The text of the file, indented, with a line break at its end.
    ///
    /// # Errors
    /// Where a number cannot be written: JSON has no infinity.
    pub fn to_json(&self) -> Result<String, serde_json::Error> {
        Ok(serde_json::to_string_pretty(self)? + "\n")
    }

    /// Reads the text of a carry-over file.
    ///
    /// # Errors
    /// A text that is not such a file, or of another version.
    pub fn from_json(text: &str) -> Result<CarryDocument, Misfit> {
        let unread = |error: serde_json::Error| {
            let at = format!("{}:{}", error.line(), error.column());
            let message = error.to_string();
            let message = message.split(" at line ").next().unwrap_or_default();
            Misfit::new(at, format!("this is no carry-over file: {message}"))
                .hint("a carry-over file is the `carry.json` that `evenrun cover` and `evenrun plan` write")
        };
        // Before all else: another version may have other keys.
        let Versioned { version } = serde_json::from_str(text).map_err(unread)?;
        if let Some(other) = version.filter(|v| *v != u64::from(VERSION)) {
            let message = format!("carry-over files of version {other} are not known here");
            let known = format!("this program reads version {VERSION}");
            return Err(Misfit::new("version", message).hint(known));
        }
        serde_json::from_str(text).map_err(unread)
    }

    /// The night of a date that takes up what waits.
    ///
    /// # Errors
    /// A carry-over of another site, or of that night or a later one.
    pub fn take_up(&self, site: &Site, date: Date) -> Result<Tonight, Misfit> {
        if self.site != site.name {
            let message = format!(
                "this is a carry-over of `{}`, not of `{}`",
                self.site, site.name
            );
            return Err(Misfit::new("site", message));
        }
        let of: Date = self
            .date
            .parse()
            .map_err(|_| Misfit::new("date", format!("`{}` is not a date", self.date)))?;
        if of >= date {
            let message = format!("this is what waited after {of}, which is not before {date}");
            return Err(Misfit::new("date", message).hint("say `--date` for the night to plan"));
        }
        let waited = self.waits.iter().map(|w| Waited {
            room: w.room.clone(),
            task: w.task.clone(),
            duty: w.duty.clone(),
            since: w.since.clone(),
        });
        Ok(Tonight {
            waited: waited.collect(),
            ..Tonight::default()
        })
    }
}

/// The one thing looked at before all others.
#[derive(Deserialize)]
struct Versioned {
    version: Option<u64>,
}

fn entry(site: &Site, wait: &Wait) -> WaitDocument {
    let (reason, detail) = UndoneReason::of(&wait.reason);
    let (room, task, duty, priority, minutes) = match wait.what {
        UndoneWork::Task(task) => (
            Some(site.rooms[task.room.index()].id.clone()),
            Some(task.task(site).name.clone()),
            None,
            Some(task.priority(site).word().to_string()),
            task.minutes(site) + task.wipe_minutes(site),
        ),
        UndoneWork::Duty(duty) => {
            let duty = &site.duties[duty];
            (None, None, Some(duty.name.clone()), None, duty.minutes)
        }
    };
    WaitDocument {
        room,
        task,
        duty,
        priority,
        minutes: (minutes * 100.0).round() / 100.0,
        reason,
        detail,
        since: wait.since.to_string(),
        next: wait.next.to_string(),
        days_late: wait.days_late,
        overdue: wait.overdue,
        saved_by: wait.saver.as_ref().map(|s| s.words(site)),
    }
}
