//! A CSV file as a table: commas, semicolons, tabs or bars, whichever divides its first lines most evenly.

use super::{Cell, Extent, Mark, Row, Table, tidy, too_long};
use crate::input::log::{Log, Pos};
use crate::input::tree::Cells;

/// What may stand between cells.
const DELIMITERS: [char; 4] = [',', ';', '\t', '|'];
/// Lines that are looked at to find out which.
const LOOKED_AT: usize = 20;

/// The table of a text; `None` if the log says why not.
pub(super) fn table(file: u32, text: &str, log: &Log) -> Option<Table> {
    let delimiter = delimiter_of(text);
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(delimiter as u8)
        .from_reader(text.as_bytes());
    let mut places = Cells::new(file, text, delimiter);
    let mut rows = Vec::new();
    let mut extent = Extent::default();
    for record in reader.records() {
        let at = places.next_record();
        let first = at.first().copied().unwrap_or_default();
        let record = match record {
            Ok(record) => record,
            Err(error) => {
                log.error("E109", first, format!("this is not CSV: {error}"), "");
                return None;
            }
        };
        if let Some(pos) = places.open_quote() {
            let hint = "close it, or write it twice if it belongs to the text";
            log.error(
                "I105",
                pos,
                "a quote that is never closed".to_string(),
                hint,
            );
            return None;
        }
        extent = Extent {
            rows: rows.len() + 1,
            columns: record.len(),
            cells: extent.cells + record.len(),
        };
        if extent.too_large(first, log) {
            return None;
        }
        let row = row(&record, &at, log)?;
        if !row.cells.is_empty() {
            rows.push(row);
        }
    }
    Some(Table {
        file,
        sheet: None,
        rows,
        // Where cells are divided by semicolons, the comma is taken: by decimals.
        mark: (delimiter == ';').then_some(Mark::Comma),
    })
}

/// A row, perhaps an empty one; `None` if a cell is too long.
fn row(record: &csv::StringRecord, at: &[Pos], log: &Log) -> Option<Row> {
    let mut cells = Vec::new();
    for (text, pos) in record.iter().zip(at) {
        if too_long(text, *pos, log) {
            return None;
        }
        cells.push(Cell {
            text: tidy(text),
            pos: *pos,
            ..Cell::default()
        });
    }
    while cells.last().is_some_and(Cell::is_empty) {
        cells.pop();
    }
    let line = at.first().map_or(0, |pos| pos.line);
    Some(Row { line, cells })
}

/// The delimiter that the most lines have, and of those the one they have most of; commas if there is none.
fn delimiter_of(text: &str) -> char {
    let lines: Vec<&str> = text
        .lines()
        .filter(|l| !l.trim().is_empty())
        .take(LOOKED_AT)
        .collect();
    let score = |delimiter: char| {
        let counts = lines.iter().map(|line| outside_quotes(line, delimiter));
        let found: Vec<usize> = counts.filter(|n| *n > 0).collect();
        (found.len(), found.iter().sum::<usize>())
    };
    // The first of equals wins: a comma is the common case.
    let best = DELIMITERS.into_iter().rev().max_by_key(|d| score(*d));
    best.filter(|d| score(*d).0 > 0).unwrap_or(',')
}

fn outside_quotes(line: &str, delimiter: char) -> usize {
    let outside = line.split('"').step_by(2);
    outside.map(|part| part.matches(delimiter).count()).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(text: &str) -> Vec<Vec<String>> {
        let log = Log::default();
        let table = table(0, text, &log).unwrap();
        assert_eq!(log.into_problems(), []);
        let texts = |row: &Row| row.cells.iter().map(|c| c.text.clone()).collect();
        table.rows.iter().map(texts).collect()
    }

    #[test]
    fn every_usual_delimiter_and_line_end_is_understood() {
        let wanted = [["Room", "Area"], ["G01", "18,5"]];
        assert_eq!(texts("Room,Area\nG01,\"18,5\"\n"), wanted);
        assert_eq!(texts("Room;Area\r\nG01;18,5\r\n"), wanted);
        assert_eq!(texts("Room\tArea\n\n\nG01\t18,5"), wanted);
        assert_eq!(texts("Room|Area\nG01|18,5\n;;\n|\n").len(), 3);
    }

    #[test]
    fn a_quote_left_open_is_told_where_it_opens() {
        let log = Log::default();
        let file = log.add_source("rooms.csv".into(), "");
        assert!(table(file, "Room,Name\nG01,\"Front office\nG02,x\n", &log).is_none());
        let problem = &log.into_problems()[0];
        assert_eq!((problem.code, problem.line, problem.column), ("I105", 2, 5));
    }
}
