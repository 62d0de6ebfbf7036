//! On which days periodic work falls, where a calendar file says so.

use super::{RoomId, WorkerId};
use jiff::civil::Date;
use std::collections::BTreeMap;

/// A stretch of days, and the days of it on which each periodic task of each room falls.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Diary {
    /// First day.
    pub from: Date,
    /// Last day.
    pub to: Date,
    /// By room and name of the task. What is not in it falls on days as if there were no calendar.
    pub work: BTreeMap<(RoomId, String), DiaryEntry>,
}

/// The days of one task of one room.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct DiaryEntry {
    /// In order; may be none.
    pub days: Vec<Date>,
    /// In whose run it was counted.
    pub owner: Option<WorkerId>,
}

impl Diary {
    /// Whether a periodic task falls on a date; `None` where the calendar says nothing of it.
    pub fn says(&self, room: RoomId, task: &str, date: Date) -> Option<bool> {
        if !(self.from..=self.to).contains(&date) {
            return None;
        }
        // A key that owns its text: looked up once for each periodic task of a date.
        let entry = self.work.get(&(room, task.to_string()))?;
        Some(entry.days.contains(&date))
    }
}
