//! Spreadsheets and CSV files as one thing: rows of cells that know where they stand. Nothing here knows what a room is.
//!
//! Everything is bounded, so that no file can take more memory than the limits below allow.

mod csv;
mod number;
mod xlsx;

pub(crate) use number::{Mark, Number, number};

use crate::input::files::{read_bytes, read_text};
use crate::input::limits::{CELL_CHARACTERS, TABLE_BYTES, TABLE_CELLS, TABLE_COLUMNS, TABLE_ROWS};
use crate::input::log::{Log, Pos};
use std::path::Path;

/// A table as it was found.
#[derive(Debug, Default)]
pub(crate) struct Table {
    /// Index of its file in the log.
    pub(crate) file: u32,
    /// The sheet it is on, if it is of a spreadsheet.
    pub(crate) sheet: Option<String>,
    /// Its rows, empty ones left out.
    pub(crate) rows: Vec<Row>,
    /// What the kind of file says of decimal marks.
    pub(crate) mark: Option<Mark>,
}

/// A row.
#[derive(Debug, Default)]
pub(crate) struct Row {
    /// Its number in the file, from 1.
    pub(crate) line: u32,
    /// Its cells, from the first column on; those after the last one filled are left out.
    pub(crate) cells: Vec<Cell>,
}

/// A cell.
#[derive(Clone, Debug, Default)]
pub(crate) struct Cell {
    /// What it says, on one line, without space around it.
    pub(crate) text: String,
    /// Its value, if the file holds a number rather than a text.
    pub(crate) value: Option<f64>,
    /// What it is, if nothing that can be used: a date, say.
    pub(crate) odd: Option<&'static str>,
    /// Where it stands.
    pub(crate) pos: Pos,
}

impl Cell {
    /// Whether it says nothing.
    pub(crate) fn is_empty(&self) -> bool {
        self.text.is_empty() && self.odd.is_none()
    }
}

impl Table {
    /// How a cell is called in messages: as spreadsheets call it, such as `C5`, or by its column alone.
    pub(crate) fn name_of(&self, pos: Pos) -> String {
        match self.sheet {
            Some(_) => format!("cell {}{}", letters(pos.column), pos.line),
            None => "this cell".to_string(),
        }
    }
}

/// The letters of a column counted from 1.
pub(crate) fn letters(column: u32) -> String {
    let mut rest = column;
    let mut name = Vec::new();
    while rest > 0 {
        rest -= 1;
        name.push(char::from(b'A' + (rest % 26) as u8));
        rest /= 26;
    }
    name.iter().rev().collect()
}

/// The tables of a file: every sheet of a spreadsheet, or the one of a CSV file. `None` if the log says why not.
pub(crate) fn read_tables(path: &Path, log: &Log) -> Option<Vec<Table>> {
    let ending = path
        .extension()
        .map(|e| e.to_string_lossy().to_lowercase())
        .unwrap_or_default();
    match ending.as_str() {
        "csv" | "tsv" | "txt" => {
            let text = read_text(path, TABLE_BYTES, log)?;
            Some(vec![csv::table(text.file, &text.text, log)?])
        }
        "xlsx" | "xlsm" => {
            let (file, bytes) = read_bytes(path, TABLE_BYTES, log)?;
            xlsx::tables(file, bytes, log)
        }
        _ => {
            let file = log.add_source(path.to_path_buf(), "");
            let message = format!("`{}` is no table that is read here", path.display());
            let hint = "save it as .xlsx or as .csv (UTF-8)";
            log.error("I101", whole(file), message, hint);
            None
        }
    }
}

/// The file as a whole.
pub(crate) fn whole(file: u32) -> Pos {
    Pos {
        file,
        line: 0,
        column: 0,
    }
}

/// A text on one line, without space around it or runs of space in it.
fn tidy(text: &str) -> String {
    let plain = text.replace(['\u{a0}', '\u{202f}', '\u{feff}'], " ");
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Tells of a cell that is too long.
fn too_long(text: &str, pos: Pos, log: &Log) -> bool {
    let beyond = text.chars().nth(CELL_CHARACTERS).is_some();
    if beyond {
        let message = format!("a cell with more than {CELL_CHARACTERS} characters");
        log.error("I104", pos, message, "is a quote missing before it?");
    }
    beyond
}

/// How large a table has become.
#[derive(Clone, Copy, Debug, Default)]
struct Extent {
    rows: usize,
    columns: usize,
    cells: usize,
}

impl Extent {
    /// Tells of a table that is too large.
    fn too_large(self, pos: Pos, log: &Log) -> bool {
        let large =
            self.rows > TABLE_ROWS || self.columns > TABLE_COLUMNS || self.cells > TABLE_CELLS;
        if large {
            let message = format!(
                "the table has more than {TABLE_ROWS} rows, {TABLE_COLUMNS} columns or {TABLE_CELLS} cells"
            );
            log.error("I104", pos, message, "keep the rows and columns of rooms");
        }
        large
    }
}

#[cfg(test)]
mod tests {
    use super::{letters, tidy};

    #[test]
    fn columns_are_lettered_as_in_spreadsheets() {
        let named = [1, 26, 27, 52, 703, 16_384].map(letters);
        assert_eq!(named, ["A", "Z", "AA", "AZ", "AAA", "XFD"]);
    }

    #[test]
    fn texts_are_trimmed_and_kept_on_one_line() {
        assert_eq!(tidy("  Front \n office\u{a0} "), "Front office");
    }
}
