//! What waits until another night, since when, and how late it becomes.

use super::saved_by::Saver;
use crate::plan::{Reason, Tonight, Undone, UndoneWork, Waited, patience};
use crate::site::{Site, Weekdays};
use jiff::civil::Date;

/// A piece of work that waits.
#[derive(Clone, Debug, PartialEq)]
pub struct Wait {
    /// What.
    pub what: UndoneWork,
    /// Why.
    pub reason: Reason,
    /// The date on which it was due first.
    pub since: Date,
    /// The next date on which anybody of the crew is on duty.
    pub next: Date,
    /// How many days late it becomes if it is done then.
    pub days_late: i32,
    /// Whether that is longer than its frequency allows: then it comes before everything but health.
    pub overdue: bool,
    /// The smallest thing that would have saved it.
    pub saver: Option<Saver>,
}

/// What waits, most important first: everything that a plan leaves undone. `savers` are by entry; there may be none.
pub fn waits(
    site: &Site,
    date: Date,
    tonight: &Tonight,
    undone: &[Undone],
    savers: &[Option<Saver>],
) -> Vec<Wait> {
    let next = next_night(site, date);
    let one = |(index, undone): (usize, &Undone)| {
        let since = since(site, tonight, undone.what).unwrap_or(date);
        let days_late = (next - since).get_days();
        Wait {
            what: undone.what,
            reason: undone.reason.clone(),
            since,
            next,
            days_late,
            overdue: match undone.what {
                UndoneWork::Task(task) => days_late > patience(&task.task(site).frequency),
                UndoneWork::Duty(_) => false,
            },
            saver: savers.get(index).cloned().flatten(),
        }
    };
    let mut waits: Vec<Wait> = undone.iter().enumerate().map(one).collect();
    waits.sort_by_key(|w| (rank(site, w.what), w.since, w.what));
    waits
}

/// Duties first, then by priority.
fn rank(site: &Site, work: UndoneWork) -> u8 {
    match work {
        UndoneWork::Duty(_) => 0,
        UndoneWork::Task(task) => 1 + task.priority(site) as u8,
    }
}

/// Since when a piece of work waits, if it did already.
fn since(site: &Site, tonight: &Tonight, work: UndoneWork) -> Option<Date> {
    let is_it = |w: &&Waited| match work {
        UndoneWork::Task(task) => {
            w.room.as_ref() == Some(&site.rooms[task.room.index()].id)
                && w.task.as_ref() == Some(&task.task(site).name)
        }
        UndoneWork::Duty(duty) => w.duty.as_ref() == Some(&site.duties[duty].name),
    };
    tonight.waited.iter().find(is_it)?.since.parse().ok()
}

/// The first date after `date` on which anybody works; the day after if nobody ever does.
fn next_night(site: &Site, date: Date) -> Date {
    let days = site
        .crew
        .iter()
        .fold(Weekdays::default(), |all, w| all.or(w.days));
    let coming = date.series(jiff::Span::new().days(1)).skip(1).take(7);
    let mut working = coming.filter(|d| days.contains(d.weekday()));
    working
        .next()
        .or_else(|| date.tomorrow().ok())
        .unwrap_or(date)
}
