//! The mapping file: which column becomes what, and which word means which kind. Written as understood, to be changed by hand.

use super::columns::{Target, plain, words};
use super::heading::Heading;
use crate::input::draft::scalar;
use crate::input::files::read_text;
use crate::input::limits;
use crate::input::log::{Log, Pos};
use crate::input::tree::{Node, Shape, read_yaml};
use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::Path;

/// The word that stands for every kind not named.
const ANY: &str = "*";
/// What a kind is mapped to if its rows are to be left out.
pub(crate) const IGNORED: &str = "ignore";

/// What a mapping file says.
#[derive(Debug, Default)]
pub(crate) struct Mapping {
    /// The sheet the rooms are on.
    pub(crate) sheet: Option<String>,
    /// Headers, as compared, and what they become.
    pub(crate) columns: Vec<(String, Target, Pos)>,
    /// Words for kinds, as compared, and the kinds.
    pub(crate) kinds: BTreeMap<String, (String, Pos)>,
}

impl Mapping {
    /// Reads a mapping file; `None` if the log says why not.
    pub(crate) fn read(path: &Path, log: &Log) -> Option<Mapping> {
        let before = log.errors();
        let text = read_text(path, limits::MAPPING_BYTES, log)?;
        let node = read_yaml(text.file, &text.text, log)?;
        let mut mapping = Mapping::default();
        for (key, value) in entries(&node, log) {
            match key.name.as_str() {
                "sheet" => mapping.sheet = said(value, log),
                "columns" => mapping.columns = columns(value, log),
                "kinds" => {
                    let all = entries(value, log).filter_map(|(word, kind)| {
                        let compared = if word.name == ANY {
                            ANY.to_string()
                        } else {
                            plain(&word.name)
                        };
                        Some((compared, (said(kind, log)?, kind.pos)))
                    });
                    mapping.kinds = all.collect();
                }
                other => {
                    let message = format!("`{other}` is not a key of a mapping file");
                    log.error(
                        "I202",
                        key.pos,
                        message,
                        log.near(other, &["sheet", "columns", "kinds"]),
                    );
                }
            }
        }
        (log.errors() == before).then_some(mapping)
    }

    /// The kind a word is mapped to.
    pub(crate) fn kind_of(&self, word: &str) -> Option<&(String, Pos)> {
        self.kinds.get(&plain(word)).or_else(|| self.kinds.get(ANY))
    }
}

fn columns(node: &Node, log: &Log) -> Vec<(String, Target, Pos)> {
    let read = |(header, value): (&crate::input::tree::Key, &Node)| {
        let word = said(value, log)?;
        let target = Target::of_word(&word);
        if target.is_none() {
            let message = format!("there is no column `{word}` of rooms");
            log.error("I202", value.pos, message, log.near(&word, &words()));
        }
        Some((plain(&header.name), target?, header.pos))
    };
    entries(node, log).filter_map(read).collect()
}

fn entries<'a>(
    node: &'a Node,
    log: &Log,
) -> impl Iterator<Item = (&'a crate::input::tree::Key, &'a Node)> {
    let entries: &[_] = match &node.shape {
        Shape::Map(entries) => entries,
        Shape::Null => &[],
        _ => {
            log.error(
                "I202",
                node.pos,
                "keys and values are expected here".to_string(),
                "",
            );
            &[]
        }
    };
    entries.iter().map(|(key, value)| (key, &**value))
}

fn said(node: &Node, log: &Log) -> Option<String> {
    if let Shape::Text(text) = &node.shape {
        return Some(text.trim().to_string());
    }
    log.error(
        "I202",
        node.pos,
        "one word is expected here".to_string(),
        "",
    );
    None
}

/// The mapping file of a table as it was understood.
pub(crate) fn text(
    file: &str,
    sheet: Option<&str>,
    heading: &Heading,
    kinds: &[(String, Option<String>)],
) -> String {
    let mut text = format!(
        "# How the columns of {file} become those of rooms. Change it and import again with this file.\n"
    );
    let _ = writeln!(text, "# Columns may become: {}.", words().join(", "));
    if let Some(sheet) = sheet {
        let _ = writeln!(text, "sheet: {}", scalar(sheet));
    }
    text.push_str("columns:\n");
    for column in heading.columns.iter().filter(|c| !c.header.is_empty()) {
        let target = column.target.unwrap_or(Target::Ignored);
        let _ = writeln!(text, "  {}: {}", scalar(&column.header), target.word());
    }
    text.push_str("\n# Words for kinds of rooms. Rows of a kind that is `ignore` are left out; `\"*\"` stands for every other word.\nkinds:\n");
    for (word, kind) in kinds {
        match kind {
            Some(kind) => {
                let _ = writeln!(text, "  {}: {}", scalar(word), scalar(kind));
            }
            None => {
                let _ = writeln!(text, "  # {}: ? # not understood", scalar(word));
            }
        }
    }
    text
}
