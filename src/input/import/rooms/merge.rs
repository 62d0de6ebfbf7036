//! Rooms that are found put over rooms that are there, by their ids. What was there keeps its order, and its columns theirs.

use super::rows::{Found, short};
use crate::units::SQUARE_METRES_PER_SQUARE_FOOT;
use std::collections::BTreeMap;

/// Two areas closer than this, in either unit, were the same before they were rounded.
const SAME_AREA: f64 = 0.06;

/// A table of rooms as a site has it.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Present {
    pub(crate) columns: Vec<String>,
    pub(crate) rows: Vec<Vec<String>>,
}

/// What an import changes in the rooms of a site.
#[derive(Clone, Debug, Default, PartialEq, Eq, serde::Serialize)]
pub struct Changes {
    /// Ids of rooms that were not there.
    pub added: Vec<String>,
    /// Values that were others before.
    pub changed: Vec<Change>,
    /// Ids of rooms that the file does not have; they stay.
    pub gone: Vec<String>,
    /// How many rooms are as they were.
    pub same: usize,
}

/// A value that becomes another.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Change {
    /// The room.
    pub room: String,
    /// The column of rooms.
    pub column: String,
    /// What it said; empty for nothing.
    pub before: String,
    /// What it says now.
    pub after: String,
}

impl Present {
    /// A table without rooms.
    pub(crate) fn empty() -> Present {
        let columns = ["id", "name", "kind"].map(String::from).to_vec();
        Present {
            columns,
            rows: Vec::new(),
        }
    }

    /// The id of each room.
    pub(crate) fn ids(&self) -> Vec<String> {
        let at = self.columns.iter().position(|c| c == "id");
        self.rows
            .iter()
            .map(|r| at.and_then(|i| r.get(i)).cloned().unwrap_or_default())
            .collect()
    }

    /// As CSV text, with the line ends that it had.
    pub(crate) fn csv(&self, crlf: bool) -> String {
        let end = if crlf {
            csv::Terminator::CRLF
        } else {
            csv::Terminator::Any(b'\n')
        };
        let mut writer = csv::WriterBuilder::new()
            .terminator(end)
            .flexible(true)
            .from_writer(Vec::new());
        let width = self.columns.len();
        let lines = std::iter::once(&self.columns).chain(&self.rows);
        for line in lines {
            let padded = (0..width.max(line.len())).map(|i| line.get(i).map_or("", String::as_str));
            // Writing into memory does not fail.
            let _ = writer.write_record(padded);
        }
        String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default()
    }

    fn column(&mut self, name: &str) -> usize {
        self.columns
            .iter()
            .position(|c| c == name)
            .unwrap_or_else(|| {
                self.columns.push(name.to_string());
                self.columns.len() - 1
            })
    }

    /// A cell; empty if there is none.
    pub(crate) fn get(&self, row: usize, column: &str) -> String {
        let at = self.columns.iter().position(|c| c == column);
        at.and_then(|i| self.rows[row].get(i))
            .map(|c| c.trim().to_string())
            .unwrap_or_default()
    }

    /// Changes a cell, in a new column if need be.
    pub(crate) fn set(&mut self, row: usize, column: &str, value: &str) {
        let at = self.column(column);
        let cells = &mut self.rows[row];
        if cells.len() <= at {
            cells.resize(at + 1, String::new());
        }
        cells[at] = value.to_string();
    }
}

/// Puts the rooms found over those present. A value that is not found leaves what is there; what was guessed fills gaps only.
pub(crate) fn merge(present: &mut Present, found: &[Found]) -> Changes {
    let mut changes = Changes::default();
    let ids = present.ids();
    let rows: BTreeMap<&str, usize> = ids
        .iter()
        .enumerate()
        .map(|(i, id)| (id.trim(), i))
        .collect();
    for room in found {
        let Some(row) = rows.get(room.id.as_str()) else {
            add(present, room);
            changes.added.push(room.id.clone());
            continue;
        };
        let before = changes.changed.len();
        update(present, *row, room, &mut changes.changed);
        changes.same += usize::from(changes.changed.len() == before);
    }
    let kept = ids
        .iter()
        .filter(|id| !found.iter().any(|f| f.id == id.trim()));
    changes.gone = kept.cloned().collect();
    changes
}

fn add(present: &mut Present, room: &Found) {
    present.rows.push(Vec::new());
    let row = present.rows.len() - 1;
    present.set(row, "id", &room.id);
    for (column, value) in &room.cells {
        present.set(row, column, value);
    }
}

fn update(present: &mut Present, row: usize, room: &Found, changed: &mut Vec<Change>) {
    for (column, value) in &room.cells {
        let (column, value) = in_unit_of(present, row, column, value);
        let before = present.get(row, column);
        let only_fills = room
            .guessed
            .iter()
            .any(|g| *g == column || (g.starts_with("area") && column.starts_with("area")));
        if same(column, &before, &value) || (only_fills && !before.is_empty()) {
            continue;
        }
        present.set(row, column, &value);
        changed.push(Change {
            room: room.id.clone(),
            column: column.to_string(),
            before,
            after: value,
        });
    }
}

/// An area in the unit in which the room has it already: a room never has both.
fn in_unit_of<'a>(
    present: &Present,
    row: usize,
    column: &'a str,
    value: &str,
) -> (&'a str, String) {
    let (other, factor) = match column {
        "area_m2" => ("area_sqft", 1.0 / SQUARE_METRES_PER_SQUARE_FOOT),
        "area_sqft" => ("area_m2", SQUARE_METRES_PER_SQUARE_FOOT),
        _ => return (column, value.to_string()),
    };
    match value.parse::<f64>() {
        Ok(area) if !present.get(row, other).is_empty() => {
            let there: f64 = present.get(row, other).parse().unwrap_or(f64::NAN);
            let area = area * factor;
            // A square foot is a tenth of a square metre: what rounds to the same is the same.
            let close = (there - area).abs() <= SAME_AREA.max(area * 0.005);
            (
                other,
                if close {
                    present.get(row, other)
                } else {
                    short(area)
                },
            )
        }
        _ => (column, value.to_string()),
    }
}

fn same(column: &str, before: &str, after: &str) -> bool {
    if before == after {
        return true;
    }
    match (before.parse::<f64>(), after.parse::<f64>()) {
        (Ok(a), Ok(b)) if column != "name" && column != "id" => (a - b).abs() < 0.005,
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn present() -> Present {
        Present {
            columns: ["id", "kind", "area_m2", "open"].map(String::from).to_vec(),
            rows: vec![
                ["G01", "office", "18", "mon-fri 17:00-22:00"]
                    .map(String::from)
                    .to_vec(),
                vec!["G02".to_string(), "office".to_string()],
            ],
        }
    }

    fn found(id: &str, cells: &[(&'static str, &str)]) -> Found {
        Found {
            id: id.to_string(),
            cells: cells.iter().map(|(k, v)| (*k, (*v).to_string())).collect(),
            ..Found::default()
        }
    }

    #[test]
    fn what_is_added_changed_gone_and_the_same_is_told() {
        let mut table = present();
        let changes = merge(
            &mut table,
            &[
                found("G03", &[("kind", "lab")]),
                found(
                    "G01",
                    &[("kind", "office"), ("area_m2", "20"), ("bins", "2")],
                ),
            ],
        );
        assert_eq!(
            (changes.added, changes.gone, changes.same),
            (vec!["G03".to_string()], vec!["G02".to_string()], 0)
        );
        let told: Vec<_> = changes
            .changed
            .iter()
            .map(|c| (c.column.as_str(), c.before.as_str(), c.after.as_str()))
            .collect();
        assert_eq!(told, [("area_m2", "18", "20"), ("bins", "", "2")]);
        assert_eq!(
            table.csv(false),
            "id,kind,area_m2,open,bins\nG01,office,20,mon-fri 17:00-22:00,2\nG02,office,,,\nG03,lab,,,\n"
        );
    }

    #[test]
    fn an_area_in_another_unit_is_compared_and_kept_in_the_unit_that_is_there() {
        let mut table = present();
        // 18 m2 are 193.75 sq ft.
        let changes = merge(&mut table, &[found("G01", &[("area_sqft", "194")])]);
        assert_eq!((changes.same, changes.changed.len()), (1, 0));
        let changes = merge(&mut table, &[found("G01", &[("area_sqft", "300")])]);
        assert_eq!(
            (
                changes.changed[0].column.as_str(),
                changes.changed[0].after.as_str()
            ),
            ("area_m2", "27.87")
        );
    }

    #[test]
    fn a_guess_fills_a_gap_and_nothing_else() {
        let mut table = present();
        let mut room = found("G01", &[("kind", "lab"), ("area_m2", "15")]);
        room.guessed = ["kind", "area_m2"].into();
        assert_eq!(merge(&mut table, &[room]).changed, []);
        let mut room = found("G02", &[("area_m2", "15")]);
        room.guessed = ["area_m2"].into();
        assert_eq!(merge(&mut table, &[room]).changed.len(), 1);
    }
}
