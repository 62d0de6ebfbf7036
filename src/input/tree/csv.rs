//! A CSV table with a header line to a list of maps. Empty cells are left out, so that a missing value is one thing everywhere.

use super::{Key, Node, Shape};
use crate::input::limits::{LIST_ITEMS, TABLE_COLUMNS, VALUE_CHARACTERS};
use crate::input::log::{Log, Pos};
use std::rc::Rc;

/// The rows of a CSV text as a list of maps. `known` are the columns there may be.
pub(crate) fn read_csv(file: u32, text: &str, known: &[&str], log: &Log) -> Rc<Node> {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .from_reader(text.as_bytes());
    let mut rows = Vec::new();
    let mut header: Option<Vec<Option<String>>> = None;
    let mut cells = Cells::new(file, text, ',');
    for record in reader.records() {
        let record = match record {
            Ok(record) => record,
            Err(error) => {
                let line = error.position().map_or(0, |p| p.line() as u32);
                log.error(
                    "E109",
                    Pos {
                        file,
                        line,
                        column: 1,
                    },
                    format!("this is not CSV: {error}"),
                    "",
                );
                break;
            }
        };
        let places = cells.next_record();
        if let Some(what) = too_much(&record, rows.len()) {
            let pos = places.first().copied().unwrap_or_default();
            log.error("E110", pos, what, "is a quote missing before it?");
            break;
        }
        match &header {
            None => header = Some(columns(&record, &places, known, log)),
            Some(header) => rows.extend(row(header, &record, &places, log)),
        }
    }
    Rc::new(Node::list(
        Pos {
            file,
            line: 1,
            column: 1,
        },
        rows,
    ))
}

/// What is more than is read, if anything: one row more, or what is in it.
fn too_much(record: &csv::StringRecord, rows: usize) -> Option<String> {
    if rows >= LIST_ITEMS {
        return Some(format!("a table of more than {LIST_ITEMS} rows"));
    }
    if record.len() > TABLE_COLUMNS {
        return Some(format!("a row of more than {TABLE_COLUMNS} cells"));
    }
    let long = |cell: &str| cell.chars().nth(VALUE_CHARACTERS).is_some();
    let any = record.as_slice().len() > VALUE_CHARACTERS && record.iter().any(long);
    any.then(|| format!("a cell of more than {VALUE_CHARACTERS} characters"))
}

/// The names of the columns; unknown and repeated ones are told and then passed over.
fn columns(
    record: &csv::StringRecord,
    places: &[Pos],
    known: &[&str],
    log: &Log,
) -> Vec<Option<String>> {
    let mut names: Vec<Option<String>> = Vec::new();
    for (name, pos) in record.iter().map(str::trim).zip(places) {
        let again = names.iter().any(|n| n.as_deref() == Some(name));
        let sound = if again {
            log.error(
                "E204",
                *pos,
                format!("column `{name}` is given twice"),
                "keep one of them",
            );
            false
        } else if !known.contains(&name) {
            log.error(
                "E108",
                *pos,
                format!("there is no column `{name}`"),
                log.near(name, known),
            );
            false
        } else {
            true
        };
        names.push(sound.then(|| name.to_string()));
    }
    names
}

fn row(
    header: &[Option<String>],
    record: &csv::StringRecord,
    places: &[Pos],
    log: &Log,
) -> Option<Rc<Node>> {
    if record.iter().all(|cell| cell.trim().is_empty()) {
        return None;
    }
    if let Some(pos) = places.get(header.len()).filter(|_| {
        record
            .iter()
            .skip(header.len())
            .any(|c| !c.trim().is_empty())
    }) {
        let message = format!(
            "this row has {} cells, the header has {}",
            record.len(),
            header.len()
        );
        log.error(
            "E106",
            *pos,
            message,
            "put a text with commas in double quotes",
        );
    }
    let cells = header.iter().zip(record.iter().map(str::trim)).zip(places);
    let entries = cells.filter_map(|((name, cell), pos)| {
        let name = name.clone().filter(|_| !cell.is_empty())?;
        Some((
            Key { name, pos: *pos },
            Rc::new(Node::leaf(*pos, Shape::Text(cell.to_string()))),
        ))
    });
    let start = places.first().copied().unwrap_or_default();
    Some(Rc::new(Node::map(start, entries.collect())))
}

/// Walks along the text to say where each cell of a record starts, which the `csv` crate does not.
pub(crate) struct Cells<'a> {
    rest: &'a str,
    at: Pos,
    delimiter: char,
    open_quote: Option<Pos>,
}

impl<'a> Cells<'a> {
    /// At the start of a text.
    pub(crate) fn new(file: u32, text: &'a str, delimiter: char) -> Cells<'a> {
        Cells {
            rest: text,
            at: Pos {
                file,
                line: 1,
                column: 1,
            },
            delimiter,
            open_quote: None,
        }
    }

    /// The quote that was still open when the text ended.
    pub(crate) fn open_quote(&self) -> Option<Pos> {
        self.open_quote
    }

    /// Where the cells of the next record start. Empty lines before it are passed over, as the crate does.
    pub(crate) fn next_record(&mut self) -> Vec<Pos> {
        while let Some(c @ ('\r' | '\n')) = self.rest.chars().next() {
            self.pass(c);
        }
        let mut places = vec![self.at];
        // A quote opens at the start of a cell, or right after one that closed: `""` is a quote inside of quotes.
        let (mut quoted, mut may_open) = (false, true);
        while let Some(c) = self
            .rest
            .chars()
            .next()
            .filter(|c| quoted || !matches!(c, '\r' | '\n'))
        {
            let here = self.at;
            self.pass(c);
            let opens = !quoted && may_open && c == '"';
            may_open = (quoted && c == '"') || (!quoted && c == self.delimiter);
            if !quoted && c == self.delimiter {
                places.push(self.at);
            }
            if opens {
                self.open_quote = Some(here);
            }
            quoted = opens || (quoted && c != '"');
            if !quoted {
                self.open_quote = None;
            }
        }
        places
    }

    fn pass(&mut self, c: char) {
        self.rest = &self.rest[c.len_utf8()..];
        self.at.column += 1;
        if c == '\n' {
            self.at = Pos {
                line: self.at.line + 1,
                column: 1,
                ..self.at
            };
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_know_where_they_start_through_quotes_and_line_ends() {
        let text = "id,name\r\n\r\nG01,\"Long \"\",\r\nroom\"\r\n5\" pipe, Office\r\n";
        let log = Log::default();
        let node = read_csv(0, text, &["id", "name"], &log);
        let Shape::List(rows) = &node.shape else {
            panic!("a list")
        };
        let places: Vec<_> = rows
            .iter()
            .filter_map(|r| match &r.shape {
                Shape::Map(cells) => Some((
                    cells[0].1.pos.line,
                    cells[1].1.pos.line,
                    cells[1].1.pos.column,
                )),
                _ => None,
            })
            .collect();
        assert_eq!(places, [(3, 3, 5), (5, 5, 9)]);
        assert!(log.into_problems().is_empty());
    }

    #[test]
    fn wrong_columns_and_rows_are_told_with_their_place() {
        let log = Log::default();
        let file = log.add_source("rooms.csv".into(), "");
        read_csv(file, "id,bowlz,id\nG01,2,3,4\n", &["id", "bowls"], &log);
        let told: Vec<_> = log
            .into_problems()
            .into_iter()
            .map(|p| (p.code, p.line, p.column))
            .collect();
        assert_eq!(told, [("E108", 1, 4), ("E204", 1, 10), ("E106", 2, 9)]);
    }
}
