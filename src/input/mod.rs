//! Site files to a [`Site`]: YAML and CSV are read, names looked up, units converted, contradictions found.
//!
//! Nothing stops at the first mistake: every [`Problem`] is collected with its file, line and column. The stages:
//!
//! ```text
//! files ──> tree (texts with positions) ──> raw (what was written) ──resolve──> Site ──sense──> Reading or Problems
//! ```
//!
//! What can be seen from one entry is always told. Contradictions that need the whole (`sense`) are looked for only when there was
//! no error before, as every name and figure must hold for them.

mod at;
mod codes;
mod draft;
mod examples;
mod files;
mod gather;
mod guide;
mod hint;
mod import;
mod log;
mod notation;
mod problem;
mod raw;
mod resolve;
mod schema;
mod sense;
mod split;
mod tree;

pub use codes::CODES;
pub use examples::EXAMPLES;
pub use files::SITE_FILE;
pub use guide::{Guide, Question};
pub use hint::suggest;
pub use import::{
    BuildingImport, BuildingRequest, Change, Changes, ColumnUse, EventsImport, EventsRequest,
    IMPORT_CODES, RoomsImport, RoomsRequest, import_building, import_events, import_rooms,
    map_rooms,
};
pub use problem::{Problem, Problems, Severity};
pub use schema::schema;
pub use split::{OwnedRow, SplitReading, read_split};

use crate::site::Site;
use crate::units::Span;
use log::Log;
use std::path::{Path, PathBuf};

/// A site that was read without an error.
#[derive(Clone, Debug)]
pub struct Reading {
    /// The site.
    pub site: Site,
    /// How reports show figures.
    pub units: Units,
    /// What is allowed but odd.
    pub warnings: Vec<Problem>,
    /// The files that were read, the site's own first.
    pub files: Vec<PathBuf>,
}

/// How reports show figures. Inside the program everything is metric.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Units {
    /// Metres, square metres, litres.
    #[default]
    Metric,
    /// Feet, square feet, gallons.
    Us,
}

/// Reads a site: `path` is its folder (with a `site.yaml`) or its YAML file.
///
/// # Errors
///
/// Every problem of the site's files, errors and warnings, in the order of files and lines.
pub fn read_site(path: &Path) -> Result<Reading, Problems> {
    read_site_with(path, &files::Instead::new())
}

/// Reads a site as it would be with other texts in place of some of its files.
fn read_site_with(path: &Path, instead: &files::Instead) -> Result<Reading, Problems> {
    let log = Log::default();
    let Some(written) = gather::gather(path, instead, &log) else {
        return Err(Problems(log.into_problems()));
    };
    let (site, origins) = resolve::resolve(&written, &log);
    sense::alone(&site, &origins, &log);
    if log.errors() == 0 {
        sense::together(&site, &origins, &log);
    }
    if log.errors() > 0 {
        return Err(Problems(log.into_problems()));
    }
    let units = match written.site.units {
        Some(raw::RawUnits::Us) => Units::Us,
        _ => Units::Metric,
    };
    let files = log.paths();
    Ok(Reading {
        site,
        units,
        warnings: log.into_problems(),
        files,
    })
}

/// A shift as site files have it, such as `17:00-01:00`; `None` if it is none.
pub fn read_shift(text: &str) -> Option<Span> {
    notation::span(text).ok()
}

/// A small commented site to start from; it needs no other files.
pub fn new_site_text() -> &'static str {
    include_str!("new_site.yaml")
}
