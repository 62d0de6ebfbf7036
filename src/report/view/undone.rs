//! What is left undone, gathered by priority and reason.

use super::names;
use crate::plan::{Reason, UndoneWork};
use crate::report::Answer;
use crate::report::words::Words;
use crate::site::{PlaceId, Priority};
use crate::units::Seconds;
use std::collections::BTreeMap;

/// Undone work of one priority with one reason.
#[derive(Clone, Debug)]
pub(in crate::report) struct UndoneGroup {
    /// How much it matters, or that it is a duty.
    pub(in crate::report) priority: String,
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
pub(in crate::report) fn undone(answer: &Answer, words: &Words) -> Vec<UndoneGroup> {
    let mut groups: BTreeMap<Key, (f64, BTreeMap<PlaceId, Vec<String>>)> = BTreeMap::new();
    for undone in &answer.plan.undone {
        let (priority, place, name, minutes) = described(answer, words, undone.what);
        let (rank, reason) = reason_words(words, &undone.reason);
        let group = groups.entry((priority, rank, reason)).or_default();
        group.0 += minutes;
        group.1.entry(place).or_default().push(name);
    }
    groups
        .into_iter()
        .map(|(key, (minutes, places))| group(answer, words, key, minutes, places))
        .collect()
}

fn group(
    answer: &Answer,
    words: &Words,
    key: Key,
    minutes: f64,
    places: BTreeMap<PlaceId, Vec<String>>,
) -> UndoneGroup {
    let (priority, _, reason) = key;
    let named = places
        .into_iter()
        .map(|(place, tasks)| (names::place(answer.site, place), tasks));
    UndoneGroup {
        priority: words.say(priority.map_or("priority-duty", priority_message)),
        reason,
        time: Seconds::of_work(minutes, 1.0),
        places: named.collect(),
    }
}

fn described(
    answer: &Answer,
    words: &Words,
    work: UndoneWork,
) -> (Option<Priority>, PlaceId, String, f64) {
    let site = answer.site;
    match work {
        UndoneWork::Task(due) => {
            let minutes = due.minutes(site) + due.wipe_minutes(site);
            (
                Some(due.priority(site)),
                site.place_of_room(due.room),
                words.known(&due.task(site).name),
                minutes,
            )
        }
        UndoneWork::Duty(index) => {
            let duty = &site.duties[index];
            (None, duty.place, duty.name.clone(), duty.minutes)
        }
    }
}

fn priority_message(priority: Priority) -> &'static str {
    match priority {
        Priority::Health => "priority-health",
        Priority::Expected => "priority-expected",
        Priority::Appearance => "priority-appearance",
    }
}

fn reason_words(words: &Words, reason: &Reason) -> (u8, String) {
    let told = |id, why: &String| words.tell(id, &[("why", why.as_str().into())]);
    match reason {
        Reason::Nobody(why) => (0, told("undone-nobody", why)),
        Reason::NoWindow(why) => (1, told("undone-no-window", why)),
        Reason::TooLate(why) => (2, told("undone-too-late", why)),
        Reason::NoTime => (3, words.say("undone-no-time")),
    }
}
