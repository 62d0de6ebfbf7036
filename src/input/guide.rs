//! A dozen questions whose answers are a site. Nothing here reads or writes: questions go out, answers come in, and in the end there is
//! a draft.

use super::draft::{Closet, Draft, Floor, Hall, HallForm, Hand, Place, Room, Way, scalar};
use super::files::Instead;
use super::gather::builtin_kinds;
use super::hint::suggest;
use super::import::{Meaning, meaning};
use super::notation;
use super::{Problems, read_site_with};
use crate::units::{Clock, METRES_PER_FOOT, Span};
use std::path::Path;

/// Most floors, and most rooms on each: for more there are imports.
const MOST_FLOORS: usize = 20;
const MOST_ROOMS: u64 = 60;
/// Where runs begin.
const ENTRANCE: &str = "entrance";

/// A question.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// What is asked.
    pub text: String,
    /// What an empty answer means.
    pub default: String,
}

/// Asks one question after the other.
#[derive(Clone, Debug, Default)]
pub struct Guide {
    /// Questions answered so far.
    answered: usize,
    name: String,
    us: bool,
    floors: Vec<String>,
    lift: bool,
    /// For each floor, how many rooms of which kind.
    rooms: Vec<Vec<(u32, String)>>,
    area: f64,
    fixtures: (u32, u32),
    spacing: f64,
    /// Floors with a closet.
    closets: Vec<String>,
    crew: Vec<String>,
    shift: String,
    rest: u32,
    closure: String,
}

/// What a question is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Topic {
    Name,
    Units,
    Floors,
    Lift,
    Rooms(usize),
    Area,
    Fixtures,
    Spacing,
    Closets,
    Crew,
    Shift,
    Rest,
    Closure,
}

impl Guide {
    /// The next question; `None` if all were answered.
    pub fn question(&self) -> Option<Question> {
        let topic = self.topics().get(self.answered).copied()?;
        let (metres, square) = if self.us {
            ("feet", "square feet")
        } else {
            ("metres", "square metres")
        };
        let (text, default) = match topic {
            Topic::Name => (
                "What is the site called?".to_string(),
                "My site".to_string(),
            ),
            Topic::Units => ("Metric or US units?".to_string(), "metric".to_string()),
            Topic::Floors => (
                "Which floors, lowest first?".to_string(),
                "G, 1".to_string(),
            ),
            Topic::Lift => (
                "Is there a lift that carts can take?".to_string(),
                "yes".to_string(),
            ),
            Topic::Rooms(floor) => (
                format!("Rooms on floor {}?", self.floors[floor]),
                "4 office, 1 restroom, 1 corridor".to_string(),
            ),
            Topic::Area => (
                format!("How large is a usual room, in {square}?"),
                if self.us { "215" } else { "20" }.to_string(),
            ),
            Topic::Fixtures => (
                "What has a usual restroom?".to_string(),
                "2 bowls, 2 basins".to_string(),
            ),
            Topic::Spacing => (
                format!("How far is it from door to door, in {metres}?"),
                if self.us { "13" } else { "4" }.to_string(),
            ),
            Topic::Closets => (
                "On which floors is a closet with a sink, where carts are emptied too?".to_string(),
                self.floors[0].clone(),
            ),
            Topic::Crew => ("Who cleans?".to_string(), self.names_needed().join(", ")),
            Topic::Shift => ("From when to when?".to_string(), "17:00-22:00".to_string()),
            Topic::Rest => (
                "How many minutes is the rest break? 0 is none".to_string(),
                "15".to_string(),
            ),
            Topic::Closure => (
                "When may a restroom be closed for cleaning?".to_string(),
                format!("mon-fri {}", self.shift),
            ),
        };
        Some(Question { text, default })
    }

    /// Takes an answer to the question; an empty one is its default. The error says what is wrong, and the question stays.
    pub fn answer(&mut self, answer: &str) -> Result<(), String> {
        let Some(question) = self.question() else {
            return Ok(());
        };
        let topic = self.topics()[self.answered];
        let said = if answer.trim().is_empty() {
            question.default.as_str()
        } else {
            answer.trim()
        };
        let said = said.to_string();
        self.take(topic, &said)?;
        self.answered += 1;
        Ok(())
    }

    fn take(&mut self, topic: Topic, said: &str) -> Result<(), String> {
        match topic {
            Topic::Name => self.name = one_line(said)?,
            Topic::Units => {
                self.us = match said.to_lowercase().as_str() {
                    "us" => true,
                    "metric" => false,
                    _ => return Err("answer metric or us".to_string()),
                }
            }
            Topic::Floors => self.floors = distinct(said, MOST_FLOORS)?,
            Topic::Lift => self.lift = yes(said)?,
            Topic::Rooms(_) => {
                let rooms = rooms(said)?;
                self.rooms.push(rooms);
            }
            Topic::Area => self.area = figure(said, 1.0, 20_000.0)?,
            Topic::Fixtures => self.fixtures = fixtures(said)?,
            Topic::Spacing => self.spacing = figure(said, 0.5, 300.0)?,
            Topic::Closets => {
                let floors = distinct(said, MOST_FLOORS)?;
                if let Some(unknown) = floors.iter().find(|f| !self.floors.contains(f)) {
                    return Err(format!(
                        "there is no floor {unknown}; {}",
                        suggest(unknown, &self.floors)
                    ));
                }
                self.closets = floors;
            }
            Topic::Crew => {
                let crew = distinct(said, 100)?;
                if self.carts_stay() && crew.len() < self.floors.len() {
                    return Err(format!(
                        "without a lift carts stay on their floor: name {} people at least",
                        self.floors.len()
                    ));
                }
                self.crew = crew;
            }
            Topic::Shift => {
                let span = notation::span(said)
                    .map_err(|_| "write two times, such as 17:00-22:00".to_string())?;
                if span.length().as_minutes() < 60.0 {
                    return Err("that is less than an hour".to_string());
                }
                self.shift = said.to_string();
            }
            Topic::Rest => self.rest = figure(said, 0.0, 60.0)? as u32,
            Topic::Closure => {
                notation::hours(said)
                    .map_err(|_| "write hours, such as mon-fri 18:00-21:30".to_string())?;
                self.closure = said.to_string();
            }
        }
        Ok(())
    }

    /// The site file, once everything is answered.
    ///
    /// # Errors
    ///
    /// What does not fit together: a shift too short for the work of a room, say.
    pub fn site(&self) -> Result<String, Problems> {
        let text = self.draft().yaml();
        let path = Path::new("site.yaml").to_path_buf();
        read_site_with(&path, &Instead::from([(path.clone(), text.clone())]))?;
        Ok(text)
    }

    fn carts_stay(&self) -> bool {
        !self.lift && self.floors.len() > 1
    }

    fn names_needed(&self) -> Vec<String> {
        let count = if self.carts_stay() {
            self.floors.len().max(2)
        } else {
            2
        };
        let usual = ["Ana", "Ben", "Cem", "Dora"];
        (0..count)
            .map(|i| {
                usual
                    .get(i)
                    .map_or_else(|| format!("Person {}", i + 1), |n| (*n).to_string())
            })
            .collect()
    }

    fn topics(&self) -> Vec<Topic> {
        let mut topics = vec![Topic::Name, Topic::Units, Topic::Floors];
        if self.floors.len() > 1 {
            topics.push(Topic::Lift);
        }
        topics.extend((0..self.floors.len().max(1)).map(Topic::Rooms));
        topics.extend([Topic::Area, Topic::Fixtures, Topic::Spacing]);
        if !self.carts_stay() {
            topics.push(Topic::Closets);
        }
        topics.extend([Topic::Crew, Topic::Shift, Topic::Rest, Topic::Closure]);
        topics
    }

    fn draft(&self) -> Draft {
        let closets = if self.carts_stay() {
            self.floors.clone()
        } else {
            self.closets.clone()
        };
        let mut draft = Draft {
            name: self.name.clone(),
            us_units: self.us,
            notes: vec![
                "From the answers to a dozen questions: put in what you know better, room by room."
                    .to_string(),
                "Run `evenrun check` after each change: it lists every mistake at once."
                    .to_string(),
            ],
            ..Draft::default()
        };
        self.storeys(&closets, &mut draft);
        self.ways(&mut draft);
        self.people(&mut draft);
        draft
    }

    /// Floors, each with a hall and what lies along it.
    fn storeys(&self, closets: &[String], draft: &mut Draft) {
        let spacing_m = if self.us {
            self.spacing * METRES_PER_FOOT
        } else {
            self.spacing
        };
        let mut rooms = Vec::new();
        for (index, floor) in self.floors.iter().enumerate() {
            draft.floors.push(Floor {
                id: floor.clone(),
                height_m: None,
                guessed: false,
            });
            let mut places = Vec::new();
            if index == 0 {
                places.push(ENTRANCE.to_string());
            }
            if closets.contains(floor) {
                let id = format!("closet {floor}");
                places.push(id.clone());
                let name = format!("Closet on floor {floor}");
                draft.closets.push(Closet {
                    id,
                    name,
                    guessed: false,
                });
            }
            for room in self.rooms_of(index) {
                places.push(room.id.clone());
                let is_restroom = room
                    .keys
                    .iter()
                    .any(|(key, kind)| *key == "kind" && kind == "restroom");
                draft.group.extend(is_restroom.then(|| room.id.clone()));
                rooms.push(room);
            }
            let form = HallForm::Listed { spacing_m, places };
            draft.halls.push(Hall {
                id: format!("Hall {floor}"),
                floor: floor.clone(),
                form,
                guessed: false,
            });
        }
        draft.rooms = Some(rooms);
    }

    fn ways(&self, draft: &mut Draft) {
        if self.floors.len() < 2 {
            return;
        }
        let way = |id: &str| Way {
            id: id.to_string(),
            landings: self
                .floors
                .iter()
                .map(|f| format!("Hall {f}@start"))
                .collect(),
            length_m: None,
            guessed: true,
        };
        draft.stairs.push(way("stairs"));
        if self.lift {
            draft.lifts.push(way("lift"));
        }
    }

    fn people(&self, draft: &mut Draft) {
        draft.places.push(Place {
            id: ENTRANCE.to_string(),
            name: "Main entrance".to_string(),
            guessed: false,
        });
        draft.rest = self.break_window().map(|window| (self.rest, window));
        let start = |index: usize| {
            if self.carts_stay() {
                format!("closet {}", self.floors[index % self.floors.len()])
            } else {
                ENTRANCE.to_string()
            }
        };
        let hand = |(index, name): (usize, &String)| Hand {
            name: name.clone(),
            shift: self.shift.clone(),
            start: start(index),
            guessed: false,
        };
        draft.crew = self.crew.iter().enumerate().map(hand).collect();
    }

    /// Between the second and the last but one quarter of the shift.
    fn break_window(&self) -> Option<String> {
        let span = notation::span(&self.shift).ok().filter(|_| self.rest > 0)?;
        let quarter = span.length().0 / 4 / 60 * 60;
        let window = Span::new(Clock(span.from.0 + quarter), Clock(span.to.0 - quarter));
        (window.length().0 >= i64::from(self.rest) * 60)
            .then(|| format!("{}-{}", window.from.hour_minute(), window.to.hour_minute()))
    }

    fn rooms_of(&self, floor: usize) -> Vec<Room> {
        let id = &self.floors[floor];
        let mut made: Vec<Room> = Vec::new();
        let mut number = 0;
        for (count, kind) in &self.rooms[floor] {
            for nth in 1..=*count {
                let plain = !matches!(kind.as_str(), "restroom" | "corridor" | "stairs" | "lobby");
                number += u32::from(plain);
                let nth = if *count > 1 {
                    format!(" {nth}")
                } else {
                    String::new()
                };
                let id = match kind.as_str() {
                    _ if plain => format!("{id}{number:02}"),
                    "restroom" => format!("WC {id}{nth}"),
                    kind => format!("{kind} {id}{nth}"),
                };
                made.push(Room {
                    id,
                    keys: self.keys(kind),
                });
            }
        }
        made
    }

    fn keys(&self, kind: &str) -> Vec<(&'static str, String)> {
        let area = if self.us { "area_sqft" } else { "area_m2" };
        let size = |share: f64| format!("{}", (self.area * share).round().max(1.0));
        let mut keys = vec![("kind", scalar(kind))];
        let (bowls, basins) = self.fixtures;
        match kind {
            "restroom" => {
                let more = [
                    ("bowls", bowls),
                    ("basins", basins),
                    ("mirrors", 1),
                    ("dispensers", basins + 1),
                    ("bins", 1),
                ];
                keys.push((area, size(0.6)));
                keys.extend(more.map(|(key, n)| (key, n.to_string())));
                keys.push(("closure", format!("{:?}", self.closure)));
            }
            "corridor" => keys.push((area, size(2.0))),
            "stairs" => keys.push((area, size(0.7))),
            "office" => keys.extend([
                (area, size(1.0)),
                ("bins", "2".to_string()),
                ("desks", "2".to_string()),
            ]),
            "classroom" => keys.extend([
                (area, size(1.0)),
                ("bins", "2".to_string()),
                ("desks", "12".to_string()),
            ]),
            _ => keys.extend([(area, size(1.0)), ("bins", "1".to_string())]),
        }
        keys
    }
}

fn one_line(text: &str) -> Result<String, String> {
    if text.chars().count() > 100 || text.chars().any(char::is_control) {
        return Err("a shorter name, on one line".to_string());
    }
    Ok(text.to_string())
}

/// Names between commas, no two alike.
fn distinct(text: &str, most: usize) -> Result<Vec<String>, String> {
    let mut names: Vec<String> = Vec::new();
    for name in text.split(',').map(str::trim).filter(|n| !n.is_empty()) {
        let name = one_line(name)?;
        if names.contains(&name) {
            return Err(format!("`{name}` is there twice"));
        }
        names.push(name);
    }
    match names.len() {
        0 => Err("name one at least".to_string()),
        n if n > most => Err(format!("{most} at most")),
        _ => Ok(names),
    }
}

fn yes(text: &str) -> Result<bool, String> {
    match text.to_lowercase().as_str() {
        "yes" | "y" => Ok(true),
        "no" | "n" => Ok(false),
        _ => Err("answer yes or no".to_string()),
    }
}

fn figure(text: &str, least: f64, most: f64) -> Result<f64, String> {
    let number: f64 = text
        .replace(',', ".")
        .parse()
        .map_err(|_| "answer with a number".to_string())?;
    if (least..=most).contains(&number) {
        Ok(number)
    } else {
        Err(format!("from {least} to {most}"))
    }
}

/// `6 office, 1 restroom`
fn rooms(text: &str) -> Result<Vec<(u32, String)>, String> {
    let kinds = builtin_kinds();
    let mut rooms: Vec<(u32, String)> = Vec::new();
    for part in text.split(',').map(str::trim).filter(|p| !p.is_empty()) {
        let (count, word) = part.split_once(' ').unwrap_or(("1", part));
        let (count, word) = count.parse::<u32>().map_or((1, part), |n| (n, word.trim()));
        let singular = word.strip_suffix('s').unwrap_or(word);
        let kind = [word, singular]
            .into_iter()
            .find_map(|w| match meaning(w, &kinds) {
                Meaning::Is(kind) | Meaning::Guessed(kind) if kinds.contains(&kind) => Some(kind),
                _ => None,
            });
        let Some(kind) = kind else {
            return Err(format!(
                "`{word}` is no kind of room; the kinds are {}",
                kinds.join(", ")
            ));
        };
        match rooms.iter_mut().find(|(_, k)| *k == kind) {
            Some((n, _)) => *n = n.saturating_add(count),
            None => rooms.push((count, kind)),
        }
    }
    // In 64 bits: somebody may well answer with billions.
    let all: u64 = rooms.iter().map(|(n, _)| u64::from(*n)).sum();
    if all == 0 || all > MOST_ROOMS {
        return Err(format!(
            "from 1 to {MOST_ROOMS} rooms; more can be imported from a spreadsheet"
        ));
    }
    Ok(rooms)
}

/// `2 bowls, 2 basins`
fn fixtures(text: &str) -> Result<(u32, u32), String> {
    let wrong = || "answer like `2 bowls, 2 basins`".to_string();
    let of = |word: &str| {
        let part = text
            .split(',')
            .map(str::trim)
            .find(|p| p.to_lowercase().contains(word));
        part.and_then(|p| p.split(' ').next()?.parse::<u32>().ok())
            .filter(|n| *n <= 50)
    };
    match (of("bowl"), of("basin")) {
        (Some(bowls), Some(basins)) if bowls > 0 => Ok((bowls, basins)),
        _ => Err(wrong()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn answered(answers: &[&str]) -> Guide {
        let mut guide = Guide::default();
        for answer in answers {
            let question = guide
                .question()
                .unwrap_or_else(|| panic!("no question is left for `{answer}`"));
            guide
                .answer(answer)
                .unwrap_or_else(|why| panic!("{question:?} {answer}: {why}"));
        }
        guide
    }

    #[test]
    fn every_default_makes_a_site_and_there_are_about_a_dozen_questions() {
        let mut guide = Guide::default();
        let mut asked = 0;
        while guide.question().is_some() {
            guide.answer("").unwrap();
            asked += 1;
        }
        assert!((10..=14).contains(&asked), "{asked}");
        let text = guide.site().unwrap_or_else(|problems| panic!("{problems}"));
        assert!(
            text.contains("units: metric") && text.contains("G01"),
            "{text}"
        );
    }

    #[test]
    fn without_a_lift_each_floor_has_its_own_closet_and_people() {
        let guide = answered(&[
            "Mill",
            "us",
            "B, G, 1",
            "no",
            "2 storage",
            "3 offices, 2 toilets",
            "4 classrooms, hallway",
            "300",
            "3 bowls, 2 basins",
            "15",
            "A, B, C",
            "18:00-23:00",
            "0",
            "18:30-22:30",
        ]);
        let text = guide.site().unwrap_or_else(|problems| panic!("{problems}"));
        assert!(
            text.contains("start: closet B") && text.contains("start: closet 1"),
            "{text}"
        );
        assert!(
            !text.contains("lifts:") && !text.contains("breaks"),
            "{text}"
        );
    }

    #[test]
    fn wrong_answers_are_told_and_asked_again() {
        let mut guide = Guide::default();
        guide.answer("x").unwrap();
        assert!(guide.answer("imperial").is_err());
        guide.answer("").unwrap();
        assert!(guide.answer("1, 1").is_err());
        guide.answer("G").unwrap();
        assert!(
            guide
                .answer("3 spaceships")
                .unwrap_err()
                .contains("the kinds are")
        );
        assert!(guide.answer("900 office").is_err());
    }

    /// Answers the question that begins so with every wrong answer of a list, and each time the words are the ones given.
    fn refused(guide: &mut Guide, question: &str, answers: &[(&str, &str)]) {
        let asked = guide.question().unwrap();
        assert!(asked.text.starts_with(question), "{asked:?}");
        for (answer, why) in answers {
            assert_eq!(guide.answer(answer).unwrap_err(), *why, "{answer}");
            assert_eq!(guide.question().as_ref(), Some(&asked), "{answer}");
        }
    }

    #[test]
    #[expect(clippy::too_many_lines, reason = "a table")]
    fn every_wrong_answer_is_told_in_its_own_words() {
        let mut guide = Guide::default();
        let long = "x".repeat(101);
        let shorter = "a shorter name, on one line";
        refused(
            &mut guide,
            "What is the site",
            &[(&long, shorter), ("a\tb", shorter)],
        );
        for answer in ["Mill", "metric"] {
            guide.answer(answer).unwrap();
        }
        let many: Vec<String> = (1..=21).map(|n| n.to_string()).collect();
        let wrong = [(",", "name one at least"), (&many.join(", "), "20 at most")];
        refused(&mut guide, "Which floors", &wrong);
        guide.answer("G, 1, 2").unwrap();
        refused(
            &mut guide,
            "Is there a lift",
            &[("perhaps", "answer yes or no")],
        );
        guide.answer("Y").unwrap();
        for answer in ["office, 2 offices", "lab", "lab"] {
            guide.answer(answer).unwrap();
        }
        assert_eq!(guide.rooms[0], [(3, "office".to_string())]);
        let wrong = [
            ("0.5", "from 1 to 20000"),
            ("big", "answer with a number"),
            ("NaN", "from 1 to 20000"),
        ];
        refused(&mut guide, "How large", &wrong);
        guide.answer("18,5").unwrap();
        assert!((guide.area - 18.5).abs() < 1e-9);
        let like = "answer like `2 bowls, 2 basins`";
        let wrong = [
            ("2 bowls", like),
            ("no bowls, 2 basins", like),
            ("0 bowls, 1 basin", like),
        ];
        refused(&mut guide, "What has a usual restroom", &wrong);
        guide.answer("1 bowl, 51 basins").unwrap_err();
        guide.answer("1 bowl, 1 basin").unwrap();
        guide.answer("").unwrap();
        let wrong = [("G, 3", "there is no floor 3; did you mean `1`?")];
        refused(&mut guide, "On which floors is a closet", &wrong);
        guide.answer("2").unwrap();
        guide.answer("Ana").unwrap();
        let wrong = [
            ("evening", "write two times, such as 17:00-22:00"),
            ("17:00-17:30", "that is less than an hour"),
        ];
        refused(&mut guide, "From when to when", &wrong);
        guide.answer("17:00-22:00").unwrap();
        refused(&mut guide, "How many minutes", &[("61", "from 0 to 60")]);
        guide.answer("0").unwrap();
        let hours = "write hours, such as mon-fri 18:00-21:30";
        refused(&mut guide, "When may a restroom", &[("at night", hours)]);
        guide.answer("").unwrap();
        // All is answered: whatever else is said changes nothing.
        assert_eq!(guide.question(), None);
        guide.answer("more").unwrap();
        let text = guide.site().unwrap_or_else(|problems| panic!("{problems}"));
        assert!(
            text.contains("closet 2") && !text.contains("closet G"),
            "{text}"
        );
    }

    #[test]
    fn billions_of_rooms_are_too_many_and_no_sum_runs_over() {
        for answer in [
            "4294967295 office, 2 lab",
            "4294967295 office, 4294967295 offices",
            "0 office",
        ] {
            let why = rooms(answer).unwrap_err();
            assert!(why.starts_with("from 1 to 60 rooms"), "{answer}: {why}");
        }
    }

    #[test]
    fn without_a_lift_there_are_as_many_people_as_floors() {
        let mut guide = answered(&[
            "",
            "",
            "G, 1, 2, 3, 4",
            "no",
            "",
            "",
            "",
            "",
            "",
            "",
            "",
            "",
        ]);
        assert_eq!(
            guide.question().unwrap().default,
            "Ana, Ben, Cem, Dora, Person 5"
        );
        let why = "without a lift carts stay on their floor: name 5 people at least";
        refused(&mut guide, "Who cleans", &[("Ana, Ben, Cem, Dora", why)]);
    }

    #[test]
    fn one_floor_has_no_ways_up() {
        let mut guide = answered(&["", "", "G"]);
        while guide.question().is_some() {
            guide.answer("").unwrap();
        }
        let text = guide.site().unwrap_or_else(|problems| panic!("{problems}"));
        assert!(
            !text.contains("stairs:") && !text.contains("lifts:"),
            "{text}"
        );
    }
}
