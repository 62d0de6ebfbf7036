//! Rooms from a spreadsheet or CSV file into a site, new or there already.
//!
//! ```text
//! file ──table──> heading ──rows──> rooms ──┬── merge ──> rooms.csv of a site that is there
//!                    │                      └── fresh ──> a new site around them
//!                    └── mapping: which column becomes what
//! ```

mod columns;
mod existing;
mod floors;
mod fresh;
mod heading;
mod kinds;
mod mapping;
mod merge;
mod place;
mod rows;

pub(crate) use columns::plain;
pub(crate) use existing::present_rooms;
pub(crate) use floors::natural;
pub(crate) use kinds::{CLOSET, Meaning, meaning};
pub use merge::{Change, Changes};
pub(crate) use merge::{Present, merge};
pub(crate) use rows::{Found, short};

use super::table::{Mark, Row, Table, letters, read_tables};
use super::{New, settle};
use crate::input::draft::{crew_for, hands};
use crate::input::files::{Instead, main_file, read_text};
use crate::input::gather::{builtin_kinds, gather};
use crate::input::limits;
use crate::input::log::Log;
use crate::input::{Problem, Problems, Units, read_site_with};
use columns::Target;
use heading::Heading;
use itertools::Itertools;
use mapping::Mapping;

use rows::{Known, Rooms};
use std::path::{Path, PathBuf};

/// Where runs of a new site begin.
const START: &str = "entrance";
/// Rooms of the file that are shown.
const SHOWN: usize = 3;

/// What is to be imported, and how it is to be understood.
#[derive(Clone, Debug)]
pub struct RoomsRequest<'a> {
    /// The spreadsheet or CSV file.
    pub file: &'a Path,
    /// The site: a folder or YAML file; a folder that is not there becomes a new site.
    pub site: &'a Path,
    /// A mapping file, written by [`map_rooms`] and changed by hand.
    pub mapping: Option<&'a Path>,
    /// The unit of areas for which the file names none.
    pub units: Option<Units>,
    /// Whether decimals stand behind a comma, if the file leaves that open.
    pub decimal_comma: Option<bool>,
}

/// What an import of rooms would do. Nothing is written yet.
#[derive(Clone, Debug, Default)]
pub struct RoomsImport {
    /// The sheet the rooms are on, if the file has sheets.
    pub sheet: Option<String>,
    /// Each column with a header, and what becomes of it.
    pub columns: Vec<ColumnUse>,
    /// How many rooms the file has.
    pub rooms: usize,
    /// Ids of custodial closets among its rows.
    pub closets: Vec<String>,
    /// What changes in the site's table of rooms.
    pub changes: Changes,
    /// Halls that were guessed.
    pub halls: Vec<String>,
    /// Whole files to be written, in this order.
    pub files: Vec<(PathBuf, String)>,
    /// Guesses and gaps.
    pub notes: Vec<Problem>,
    /// What is left to do by hand.
    pub advice: Vec<String>,
    /// What `check` would say of the site then.
    pub after: Vec<Problem>,
}

/// A column of the file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ColumnUse {
    /// Its letters, as in spreadsheets.
    pub letters: String,
    /// Its header.
    pub header: String,
    /// The column of rooms that it becomes; `None` if it is left out.
    pub becomes: Option<&'static str>,
    /// Its first values.
    pub sample: Vec<String>,
}

/// Works out what an import of rooms would do, and writes nothing.
///
/// # Errors
///
/// Everything wrong with the file, or with the site it is to go into.
pub fn import_rooms(request: &RoomsRequest<'_>) -> Result<RoomsImport, Problems> {
    let log = Log::default();
    let import = import(request, &log);
    settle(import, log, |import, notes| import.notes = notes)
}

/// The mapping file for a table as it is understood by itself, for [`RoomsRequest::mapping`].
///
/// # Errors
///
/// The file cannot be read, or has no headers.
pub fn map_rooms(request: &RoomsRequest<'_>) -> Result<String, Problems> {
    let log = Log::default();
    let text = read_tables(request.file, &log).and_then(|tables| {
        let (table, heading) = heading::find(&tables, None, &log)?;
        let kinds = kinds(&main_file(request.site));
        // Words that are not understood are what the mapping is for.
        let rooms = rows::read(
            table,
            &heading,
            &known(request, &kinds, None),
            &Log::default(),
        );
        let name = request
            .file
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .to_string();
        Some(mapping::text(
            &name,
            table.sheet.as_deref(),
            &heading,
            &rooms.kinds,
        ))
    });
    settle(text, log, |_, _| ())
}

fn import(request: &RoomsRequest<'_>, log: &Log) -> Option<RoomsImport> {
    let mapping = match request.mapping {
        Some(path) => Some(Mapping::read(path, log)?),
        None => None,
    };
    let tables = read_tables(request.file, log)?;
    let (table, heading) = heading::find(&tables, mapping.as_ref(), log)?;
    let main = main_file(request.site);
    let kinds = kinds(&main);
    let rooms = rows::read(
        table,
        &heading,
        &known(request, &kinds, mapping.as_ref()),
        log,
    );
    if rooms.found.is_empty() && log.errors() == 0 {
        let pos = heading.columns.first().map(|c| c.pos).unwrap_or_default();
        log.error(
            "I309",
            pos,
            "there is no room under these headers".to_string(),
            "",
        );
    }
    if log.errors() > 0 {
        return None;
    }
    let mut import = if main.exists() {
        there(&main, &rooms, log)?
    } else {
        new(&main, request, &rooms, log)?
    };
    import.sheet.clone_from(&table.sheet);
    import.columns = uses(table, &heading);
    import.rooms = rooms.found.len();
    import.closets = rooms.closets.iter().map(|c| c.id.clone()).collect();
    Some(import)
}

fn known<'a>(
    request: &RoomsRequest<'_>,
    kinds: &'a [String],
    mapping: Option<&'a Mapping>,
) -> Known<'a> {
    Known {
        kinds,
        area: request.units.map(|units| match units {
            Units::Metric => "area_m2",
            Units::Us => "area_sqft",
        }),
        mark: request
            .decimal_comma
            .map(|comma| if comma { Mark::Comma } else { Mark::Point }),
        mapping,
    }
}

/// The kinds that rooms of the site may have.
fn kinds(main: &Path) -> Vec<String> {
    let mut kinds = builtin_kinds();
    let written = main
        .exists()
        .then(|| gather(main, &Instead::new(), &Log::default()))
        .flatten();
    if let Some(written) = written {
        kinds = written
            .builtin
            .iter()
            .chain(&written.standard)
            .map(|k| k.kind.value.trim().to_string())
            .collect();
        kinds.dedup();
    }
    kinds
}

fn uses(table: &Table, heading: &Heading) -> Vec<ColumnUse> {
    // Titles between the rows are no examples.
    let id = heading.of(Target::Key("id")).unwrap_or(0);
    let is_room = |row: &&Row| row.cells.get(id).is_some_and(|c| !c.is_empty());
    let rows = || table.rows[heading.row + 1..].iter().filter(is_room);
    let sample = |index: usize| {
        let texts = rows()
            .filter_map(|r| r.cells.get(index))
            .map(|c| c.text.clone());
        texts
            .filter(|t| !t.is_empty())
            .unique()
            .take(SHOWN)
            .collect()
    };
    let columns = heading
        .columns
        .iter()
        .enumerate()
        .filter(|(_, c)| !c.header.is_empty());
    columns
        .map(|(index, column)| ColumnUse {
            letters: letters(index as u32 + 1),
            header: column.header.clone(),
            becomes: column
                .target
                .filter(|t| *t != Target::Ignored)
                .map(Target::word),
            sample: sample(index),
        })
        .collect()
}

/// Into a site that is there.
fn there(main: &Path, rooms: &Rooms, log: &Log) -> Option<RoomsImport> {
    let text = read_text(main, limits::SITE_BYTES, log)?;
    let merged = existing::into_site(main, &text, rooms, log)?;
    let instead: Instead = merged.files.iter().cloned().collect();
    let after = match read_site_with(main, &instead) {
        Ok(reading) => reading.warnings,
        Err(problems) => problems.0,
    };
    let unchanged =
        |path: &Path, text: &str| std::fs::read_to_string(path).is_ok_and(|old| old == text);
    let files = merged
        .files
        .into_iter()
        .filter(|(path, text)| !unchanged(path, text));
    Some(RoomsImport {
        changes: merged.changes,
        halls: merged.halls,
        files: files.collect(),
        advice: merged.advice,
        after,
        ..RoomsImport::default()
    })
}

/// A new site.
fn new(main: &Path, request: &RoomsRequest<'_>, rooms: &Rooms, log: &Log) -> Option<RoomsImport> {
    let folder = main.parent().unwrap_or(Path::new(""));
    let mut present = Present::empty();
    let changes = merge(&mut present, &rooms.found);
    let source = request
        .file
        .file_name()
        .unwrap_or_default()
        .to_string_lossy()
        .to_string();
    let name = folder.file_name().map_or_else(
        || "My site".to_string(),
        |n| n.to_string_lossy().to_string(),
    );
    let in_feet = rooms
        .found
        .iter()
        .filter(|r| r.cells.contains_key("area_sqft"))
        .count();
    let mut draft = fresh::draft(&name, &source, 2 * in_feet > rooms.found.len(), rooms, log);
    let halls = draft.halls.iter().map(|h| h.id.clone()).collect();
    let table = (folder.join("rooms.csv"), present.csv(false));
    if table.0.exists() {
        let file = log.add_source(table.0.clone(), "");
        let message = format!("`{}` is there, but no site that uses it", table.0.display());
        log.error(
            "I308",
            super::table::whole(file),
            message,
            "move it away, or give another folder",
        );
        return None;
    }
    draft.crew = crew_for(1, START);
    let New { files, after } = New::site(
        main,
        vec![table],
        &mut draft,
        |draft, site| {
            draft.crew = crew_for(hands(site, &|_| true), START);
        },
        log,
    )?;
    Some(RoomsImport {
        changes,
        halls,
        files,
        after,
        ..RoomsImport::default()
    })
}
