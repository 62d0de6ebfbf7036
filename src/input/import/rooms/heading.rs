//! The row of headers of a table.

use super::columns::{Target, plain};
use super::mapping::Mapping;
use crate::input::import::table::{Row, Table};
use crate::input::log::{Log, Pos};

/// Rows from the top in which headers are looked for: titles and dates stand above them.
const LOOKED_AT: usize = 30;

/// The headers of a table and what becomes of their columns.
#[derive(Clone, Debug, Default)]
pub(crate) struct Heading {
    /// Index of the row.
    pub(crate) row: usize,
    /// A column for each cell of the row.
    pub(crate) columns: Vec<Column>,
}

/// A column of a table.
#[derive(Clone, Debug)]
pub(crate) struct Column {
    /// Its header.
    pub(crate) header: String,
    /// What becomes of it; `None` if its header says nothing that is known.
    pub(crate) target: Option<Target>,
    /// Where its header stands.
    pub(crate) pos: Pos,
}

impl Heading {
    /// The index of the column that becomes `target`.
    pub(crate) fn of(&self, target: Target) -> Option<usize> {
        self.columns.iter().position(|c| c.target == Some(target))
    }
}

/// The heading of the first table that has one; with a mapping, of the table that it names. `None` if the log says why not.
pub(crate) fn find<'a>(
    tables: &'a [Table],
    mapping: Option<&Mapping>,
    log: &Log,
) -> Option<(&'a Table, Heading)> {
    let wanted = mapping.and_then(|m| m.sheet.as_deref());
    let asked = |t: &&Table| wanted.is_none_or(|name| t.sheet.as_deref().is_none_or(|s| s == name));
    let heading = |t: &'a Table| Some((t, heading_of(t, mapping)?));
    if let Some((table, mut heading)) = tables.iter().filter(asked).find_map(heading) {
        tell_repeated(table, &mut heading, log);
        return (mapping.is_none_or(|m| all_there(m, &heading, log))).then_some((table, heading));
    }
    let pos = tables
        .first()
        .and_then(|t| t.rows.first())
        .and_then(|r| r.cells.first())
        .map_or(Pos::default(), |c| c.pos);
    let pos = Pos {
        file: tables.first().map_or(0, |t| t.file),
        ..pos
    };
    log.error(
        "I201",
        pos,
        "no row of headers is found: one with a room number and one more column that is known"
            .to_string(),
        "give the columns names such as `Room`, `Type`, `Area (sq ft)`",
    );
    None
}

fn heading_of(table: &Table, mapping: Option<&Mapping>) -> Option<Heading> {
    let rows = table.rows[..table.rows.len().min(LOOKED_AT)]
        .iter()
        .enumerate();
    let headings = rows.map(|(row, cells)| Heading {
        row,
        columns: columns(cells, mapping),
    });
    if mapping.is_some() {
        // What is missing from the row that fits best is told.
        let known = |h: &Heading| h.columns.iter().filter(|c| c.target.is_some()).count();
        return headings.rev().max_by_key(known).filter(|h| known(h) > 0);
    }
    let mut fit = headings.filter(|h| {
        let known = h
            .columns
            .iter()
            .filter(|c| c.target.is_some_and(|t| t != Target::Ignored))
            .count();
        known >= 2 && h.of(Target::Key("id")).is_some()
    });
    fit.next()
}

fn columns(row: &Row, mapping: Option<&Mapping>) -> Vec<Column> {
    let target = |header: &str| match mapping {
        None => Target::of_header(header),
        Some(mapping) => {
            let compared = plain(header);
            mapping
                .columns
                .iter()
                .find(|(h, _, _)| *h == compared)
                .map(|(_, target, _)| *target)
        }
    };
    let columns = row.cells.iter().map(|cell| Column {
        header: cell.text.clone(),
        target: target(&cell.text),
        pos: cell.pos,
    });
    let mut columns: Vec<Column> = columns.collect();
    if mapping.is_none() {
        room_may_be_a_name(&mut columns);
    }
    columns
}

/// `Room No.` and `Room` side by side: the second is what people call it.
fn room_may_be_a_name(columns: &mut [Column]) {
    let ids = columns
        .iter()
        .filter(|c| c.target == Some(Target::Key("id")))
        .count();
    let named = columns
        .iter()
        .any(|c| c.target == Some(Target::Key("name")));
    if ids > 1 && !named {
        let bare = columns
            .iter_mut()
            .find(|c| matches!(plain(&c.header).as_str(), "room" | "space"));
        if let Some(column) = bare {
            column.target = Some(Target::Key("name"));
        }
    }
}

/// Two columns for one thing: the first is taken, and that is said.
fn tell_repeated(table: &Table, heading: &mut Heading, log: &Log) {
    for at in 1..heading.columns.len() {
        let (before, after) = heading.columns.split_at_mut(at);
        let column = &mut after[0];
        let Some(target) = column.target.filter(|t| *t != Target::Ignored) else {
            continue;
        };
        if let Some(first) = before.iter().find(|c| c.target == Some(target)) {
            let message = format!(
                "columns `{}` and `{}` could both be `{}`; the first is taken",
                first.header,
                column.header,
                target.word()
            );
            log.warning(
                "I901",
                Pos {
                    file: table.file,
                    ..column.pos
                },
                message,
                "say which in a mapping file: `--map FILE`",
            );
            column.target = None;
        }
    }
}

fn all_there(mapping: &Mapping, heading: &Heading, log: &Log) -> bool {
    let there = |wanted: &str| heading.columns.iter().any(|c| plain(&c.header) == wanted);
    let missing = mapping
        .columns
        .iter()
        .filter(|(header, target, _)| *target != Target::Ignored && !there(header));
    let mut complete = true;
    for (header, _, pos) in missing {
        complete = false;
        let message = format!("the table has no column `{header}`");
        log.error(
            "I203",
            *pos,
            message,
            "take the line out, or write the header as the table has it",
        );
    }
    complete
}
