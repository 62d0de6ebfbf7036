//! Whose rooms are whose: letters for each person, and a fill of tone and pattern, so that colour is never the only sign.
//!
//! Eight tones of unequal lightness and eight patterns. Neighbours in the list differ in both; 64 people have a fill of their own, and the
//! letters tell further ones apart.

use crate::report::Answer;
use crate::report::view::View;
use crate::site::{RoomId, Site};
use maud::{Markup, html};
use std::collections::{BTreeMap, BTreeSet};

/// How many tones the style has, and how many patterns there are.
const TONES: usize = 8;
/// The strokes of each pattern on a tile of twelve units; the first is plain.
const STROKES: [&str; TONES] = [
    "",
    "M-3,3 L3,-3 M0,12 L12,0 M9,15 L15,9",
    "M0,6 H12",
    "M-3,9 L3,15 M0,0 L12,12 M9,-3 L15,3",
    "M6,0 V12",
    "M2,3 h2 M8,9 h2",
    "M0,6 H12 M6,0 V12",
    "M0,0 L12,12 M0,12 L12,0",
];

/// Who does which rooms.
#[derive(Clone, Debug)]
pub(in crate::report) struct Owners {
    /// Letters of each run's worker, in the plan's order.
    marks: Vec<String>,
    /// The runs that work in a room.
    of_room: BTreeMap<RoomId, Vec<usize>>,
}

impl Owners {
    /// Of a plan.
    pub(in crate::report) fn of(answer: &Answer, view: &View) -> Owners {
        let names: Vec<&str> = view.runs.iter().map(|r| r.name.as_str()).collect();
        let mut of_room: BTreeMap<RoomId, Vec<usize>> = BTreeMap::new();
        for (index, run) in answer.plan.runs.iter().enumerate() {
            for room in run.stops.iter().filter_map(|s| s.what.room()) {
                let owners = of_room.entry(room).or_default();
                if owners.last() != Some(&index) {
                    owners.push(index);
                }
            }
        }
        Owners {
            marks: marks(&names),
            of_room,
        }
    }

    /// The letters of a run's worker.
    pub(in crate::report) fn mark(&self, run: usize) -> &str {
        self.marks.get(run).map_or("", String::as_str)
    }

    /// The runs that work in a room; mostly one.
    pub(in crate::report) fn of_room(&self, room: RoomId) -> &[usize] {
        self.of_room.get(&room).map_or(&[], Vec::as_slice)
    }

    /// The letters of all who work in a room, such as `Me` or `Me+To`.
    pub(in crate::report) fn marks_of_room(&self, room: RoomId) -> String {
        let marks: Vec<&str> = self.of_room(room).iter().map(|r| self.mark(*r)).collect();
        marks.join("+")
    }
}

/// The fill of a run's rooms.
pub(in crate::report) fn fill(run: usize) -> String {
    format!("url(#own-{})", run % (TONES * TONES))
}

/// Patterns that the fills of so many runs refer to.
pub(in crate::report) fn patterns(runs: usize) -> Markup {
    html! {
        @for run in 0..runs.min(TONES * TONES) {
            pattern id={ "own-" (run) } width="12" height="12" patternUnits="userSpaceOnUse" {
                rect class={ "tone-" (run % TONES) } width="12" height="12" {}
                @let strokes = STROKES[(run + run / TONES) % TONES];
                @if !strokes.is_empty() { path class="hatch" d=(strokes) {} }
            }
        }
    }
}

/// One to three letters for each name, all different: the shortest beginnings that are, or a number where a name has none to show.
fn marks(names: &[&str]) -> Vec<String> {
    let mut used = BTreeSet::new();
    let mut marks = Vec::with_capacity(names.len());
    for (index, name) in names.iter().enumerate() {
        let others = || names.iter().enumerate().filter(|(i, _)| *i != index);
        let is_free = |mark: &String| !used.contains(mark);
        let is_own = |mark: &&String| others().all(|(_, other)| !candidates(other).contains(*mark));
        let all = candidates(name);
        let found = all.iter().filter(|m| is_free(m)).find(is_own);
        let found = found
            .or_else(|| all.iter().rev().find(|m| is_free(m)))
            .cloned();
        let mark = found.unwrap_or_else(|| (index + 1).to_string());
        used.insert(mark.clone());
        marks.push(mark);
    }
    marks
}

/// First letters of the words of a name, then beginnings of its first word.
fn candidates(name: &str) -> Vec<String> {
    let words: Vec<&str> = name
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .collect();
    // A number is kept whole: `Worker 12` is W12.
    let part = |word: &&str| {
        let is_number = word.chars().all(|c| c.is_ascii_digit());
        word.chars()
            .take(if is_number { 3 } else { 1 })
            .collect::<String>()
    };
    let initials: String = words.iter().take(3).map(part).collect();
    let first = words.first().copied().unwrap_or("");
    let begin = |n: usize| first.chars().take(n).collect::<String>();
    let mut all = vec![initials.to_uppercase(), begin(2), begin(3)];
    all.retain(|mark| !mark.is_empty());
    all
}

/// Whether a room's kind is one of wet work that is kept apart.
pub(super) fn is_wet(site: &Site, room: RoomId) -> bool {
    site.kinds[site.rooms[room.index()].kind.index()].restroom
}

#[cfg(test)]
mod tests {
    use super::*;

    fn distinct(marks: &[String]) -> usize {
        marks.iter().collect::<BTreeSet<_>>().len()
    }

    #[test]
    fn marks_are_short_and_no_two_are_alike() {
        let crew = ["Aoife", "Blessing", "Mei", "Ruairi", "Samira", "Tomasz"];
        assert_eq!(marks(&crew), ["A", "B", "M", "R", "S", "T"]);
        assert_eq!(marks(&["Ana", "Anton", "Ben Cole"]), ["Ana", "Ant", "BC"]);
        let odd = [
            "👩‍🔧",
            "👩‍🔧",
            "עובד ניקיון",
            "",
            "=cmd",
            "Ana",
            "Ana",
            "Ana",
            "Ana",
            "Ana",
        ];
        assert_eq!(distinct(&marks(&odd)), odd.len());
        let many: Vec<String> = (0..60).map(|n| format!("Worker {n}")).collect();
        let many: Vec<&str> = many.iter().map(String::as_str).collect();
        assert_eq!(distinct(&marks(&many)), 60);
        assert_eq!(
            (marks(&many)[1].as_str(), marks(&many)[59].as_str()),
            ("W1", "W59")
        );
    }

    #[test]
    fn neighbours_differ_in_tone_and_pattern_and_64_fills_are_all_different() {
        let look = |run: usize| (run % TONES, (run + run / TONES) % TONES);
        let all: BTreeSet<_> = (0..TONES * TONES).map(look).collect();
        assert_eq!(all.len(), TONES * TONES);
        for run in 1..TONES * TONES {
            assert!(look(run).0 != look(run - 1).0);
        }
    }
}
