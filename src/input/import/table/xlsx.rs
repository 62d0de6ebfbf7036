//! The sheets of an Office Open XML workbook (ISO/IEC 29500) as tables.
//!
//! A workbook is a zip archive, and a small one may unpack to anything. So it is unpacked once into nothing, counting; cells are then
//! read one after the other, never as the rectangle that a sheet claims to be. How many texts its cells share, it may claim only as far as they
//! fit into their part: the library makes room for all of them beforehand.

use super::{Cell, Extent, Row, Table, tidy, too_long, whole};
use crate::input::limits;
use crate::input::log::{Log, Pos};
use calamine::{DataRef, Reader, SheetVisible, Xlsx};
use std::io::{self, Cursor, Read};
use zip::ZipArchive;

/// The tables of a workbook, hidden sheets left out; `None` if the log says why not.
pub(super) fn tables(file: u32, bytes: Vec<u8>, log: &Log) -> Option<Vec<Table>> {
    let damaged = |error: &dyn std::fmt::Display| {
        let message = format!("this is no spreadsheet, or a damaged one: {error}");
        let hint = "open it in a spreadsheet program and save it again as .xlsx";
        log.error("I103", whole(file), message, hint);
    };
    match unpacked_size(&bytes) {
        Ok(size) if size <= limits::UNPACKED_BYTES => {}
        Ok(_) => {
            let message = format!(
                "it unpacks to more than {} MiB, or into more than {} parts",
                limits::UNPACKED_BYTES >> 20,
                limits::BOOK_PARTS
            );
            let hint = "copy the sheet with the rooms into a workbook of its own";
            log.error("I102", whole(file), message, hint);
            return None;
        }
        Err(error) => {
            damaged(&error);
            return None;
        }
    }
    if texts_are_boasted(&bytes) {
        damaged(&"it claims more texts than it can hold");
        return None;
    }
    let mut book: Xlsx<_> = match Xlsx::new(Cursor::new(bytes)) {
        Ok(book) => book,
        Err(error) => {
            damaged(&error);
            return None;
        }
    };
    let sheets: Vec<String> = book
        .sheets_metadata()
        .iter()
        .filter(|s| s.visible == SheetVisible::Visible)
        .map(|s| s.name.clone())
        .take(limits::BOOK_PARTS)
        .collect();
    let mut tables = Vec::new();
    for sheet in sheets {
        match rows(&mut book, &sheet, file, log) {
            Ok(rows) => tables.push(Table {
                file,
                sheet: Some(sheet),
                rows: rows?,
                mark: None,
            }),
            // A chart is a sheet too.
            Err(calamine::XlsxError::WorksheetNotFound(_)) => {}
            Err(error) => {
                damaged(&error);
                return None;
            }
        }
    }
    Some(tables)
}

/// How many bytes the archive really unpacks to, whatever it says; counting stops once it is too much.
fn unpacked_size(bytes: &[u8]) -> Result<u64, zip::result::ZipError> {
    let mut archive = ZipArchive::new(Cursor::new(bytes))?;
    let mut total = 0;
    for part in 0..archive.len() {
        if part >= limits::BOOK_PARTS || total > limits::UNPACKED_BYTES {
            return Ok(u64::MAX);
        }
        let entry = archive.by_index(part)?;
        total += io::copy(&mut entry.take(limits::UNPACKED_BYTES + 1), &mut io::sink())?;
    }
    Ok(total)
}

/// How the part with the texts that cells share ends its name, and the shortest text in it.
const TEXTS: &str = "sharedstrings.xml";
const SHORTEST_TEXT: &str = "<si/>";

/// Whether the archive claims to hold more texts than there is room for. It is known to unpack to little.
fn texts_are_boasted(bytes: &[u8]) -> bool {
    let Ok(mut archive) = ZipArchive::new(Cursor::new(bytes)) else {
        return false;
    };
    (0..archive.len()).any(|part| {
        let mut text = Vec::new();
        let Ok(mut entry) = archive.by_index(part) else {
            return false;
        };
        let named = entry
            .name()
            .is_ok_and(|name| name.to_lowercase().ends_with(TEXTS));
        named && entry.read_to_end(&mut text).is_ok() && is_boasting(text)
    })
}

/// Whether a `uniqueCount` is more than could be.
fn is_boasting(mut text: Vec<u8>) -> bool {
    let most = text.len() / SHORTEST_TEXT.len();
    // What is left of UTF-16 without its zeros reads like UTF-8, as far as names and digits go.
    text.retain(|byte| *byte != 0);
    let text = String::from_utf8_lossy(&text);
    let counts = text.split("uniqueCount").skip(1).map(|after| {
        let digits = after.trim_start_matches(|c: char| c.is_whitespace() || "='\"+".contains(c));
        let end = digits.find(|c: char| !c.is_ascii_digit());
        &digits[..end.unwrap_or(digits.len())]
    });
    // None at all is no claim.
    counts
        .filter(|digits| !digits.is_empty())
        .any(|digits| digits.parse::<usize>().map_or(true, |count| count > most))
}

/// The rows of a sheet; `Ok(None)` if the log says what is too much.
fn rows(
    book: &mut Xlsx<Cursor<Vec<u8>>>,
    sheet: &str,
    file: u32,
    log: &Log,
) -> Result<Option<Vec<Row>>, calamine::XlsxError> {
    let mut reader = book.worksheet_cells_reader(sheet)?;
    let mut rows: Vec<Row> = Vec::new();
    let mut cells = 0;
    while let Some(found) = reader.next_cell()? {
        let (row, column) = found.get_position();
        let pos = Pos {
            file,
            line: row.saturating_add(1),
            column: column.saturating_add(1),
        };
        let cell = cell(found.get_value(), pos);
        if cell.is_empty() {
            continue;
        }
        if rows.last().is_none_or(|r| r.line != pos.line) {
            rows.push(Row {
                line: pos.line,
                cells: Vec::new(),
            });
        }
        let rows_so_far = rows.len();
        let Some(row) = rows.last_mut() else { continue };
        let columns = pos.column as usize;
        cells += columns.saturating_sub(row.cells.len());
        let extent = Extent {
            rows: rows_so_far,
            columns,
            cells,
        };
        if extent.too_large(pos, log) || too_long(&cell.text, pos, log) {
            return Ok(None);
        }
        place(row, cell);
    }
    Ok(Some(rows))
}

/// Puts a cell in its column, with empty ones before it.
fn place(row: &mut Row, cell: Cell) {
    let index = cell.pos.column as usize - 1;
    for column in row.cells.len()..=index {
        let pos = Pos {
            column: column as u32 + 1,
            ..cell.pos
        };
        row.cells.push(Cell {
            pos,
            ..Cell::default()
        });
    }
    row.cells[index] = cell;
}

fn cell(value: &DataRef<'_>, pos: Pos) -> Cell {
    let of = |text: String| Cell {
        text: tidy(&text),
        pos,
        ..Cell::default()
    };
    let odd = |odd| Cell {
        odd: Some(odd),
        pos,
        ..Cell::default()
    };
    match value {
        DataRef::Int(n) => Cell {
            value: Some(*n as f64),
            ..of(n.to_string())
        },
        DataRef::Float(x) if x.is_finite() => Cell {
            value: Some(*x),
            ..of(rounded(*x))
        },
        DataRef::String(text) => of(text.clone()),
        DataRef::SharedString(text) => of((*text).to_string()),
        DataRef::Bool(yes) => of(yes.to_string()),
        DataRef::DateTime(_) | DataRef::DateTimeIso(_) | DataRef::DurationIso(_) => {
            odd("a date or a time")
        }
        DataRef::Float(_) | DataRef::Error(_) => odd("an error value"),
        DataRef::Empty => Cell {
            pos,
            ..Cell::default()
        },
    }
}

/// A number as a spreadsheet shows it: 0.1 + 0.2 is 0.3 there.
fn rounded(value: f64) -> String {
    let text = format!("{value:.9}");
    text.trim_end_matches('0').trim_end_matches('.').to_string()
}
