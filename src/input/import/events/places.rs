//! Which rooms a calendar means by its locations: their ids and names, or what a mapping file says.

use super::super::rooms::plain;
use crate::input::draft::scalar;
use crate::input::files::read_text;
use crate::input::hint::suggest;
use crate::input::limits;
use crate::input::log::{Log, Pos};
use crate::input::tree::{Node, Shape, read_yaml};
use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::Path;

/// Stands for a location that is no room of the site.
const IGNORED: &str = "ignore";

/// Rooms by what they may be called.
pub(super) struct Places {
    /// Indices of rooms by plain words.
    by_word: BTreeMap<String, Vec<usize>>,
    /// What a mapping file says.
    mapped: BTreeMap<String, Vec<usize>>,
}

impl Places {
    /// Of rooms with their ids and names.
    pub(super) fn new(rooms: &[(String, String)]) -> Places {
        let mut by_word: BTreeMap<String, Vec<usize>> = BTreeMap::new();
        for (index, (id, name)) in rooms.iter().enumerate() {
            for word in [plain(id), plain(name)] {
                let list = by_word.entry(word).or_default();
                if !list.contains(&index) {
                    list.push(index);
                }
            }
        }
        // A name that several rooms have tells none of them.
        by_word.retain(|word, list| !word.is_empty() && list.len() == 1);
        Places {
            by_word,
            mapped: BTreeMap::new(),
        }
    }

    /// Adds what a mapping file says; `None` if the log says what is wrong with it.
    pub(super) fn map(&mut self, path: &Path, ids: &[String], log: &Log) -> Option<()> {
        let before = log.errors();
        let text = read_text(path, limits::MAPPING_BYTES, log)?;
        let node = read_yaml(text.file, &text.text, log)?;
        let Shape::Map(entries) = &node.shape else {
            log.error(
                "I202",
                node.pos,
                "locations and rooms are expected here".to_string(),
                "write `locations: {Main hall: G05}`",
            );
            return None;
        };
        for (key, value) in entries {
            let Some(Shape::Map(locations)) = (key.name == "locations").then_some(&value.shape)
            else {
                let known = ["locations"];
                log.error(
                    "I202",
                    key.pos,
                    format!("`{}` is not a key of a mapping file", key.name),
                    log.near(&key.name, &known),
                );
                continue;
            };
            for (location, rooms) in locations {
                let found = words(rooms)
                    .into_iter()
                    .filter_map(|(word, pos)| room(&word, pos, ids, log));
                self.mapped.insert(plain(&location.name), found.collect());
            }
        }
        (log.errors() == before).then_some(())
    }

    /// The rooms of a location, perhaps none; `None` if it is not known. Several may stand in it, with `;` or `,` between.
    pub(super) fn rooms(&self, location: &str) -> Option<Vec<usize>> {
        if let Some(rooms) = self.one(location) {
            return Some(rooms);
        }
        let parts = |text: &str, by: char| -> Vec<String> {
            let parts = text.split(by).map(|p| p.trim().to_string());
            parts.filter(|p| !p.is_empty()).collect()
        };
        let all = |parts: Vec<String>, look: &dyn Fn(&str) -> Option<Vec<usize>>| {
            let rooms: Option<Vec<Vec<usize>>> = parts.iter().map(|part| look(part)).collect();
            rooms.filter(|r| !r.is_empty()).map(|r| r.concat())
        };
        // A name may hold a comma itself.
        all(parts(location, ';'), &|part| {
            self.one(part)
                .or_else(|| all(parts(part, ','), &|p| self.one(p)))
        })
    }

    fn one(&self, location: &str) -> Option<Vec<usize>> {
        let words = plain(location);
        let bare = ["room ", "rm "]
            .iter()
            .find_map(|p| words.strip_prefix(p))
            .unwrap_or(&words)
            .to_string();
        let mapped = self.mapped.get(&words);
        mapped
            .or_else(|| self.by_word.get(&words))
            .or_else(|| self.by_word.get(&bare))
            .cloned()
    }
}

fn words(node: &Node) -> Vec<(String, Pos)> {
    match &node.shape {
        Shape::Text(text) => vec![(text.trim().to_string(), node.pos)],
        Shape::List(items) => items.iter().flat_map(|i| words(i)).collect(),
        Shape::Null | Shape::Map(_) => Vec::new(),
    }
}

fn room(word: &str, pos: Pos, ids: &[String], log: &Log) -> Option<usize> {
    if word == IGNORED {
        return None;
    }
    let found = ids.iter().position(|id| id == word);
    if found.is_none() {
        log.error(
            "I202",
            pos,
            format!("there is no room `{word}`"),
            log.near(word, ids),
        );
    }
    found
}

/// A mapping file for locations that are not known.
pub(super) fn text(unknown: &[String], ids: &[String]) -> String {
    let mut text = String::from(
        "# Which rooms are meant by the locations of a calendar. Write a room's id, a list of them, or `ignore`; then import again with this file.\nlocations:\n",
    );
    for location in unknown {
        let near = suggest(location, ids);
        let is_near = near.starts_with("did you mean");
        let near = if is_near {
            format!(" # {near}")
        } else {
            String::new()
        };
        let _ = writeln!(text, "  {}: ignore{near}", scalar(location));
    }
    text
}
