//! Names that the program itself brings along, in the reader's language: tasks, supplies and kinds of the built-in standard, and
//! what the bound is made of. What a site names itself stays as it is written.

use super::{Language, Words};
use std::collections::HashMap;
use std::sync::LazyLock;

/// English and Spanish, one name a line.
static SPANISH: LazyLock<HashMap<&str, &str>> =
    LazyLock::new(|| read(include_str!("vocabulary.es.txt")));

fn read(text: &'static str) -> HashMap<&'static str, &'static str> {
    let lines = text.lines().filter(|line| !line.starts_with('#'));
    lines.filter_map(|line| line.split_once(" = ")).collect()
}

impl Words {
    /// A name in the reader's language, if it is one of the program's own.
    pub(in crate::report) fn known(&self, name: &str) -> String {
        let found = match self.language {
            Language::English => None,
            Language::Spanish => SPANISH.get(name),
        };
        found.map_or_else(|| name.to_string(), ToString::to_string)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every task, supply and kind that the built-in standard names, told from its text.
    fn built_in() -> Vec<&'static str> {
        let standard = include_str!("../../input/standard.yaml");
        let mut names = Vec::new();
        for line in standard.lines().map(str::trim) {
            names.extend(line.strip_prefix("- kind: "));
            let task = line.strip_prefix("- {task: ");
            let task = task.and_then(|rest| rest.split(", how:").next());
            names.extend(task.map(|name| name.trim_matches('"')));
            let supplies = line.split("supplies: [").nth(1);
            let supplies = supplies.and_then(|rest| rest.split(']').next());
            names.extend(supplies.into_iter().flat_map(|list| list.split(", ")));
        }
        names
    }

    #[test]
    fn the_whole_built_in_standard_has_spanish_words() {
        let names = built_in();
        assert!(names.len() > 200, "{}", names.len());
        let words = Words::with_units(Language::Spanish, false);
        for name in names {
            assert_ne!(words.known(name), name, "no Spanish for `{name}`");
        }
        assert_eq!(words.known("Larkfield"), "Larkfield");
        assert_eq!(Words::terminal().known("empty bins"), "empty bins");
    }
}
