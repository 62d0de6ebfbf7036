//! Hours of work by how often it is done and how much it matters: cleaning alone, at pace 1, without walking and fills.

use crate::site::{Frequency, Priority, Site};
use crate::work::{DueTask, WEEKS_OF_A_TERM, all_tasks, crew_days};
use std::collections::BTreeMap;

/// Weeks of a mean year of 365.25 days.
pub(super) const WEEKS_OF_A_YEAR: f64 = 365.25 / 7.0;

/// How often, as a group of the table: from most to least often.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Turn {
    /// Every working day.
    Daily,
    /// On named days.
    Named,
    /// So many times a week.
    Weekly,
    /// Every so many weeks.
    Weeks,
    /// Every month.
    Monthly,
    /// Every term.
    Termly,
}

impl Turn {
    /// The word in files.
    pub fn word(self) -> &'static str {
        match self {
            Turn::Daily => "daily",
            Turn::Named => "on named days",
            Turn::Weekly => "so many times a week",
            Turn::Weeks => "every so many weeks",
            Turn::Monthly => "monthly",
            Turn::Termly => "termly",
        }
    }
}

/// The hours of a site.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Workload {
    /// Hours a week, by how often and then by priority: health, expected, appearance.
    pub weekly: BTreeMap<Turn, [f64; 3]>,
    /// Working days of a week less the part of it that holidays take is not counted: the days on which anybody works.
    pub days_a_week: usize,
}

impl Workload {
    /// Hours a week of work that matters at least so much.
    pub fn weekly_to(&self, priority: Priority) -> f64 {
        let rows = self.weekly.values();
        rows.flat_map(|row| &row[..=priority as usize]).sum()
    }

    /// The same in a year.
    pub fn yearly_to(&self, priority: Priority) -> f64 {
        self.weekly_to(priority) * WEEKS_OF_A_YEAR
    }
}

/// The hours of a site, duties not counted.
pub fn workload(site: &Site) -> Workload {
    let days = crew_days(site);
    let days_a_week = days.iter().count();
    let mut load = Workload {
        days_a_week,
        ..Workload::default()
    };
    for task in all_tasks(site) {
        let (turn, times) = how_often(site, task, days_a_week);
        let hours = (task.minutes(site) + task.wipe_minutes(site)) / 60.0 * times;
        load.weekly.entry(turn).or_default()[task.priority(site) as usize] += hours;
    }
    load
}

/// Its group, and how many times a week.
fn how_often(site: &Site, task: DueTask, days: usize) -> (Turn, f64) {
    let worked = crew_days(site);
    match &task.task(site).frequency {
        Frequency::Daily => (Turn::Daily, days as f64),
        Frequency::On(named) => {
            let both = named.iter().filter(|d| worked.contains(*d)).count();
            (Turn::Named, both as f64)
        }
        Frequency::PerWeek(times) => (Turn::Weekly, f64::from(*times).min(days as f64)),
        Frequency::EveryWeeks(weeks) => (Turn::Weeks, 1.0 / f64::from((*weeks).max(1))),
        Frequency::Monthly => (Turn::Monthly, 12.0 / WEEKS_OF_A_YEAR),
        Frequency::Termly => (Turn::Termly, 1.0 / f64::from(WEEKS_OF_A_TERM)),
    }
}
