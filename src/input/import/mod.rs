//! Sites from what people have: spreadsheets of rooms, calendars of events, buildings in open formats.
//!
//! An importer works out whole files and writes nothing: a command shows what would change and puts the files. Every guess and every gap
//! is a warning with a position; anything wrong is an error with a position, and then there is nothing to put. What is read is bounded in
//! bytes and in things before it takes memory.

mod building;
mod codes;
mod events;
mod insert;
mod rooms;
mod table;

pub use building::{BuildingImport, BuildingRequest, import_building};
pub use codes::IMPORT_CODES;
pub use events::{EventsImport, EventsRequest, import_events};
pub use rooms::{Change, Changes, ColumnUse, RoomsImport, RoomsRequest, import_rooms, map_rooms};
pub(crate) use rooms::{Meaning, meaning};

use super::draft::Draft;
use super::files::Instead;
use super::log::Log;
use super::{Problem, Problems, read_site_with};
use crate::site::Site;
use std::path::{Path, PathBuf};

/// What an import comes to: the result with the warnings of its log, or all problems if there was an error.
fn settle<T>(
    made: Option<T>,
    log: Log,
    put: impl FnOnce(&mut T, Vec<Problem>),
) -> Result<T, Problems> {
    let sound = log.errors() == 0;
    let problems = log.into_problems();
    match made {
        Some(mut made) if sound => {
            put(&mut made, problems);
            Ok(made)
        }
        _ => Err(Problems(problems)),
    }
}

/// The files of a new site, and what `check` says of it.
struct New {
    files: Vec<(PathBuf, String)>,
    after: Vec<Problem>,
}

impl New {
    /// Writes a draft out, reads it as a site, lets `finish` look at that, and writes it out again. A draft that is no site is told to the
    /// log: nothing broken is ever put.
    fn site(
        main: &Path,
        beside: Vec<(PathBuf, String)>,
        draft: &mut Draft,
        finish: impl FnOnce(&mut Draft, &Site),
        log: &Log,
    ) -> Option<New> {
        let mut instead: Instead = beside.iter().cloned().collect();
        let mut read = |draft: &Draft| {
            instead.insert(main.to_path_buf(), draft.yaml());
            read_site_with(main, &instead)
        };
        let tell = |problems: Problems| {
            for problem in problems.0 {
                let file = log.add_source(problem.file.clone(), "");
                let pos = super::log::Pos {
                    file,
                    line: problem.line,
                    column: problem.column,
                };
                log.error(
                    problem.code,
                    pos,
                    problem.message,
                    problem.hint.unwrap_or_default(),
                );
            }
        };
        let first = read(draft).map_err(tell).ok()?;
        finish(draft, &first.site);
        let reading = read(draft).map_err(tell).ok()?;
        let mut files = beside;
        files.push((main.to_path_buf(), draft.yaml()));
        Some(New {
            files,
            after: reading.warnings,
        })
    }
}
