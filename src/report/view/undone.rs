//! What is left undone, gathered by priority and reason.

use super::words;
use crate::plan::{Reason, UndoneWork};
use crate::report::Answer;
use crate::site::{PlaceId, Priority};
use crate::units::Seconds;
use std::collections::BTreeMap;

/// Undone work of one priority with one reason.
#[derive(Clone, Debug)]
pub(in crate::report) struct UndoneGroup {
    /// `health`, `expected`, `appearance` or `duty`.
    pub(in crate::report) priority: &'static str,
    /// Why, in words.
    pub(in crate::report) reason: String,
    /// How long it would take at pace 1.
    pub(in crate::report) time: Seconds,
    /// Each place with its tasks.
    pub(in crate::report) places: Vec<(String, Vec<String>)>,
}

/// Duties first, then from most to least important; within those by reason.
type Key = (Option<Priority>, u8, String);

/// All of it, most important first.
pub(super) fn undone(answer: &Answer) -> Vec<UndoneGroup> {
    let mut groups: BTreeMap<Key, (f64, BTreeMap<PlaceId, Vec<String>>)> = BTreeMap::new();
    for undone in &answer.plan.undone {
        let (priority, place, name, minutes) = described(answer, undone.what);
        let (rank, reason) = reason_words(&undone.reason);
        let group = groups.entry((priority, rank, reason)).or_default();
        group.0 += minutes;
        group.1.entry(place).or_default().push(name);
    }
    groups
        .into_iter()
        .map(|(key, (minutes, places))| group(answer, key, minutes, places))
        .collect()
}

fn group(
    answer: &Answer,
    key: Key,
    minutes: f64,
    places: BTreeMap<PlaceId, Vec<String>>,
) -> UndoneGroup {
    let (priority, _, reason) = key;
    let named = places
        .into_iter()
        .map(|(place, tasks)| (words::place(answer.site, place), tasks));
    UndoneGroup {
        priority: priority.map_or("duty", Priority::word),
        reason,
        time: Seconds::of_work(minutes, 1.0),
        places: named.collect(),
    }
}

fn described(answer: &Answer, work: UndoneWork) -> (Option<Priority>, PlaceId, String, f64) {
    let site = answer.site;
    match work {
        UndoneWork::Task(due) => {
            let minutes = due.minutes(site) + due.wipe_minutes(site);
            (
                Some(due.priority(site)),
                site.place_of_room(due.room),
                due.task(site).name.clone(),
                minutes,
            )
        }
        UndoneWork::Duty(index) => {
            let duty = &site.duties[index];
            (None, duty.place, duty.name.clone(), duty.minutes)
        }
    }
}

fn reason_words(reason: &Reason) -> (u8, String) {
    match reason {
        Reason::Nobody(why) => (0, format!("nobody present may do it: {why}")),
        Reason::NoWindow(why) => (1, format!("it fits no shift and window: {why}")),
        Reason::NoTime => (
            2,
            "not enough time beside work that matters as much or more".into(),
        ),
    }
}
