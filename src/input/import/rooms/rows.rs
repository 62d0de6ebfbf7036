//! The rows of a table as rooms: values tidied, units told, kinds understood.

use super::columns::{Target, unit_of_area};
use super::floors;
use super::heading::Heading;
use super::kinds::{CLOSET, Meaning, meaning};
use super::mapping::{IGNORED, Mapping};
use crate::input::import::table::{Cell, Mark, Number, Row, Table, number};
use crate::input::log::{Log, Pos};
use std::collections::{BTreeMap, BTreeSet};

/// What a person says for nothing.
const BLANKS: [&str; 8] = ["-", "–", "—", "n/a", "na", "none", "nil", "tbc"];
/// Columns of rooms that hold whole numbers.
const COUNTS: [&str; 12] = [
    "occupants",
    "bowls",
    "urinals",
    "basins",
    "mirrors",
    "dispensers",
    "showers",
    "bins",
    "desks",
    "sinks",
    "glass_panels",
    "couches",
];
/// Columns of rooms that hold other numbers.
const MEASURES: [&str; 5] = [
    "area_m2",
    "area_sqft",
    "door_width_m",
    "door_width_in",
    "door_extra_s",
];
/// Rows named in one message.
const NAMED: usize = 5;

/// What is known beside the table itself.
pub(crate) struct Known<'a> {
    /// Kinds of the site, or the built-in ones.
    pub(crate) kinds: &'a [String],
    /// The column for areas whose unit the table does not say.
    pub(crate) area: Option<&'static str>,
    /// Decimal mark, if the user says it.
    pub(crate) mark: Option<Mark>,
    pub(crate) mapping: Option<&'a Mapping>,
}

/// A room as a table has it.
#[derive(Clone, Debug, Default)]
pub(crate) struct Found {
    pub(crate) id: String,
    pub(crate) pos: Pos,
    /// Columns of rooms that are filled.
    pub(crate) cells: BTreeMap<&'static str, String>,
    /// Those of them that were guessed.
    pub(crate) guessed: BTreeSet<&'static str>,
    pub(crate) floor: Option<String>,
    pub(crate) building: Option<String>,
}

/// What the rows of a table are: rooms that were found, and what is no room.
#[derive(Debug, Default)]
pub(crate) struct Rooms {
    pub(crate) found: Vec<Found>,
    /// Custodial closets: no rooms, but places of a site.
    pub(crate) closets: Vec<Found>,
    /// Every word for a kind, and what it was taken for.
    pub(crate) kinds: Vec<(String, Option<String>)>,
}

/// Reads the rows under a heading.
pub(crate) fn read(table: &Table, heading: &Heading, known: &Known<'_>, log: &Log) -> Rooms {
    let rows = &table.rows[heading.row + 1..];
    // Square feet are measured where thousands have a comma.
    let in_feet = heading.of(Target::Key("area_sqft")).is_some() || known.area == Some("area_sqft");
    let mark = known.mark.or(table.mark).or_else(|| evident(rows, heading));
    let mark = mark.or(in_feet.then_some(Mark::Point));
    let mut reader = Reader {
        table,
        heading,
        known,
        mark,
        log,
        kinds: BTreeMap::new(),
        nameless: Vec::new(),
    };
    let mut rooms = Rooms::default();
    let mut first_at: BTreeMap<String, Pos> = BTreeMap::new();
    for row in rows {
        let Some((found, kind)) = reader.room(row) else {
            continue;
        };
        if let Some(first) = first_at.get(&found.id) {
            let message = format!(
                "room `{}` is there twice, first in row {}",
                found.id, first.line
            );
            log.error("I301", found.pos, message, "keep one row for each room");
            continue;
        }
        first_at.insert(found.id.clone(), found.pos);
        match kind.as_deref() {
            Some(CLOSET) => rooms.closets.push(found),
            Some(IGNORED) => {}
            _ => rooms.found.push(found),
        }
    }
    reader.tell_nameless();
    rooms.kinds = reader.tell_kinds();
    if log.errors() == 0 {
        fill_areas(&mut rooms.found, log);
        tell_uncounted(&rooms.found, log);
    }
    rooms
}

/// The decimal mark that the numbers themselves show, if they agree.
fn evident(rows: &[Row], heading: &Heading) -> Option<Mark> {
    let numbers = rows.iter().flat_map(|row| {
        let cells = row.cells.iter().zip(&heading.columns);
        cells
            .filter(|(_, column)| is_number(column.target))
            .map(|(cell, _)| cell)
    });
    let texts = numbers.filter(|cell| cell.value.is_none() && cell.text.contains(['.', ',']));
    let tries = |cell: &Cell, mark| matches!(number(&cell.text, Some(mark)), Number::Of(..));
    let (mut point, mut comma) = (false, false);
    for cell in texts.filter(|c| number(&c.text, None) != Number::Unclear) {
        let has_comma_decimals = cell.text.rfind(',') > cell.text.rfind('.');
        point |= !has_comma_decimals && tries(cell, Mark::Point);
        comma |= has_comma_decimals && tries(cell, Mark::Comma);
    }
    match (point, comma) {
        (true, false) => Some(Mark::Point),
        (false, true) => Some(Mark::Comma),
        _ => None,
    }
}

fn is_number(target: Option<Target>) -> bool {
    match target {
        Some(Target::Area) => true,
        Some(Target::Key(key)) => COUNTS.contains(&key) || MEASURES.contains(&key),
        _ => false,
    }
}

struct Reader<'a> {
    table: &'a Table,
    heading: &'a Heading,
    known: &'a Known<'a>,
    mark: Option<Mark>,
    log: &'a Log,
    /// Words for kinds as first met, what they mean, and where.
    kinds: BTreeMap<String, (Meaning, Pos, usize)>,
    /// Rows without a room number.
    nameless: Vec<Pos>,
}

impl Reader<'_> {
    /// The room of a row and its kind; `None` for a row without one.
    fn room(&mut self, row: &Row) -> Option<(Found, Option<String>)> {
        let cell = |target| {
            self.heading
                .of(target)
                .and_then(|i| row.cells.get(i))
                .filter(|c| !c.is_empty())
        };
        let Some(id) = cell(Target::Key("id")) else {
            self.nameless
                .extend(row.cells.iter().find(|c| !c.is_empty()).map(|c| c.pos));
            return None;
        };
        let mut found = Found {
            id: id.text.clone(),
            pos: id.pos,
            ..Found::default()
        };
        if id.odd.is_some() {
            self.odd(id);
            return None;
        }
        for (cell, column) in row.cells.iter().zip(&self.heading.columns) {
            if let Some(target) = column.target.filter(|_| !cell.is_empty()) {
                self.take(cell, target, &mut found);
            }
        }
        let kind = self.kind(&mut found, cell(Target::Key("kind")));
        Some((found, kind))
    }

    /// Puts a cell where it belongs.
    fn take(&self, cell: &Cell, target: Target, found: &mut Found) {
        if target == Target::Ignored {
            return;
        }
        if cell.odd.is_some() {
            self.odd(cell);
            return;
        }
        match target {
            Target::Ignored | Target::Key("id" | "kind") => {}
            Target::Floor => found.floor = Some(floors::tidy(&cell.text)),
            Target::Building => found.building = Some(cell.text.clone()),
            Target::Area => self.area(cell, None, found),
            Target::Key(key @ ("area_m2" | "area_sqft")) => self.area(cell, Some(key), found),
            Target::Key(key) if COUNTS.contains(&key) => {
                if let Some(count) = self.count(cell, key) {
                    found.cells.insert(key, count);
                }
            }
            Target::Key(key) if MEASURES.contains(&key) => {
                if let Some((value, _)) = self.number(cell, key) {
                    found.cells.insert(key, short(value));
                }
            }
            Target::Key(key) => {
                found.cells.insert(key, cell.text.clone());
            }
        }
    }

    fn area(&self, cell: &Cell, key: Option<&'static str>, found: &mut Found) {
        let Some((value, unit)) = self.number(cell, "area") else {
            return;
        };
        let own = unit_of_area(&unit);
        if own.is_none() && !unit.is_empty() {
            let message = format!(
                "{} holds `{}`: `{unit}` is no unit of area",
                self.table.name_of(cell.pos),
                cell.text
            );
            self.log.error(
                "I302",
                cell.pos,
                message,
                "write square metres as `m2` and square feet as `sq ft`",
            );
            return;
        }
        let Some(key) = own.or(key).or(self.known.area) else {
            let message = "areas without a unit: square metres or square feet?".to_string();
            let pos = self
                .heading
                .of(Target::Area)
                .map_or(cell.pos, |i| self.heading.columns[i].pos);
            self.log.error("I303", pos, message, "say `--units metric` or `--units us`, or put the unit in the header: `Area (sq ft)`");
            return;
        };
        if value > 0.0 {
            found.cells.insert(key, short(value));
        }
    }

    fn count(&self, cell: &Cell, key: &str) -> Option<String> {
        let (value, unit) = self.number(cell, key)?;
        if value.fract() != 0.0 || value > 100_000.0 || !unit.is_empty() {
            self.not_a_number(cell, key, "a whole number");
            return None;
        }
        Some(format!("{value:.0}"))
    }

    /// A number and what stands behind it; `None` if there is none, or the log says what is wrong.
    fn number(&self, cell: &Cell, key: &str) -> Option<(f64, String)> {
        if let Some(value) = cell.value {
            if value < 0.0 {
                self.not_a_number(cell, key, "a number from 0 on");
                return None;
            }
            return Some((value, String::new()));
        }
        if BLANKS.contains(&cell.text.to_lowercase().as_str()) {
            return None;
        }
        match number(&cell.text, self.mark) {
            Number::Of(value, unit) => Some((value, unit.to_string())),
            Number::Unclear => {
                let message = format!(
                    "{} holds `{}`: thousands or decimals?",
                    self.table.name_of(cell.pos),
                    cell.text
                );
                self.log.error(
                    "I304",
                    cell.pos,
                    message,
                    "say `--decimal point` or `--decimal comma`",
                );
                None
            }
            Number::Not => {
                self.not_a_number(cell, key, "a number");
                None
            }
        }
    }

    fn not_a_number(&self, cell: &Cell, key: &str, wanted: &str) {
        let message = format!(
            "{} holds `{}`; `{key}` should be {wanted}",
            self.table.name_of(cell.pos),
            cell.text
        );
        self.log.error(
            "I305",
            cell.pos,
            message,
            "empty the cell if it is not known",
        );
    }

    fn odd(&self, cell: &Cell) {
        let what = cell.odd.unwrap_or_default();
        let message = format!("{} holds {what}", self.table.name_of(cell.pos));
        self.log.error(
            "I306",
            cell.pos,
            message,
            "format the column as text and write it again",
        );
    }

    /// The kind of a room: said in its column, or else told by its name.
    fn kind(&mut self, found: &mut Found, cell: Option<&Cell>) -> Option<String> {
        let said = cell.map(|c| (c.text.clone(), c.pos));
        let from_name = said.is_none();
        let word = said.or_else(|| {
            found
                .cells
                .get("name")
                .map(|name| (name.clone(), found.pos))
        });
        let (word, pos) = word.unwrap_or_else(|| (String::new(), found.pos));
        let mapped = self.known.mapping.and_then(|m| m.kind_of(&word));
        if let Some((kind, at)) = mapped {
            let is_known = self.known.kinds.contains(kind) || kind == IGNORED || kind == CLOSET;
            if !is_known {
                self.log.error(
                    "I202",
                    *at,
                    format!("there is no room kind `{kind}`"),
                    self.log.near(kind, self.known.kinds),
                );
            }
            self.note(&word, Meaning::Is(kind.clone()), pos);
            found.cells.insert("kind", kind.clone());
            return Some(kind.clone());
        }
        let meant = meaning(&word, self.known.kinds);
        self.note(&word, meant.clone(), pos);
        let (kind, sure) = match meant {
            Meaning::Is(kind) => (kind, !from_name),
            Meaning::Guessed(kind) => (kind, false),
            Meaning::Unknown => return None,
        };
        if !sure {
            found.guessed.insert("kind");
        }
        found.cells.insert("kind", kind.clone());
        Some(kind)
    }

    fn note(&mut self, word: &str, meaning: Meaning, pos: Pos) {
        self.kinds
            .entry(word.to_string())
            .or_insert((meaning, pos, 0))
            .2 += 1;
    }

    /// Tells each word that is no kind once, and each that was guessed.
    fn tell_kinds(self) -> Vec<(String, Option<String>)> {
        let mut all = Vec::new();
        for (word, (meaning, pos, count)) in self.kinds {
            let rooms = if count == 1 {
                "1 room".to_string()
            } else {
                format!("{count} rooms")
            };
            match &meaning {
                Meaning::Is(_) => {}
                Meaning::Guessed(kind) => {
                    let message = format!("`{word}` ({rooms}) is taken as `{kind}`");
                    self.log.warning(
                        "I902",
                        pos,
                        message,
                        "if that is wrong, say so in a mapping file: `--map FILE`",
                    );
                }
                Meaning::Unknown if word.is_empty() => {
                    let message = format!(
                        "{rooms} without a word for what kind of room it is, this one first"
                    );
                    self.log.error(
                        "I307",
                        pos,
                        message,
                        "add a column `Type`, or a mapping file with `\"*\": office` under `kinds`",
                    );
                }
                Meaning::Unknown => {
                    let message = format!("`{word}` ({rooms}) is no kind of room that is known");
                    let near = self.log.near(&word, self.known.kinds);
                    let hint =
                        format!("say which in a mapping file, under `kinds`: `--map FILE`; {near}");
                    self.log
                        .error("I307", pos, message, hint.trim_end_matches("; "));
                }
            }
            let kind = match meaning {
                Meaning::Is(kind) | Meaning::Guessed(kind) => Some(kind),
                Meaning::Unknown => None,
            };
            all.push((word, kind));
        }
        all.retain(|(word, _)| !word.is_empty());
        all
    }

    /// Totals, titles of floors and the like: told once.
    fn tell_nameless(&self) {
        let Some(first) = self.nameless.first() else {
            return;
        };
        let named: Vec<String> = self
            .nameless
            .iter()
            .take(NAMED)
            .map(|p| p.line.to_string())
            .collect();
        let more = self.nameless.len() - named.len();
        let more = if more > 0 {
            format!(" and {more} more")
        } else {
            String::new()
        };
        let message = format!(
            "left out, as they have no room number: row {}{more}",
            named.join(", ")
        );
        self.log.warning("I903", *first, message, "");
    }
}

/// What nobody counted takes no time: a plan without it looks too good.
fn tell_uncounted(rooms: &[Found], log: &Log) {
    let Some(first) = rooms.first() else { return };
    let counted = |room: &Found, key: &str| room.cells.contains_key(key);
    let is_restroom = |r: &&Found| r.cells.get("kind").is_some_and(|k| k == "restroom");
    let bare: Vec<&Found> = rooms
        .iter()
        .filter(is_restroom)
        .filter(|r| !counted(r, "bowls") && !counted(r, "basins"))
        .collect();
    if let Some(restroom) = bare.first() {
        let who = match bare.len() {
            1 => format!("restroom `{}` has", restroom.id),
            all => format!("restroom `{}` and {} more have", restroom.id, all - 1),
        };
        let message = format!("{who} neither bowls nor basins: cleaning them takes no time");
        log.warning(
            "I917",
            restroom.pos,
            message,
            "count them into columns `bowls`, `basins`, `dispensers`",
        );
    }
    let missing: Vec<&str> = ["bins", "desks"]
        .into_iter()
        .filter(|key| !rooms.iter().any(|r| counted(r, key)))
        .collect();
    if !missing.is_empty() {
        let message = format!(
            "no room has {}: work that goes by them takes no time",
            missing.join(" or ")
        );
        log.warning(
            "I908",
            first.pos,
            message,
            "count them into columns of these names, here or in rooms.csv",
        );
    }
}

/// Rooms without an area get the middle one of their kind, or of all rooms, and that is said.
fn fill_areas(rooms: &mut [Found], log: &Log) {
    /// For a table without any area, in square metres: a small office (assumption).
    const NOTHING_KNOWN: f64 = 15.0;
    let area = |room: &Found| {
        let of = |key| {
            room.cells
                .get(key)
                .and_then(|a: &String| a.parse::<f64>().ok())
                .map(|a| (key, a))
        };
        of("area_m2").or_else(|| of("area_sqft"))
    };
    let middle = |kind: Option<&String>| {
        let alike = rooms
            .iter()
            .filter(|r| kind.is_none() || r.cells.get("kind") == kind);
        let mut areas: Vec<_> = alike.filter_map(area).collect();
        areas.sort_by(|a, b| a.1.total_cmp(&b.1));
        areas.get(areas.len() / 2).copied()
    };
    let lacking: Vec<usize> = (0..rooms.len())
        .filter(|i| area(&rooms[*i]).is_none())
        .collect();
    let guesses: Vec<_> = lacking
        .iter()
        .map(|i| {
            middle(rooms[*i].cells.get("kind"))
                .or_else(|| middle(None))
                .unwrap_or(("area_m2", NOTHING_KNOWN))
        })
        .collect();
    for (index, (key, guess)) in lacking.into_iter().zip(guesses) {
        let room = &mut rooms[index];
        room.cells.insert(key, short(guess));
        room.guessed.insert(key);
        let message = format!(
            "room `{}` has no area: {key} {} is taken, as in like rooms",
            room.id,
            short(guess)
        );
        log.warning("I904", room.pos, message, "measure it");
    }
}

/// At most two decimals.
pub(crate) fn short(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_string()
}
