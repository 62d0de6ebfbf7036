//! Buildings in open formats into a new site: OGC IndoorGML 1.0 and IFC (ISO 16739-1).
//!
//! ```text
//! .gml ──gml──┐
//!             ├──> Building ──lay──> halls, links ──site──> a new site, every guess told
//! .ifc ──ifc──┘
//! ```

mod gml;
mod ifc;
mod lay;
mod plan;
mod site;

use super::rooms::{Present, merge};
use super::table::whole;
use super::{New, settle};
use crate::input::draft::Draft;
use crate::input::files::{main_file, read_text};
use crate::input::gather::builtin_kinds;
use crate::input::limits;
use crate::input::log::Log;
use crate::input::{Problem, Problems};
use crate::site::Site;
use std::path::{Path, PathBuf};

/// What is to be imported.
#[derive(Clone, Debug)]
pub struct BuildingRequest<'a> {
    /// The file: IndoorGML (.gml, .xml) or IFC (.ifc).
    pub file: &'a Path,
    /// The folder of the new site.
    pub site: &'a Path,
    /// Metres in one unit of an IndoorGML file, if the file does not tell.
    pub scale: Option<f64>,
}

/// What an import of a building would do. Nothing is written yet.
#[derive(Clone, Debug, Default)]
pub struct BuildingImport {
    /// Names of storeys, lowest first.
    pub storeys: Vec<String>,
    /// How many spaces the file has, and how many joins of two on one storey.
    pub spaces: usize,
    /// Pairs of spaces that one walks between on one storey.
    pub joins: usize,
    /// Spaces joined to nothing, which are left out.
    pub isolated: usize,
    /// Spaces with a door that leads out.
    pub ways_out: usize,
    /// Stairs and lifts.
    pub stairs: usize,
    /// Lifts.
    pub lifts: usize,
    /// Rooms of the new site.
    pub rooms: usize,
    /// Halls of the new site.
    pub halls: usize,
    /// Whole files to be written, in this order.
    pub files: Vec<(PathBuf, String)>,
    /// Guesses and gaps.
    pub notes: Vec<Problem>,
    /// What `check` would say of the site.
    pub after: Vec<Problem>,
}

/// Works out what an import of a building would do, and writes nothing.
///
/// # Errors
///
/// Everything wrong with the file; a site that is there already.
pub fn import_building(request: &BuildingRequest<'_>) -> Result<BuildingImport, Problems> {
    let log = Log::default();
    let import = import(request, &log);
    settle(import, log, |import, notes| import.notes = notes)
}

fn import(request: &BuildingRequest<'_>, log: &Log) -> Option<BuildingImport> {
    let main = main_file(request.site);
    let table = main.parent().unwrap_or(Path::new("")).join("rooms.csv");
    is_new(&[&main, &table], log)?;
    let text = read_text(request.file, limits::BUILDING_BYTES, log)?;
    let building = if text.text.trim_start().starts_with('<') {
        gml::read(text.file, &text.text, request.scale, log)?
    } else {
        ifc::read(text.file, &text.text, log)?
    };
    let called =
        |part: Option<&std::ffi::OsStr>| part.unwrap_or_default().to_string_lossy().to_string();
    let source = called(request.file.file_name());
    let name = building
        .name
        .clone()
        .unwrap_or_else(|| called(request.file.file_stem()));
    let mut made = site::made(&building, &name, &source, &builtin_kinds(), text.file, log);
    let mut present = Present::empty();
    merge(&mut present, &made.rooms);
    site::first_crew(&mut made);
    let mut draft = std::mem::take(&mut made.draft);
    let finish = |draft: &mut Draft, site: &Site| draft.crew = site::crew(&made.starts, site);
    let new = New::site(
        &main,
        vec![(table, present.csv(false))],
        &mut draft,
        finish,
        log,
    )?;
    Some(BuildingImport {
        storeys: building.storeys.iter().map(|s| s.name.clone()).collect(),
        spaces: building.spaces.len(),
        joins: building.joins.len(),
        isolated: made.isolated,
        ways_out: building.spaces.iter().filter(|s| s.leads_out).count(),
        stairs: draft.stairs.len(),
        lifts: draft.lifts.len(),
        rooms: made.rooms.len(),
        halls: draft.halls.len(),
        files: new.files,
        after: new.after,
        notes: Vec::new(),
    })
}

/// Tells of what is there already: a new site never takes the place of another.
fn is_new(files: &[&Path], log: &Log) -> Option<()> {
    let Some(there) = files.iter().find(|p| p.exists()) else {
        return Some(());
    };
    let file = log.add_source(there.to_path_buf(), "");
    let hint =
        "give a new folder; then take over what you need, or `evenrun import rooms` its rooms.csv";
    log.error(
        "I506",
        whole(file),
        format!("`{}` is there already", there.display()),
        hint,
    );
    None
}
