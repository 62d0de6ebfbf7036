//! Collects what was written: the site's own file, the files it names, and the built-in standard.

use super::at::{At, FileOr};
use super::files::{Instead, Text, read_main, read_sibling};
use super::log::Log;
use super::raw::{RawDiary, RawKind, RawRoom, RawSite, RawWorker};
use super::tree::{fields_of, read_as, read_csv, read_yaml};
use serde::Deserialize;
use std::path::{Path, PathBuf};

/// The built-in standard.
const STANDARD: &str = include_str!("standard.yaml");

/// Everything that was written about a site.
#[derive(Debug, Default)]
pub(crate) struct Written {
    /// The site's own file. Its rooms, crew and standard are in the lists below, wherever they were.
    pub(crate) site: RawSite,
    pub(crate) rooms: Vec<RawRoom>,
    pub(crate) crew: Vec<RawWorker>,
    pub(crate) standard: Vec<RawKind>,
    pub(crate) builtin: Vec<RawKind>,
    /// The calendar of periodic work, if the site names one.
    pub(crate) diary: Option<RawDiary>,
}

/// Reads everything; `None` if the site's own file cannot be read at all.
pub(crate) fn gather(path: &Path, instead: &Instead, log: &Log) -> Option<Written> {
    let (folder, text) = read_main(path, instead, log)?;
    let node = read_yaml(text.file, &text.text, log)?;
    let mut site: RawSite = read_as(&node, log)?;
    let rooms = listed(&mut site.rooms, &folder, instead, log);
    let crew = listed(&mut site.crew, &folder, instead, log);
    let standard = site
        .standard
        .as_mut()
        .map(|own| listed(own, &folder, instead, log))
        .unwrap_or_default();
    let builtin = if site.builtin_standard.unwrap_or(true) {
        builtin(log)
    } else {
        Vec::new()
    };
    let diary = site.calendar.as_ref().and_then(|name| {
        let text = read_sibling(&folder, name, instead, log)?;
        let node = read_yaml(text.file, &text.text, log)?;
        read_as(&node, log)
    });
    let written = Written {
        site,
        rooms,
        crew,
        standard,
        builtin,
        diary,
    };
    (!written.is_too_much(log)).then_some(written)
}

/// The list itself, or what is in the file named in its place. A file that could not be read leaves the list unsound.
fn listed<T: for<'de> Deserialize<'de>>(
    given: &mut At<FileOr<T>>,
    folder: &Path,
    instead: &Instead,
    log: &Log,
) -> Vec<T> {
    let before = log.errors();
    let list = match std::mem::take(&mut given.value) {
        FileOr::List(list) => list,
        FileOr::File(name) => {
            let name = At {
                value: name,
                pos: given.pos,
                sound: true,
            };
            read_sibling(folder, &name, instead, log)
                .and_then(|text| items(&name.value, &text, log))
                .unwrap_or_default()
        }
    };
    given.sound &= before == log.errors();
    list
}

fn items<T: for<'de> Deserialize<'de>>(name: &str, text: &Text, log: &Log) -> Option<Vec<T>> {
    let is_csv = Path::new(name)
        .extension()
        .is_some_and(|e| e.eq_ignore_ascii_case("csv"));
    let node = if is_csv {
        read_csv(text.file, &text.text, fields_of::<T>(), log)
    } else {
        read_yaml(text.file, &text.text, log)?
    };
    read_as(&node, log)
}

/// The kinds of the built-in standard.
pub(crate) fn builtin_kinds() -> Vec<String> {
    let kinds = builtin(&Log::default());
    kinds.into_iter().map(|k| k.kind.value).collect()
}

fn builtin(log: &Log) -> Vec<RawKind> {
    let file = log.add_source(PathBuf::from("built-in standard"), STANDARD);
    let node = read_yaml(file, STANDARD, log);
    node.and_then(|node| read_as(&node, log))
        .unwrap_or_default()
}
