//! The one-way flow of the program, told from its source: imports run downwards only, files and terminal are left to three
//! layers, and the checker knows nothing of the search.

use std::fs;
use std::path::{Path, PathBuf};

/// From the bottom up; a layer uses only those before it.
const ORDER: [&str; 12] = [
    "units", "site", "walk", "work", "route", "balance", "plan", "cover", "manage", "input",
    "report", "cli",
];

/// The only layers that touch files, environment and terminal.
const OUTER: [&str; 3] = ["input", "report", "cli"];

/// What only those may say.
const OUTSIDE_WORLD: [&str; 9] = [
    "std::fs",
    "std::env",
    "std::process",
    "print!(",
    "println!(",
    "eprint!(",
    "eprintln!(",
    "dbg!(",
    "io::std",
];

/// A line of code: where it stands, which layer it belongs to, and its text without comments.
struct Line {
    at: String,
    path: PathBuf,
    layer: String,
    text: String,
    /// Whether it belongs to the tests at the end of a file.
    in_tests: bool,
}

/// Every line of code under `src/`, but for the two roots, which only list the layers.
fn code() -> Vec<Line> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = Vec::new();
    collect(&root, &mut files);
    files.sort();
    let lines: Vec<Line> = files.iter().flat_map(|f| lines_of(&root, f)).collect();
    assert!(lines.len() > 5_000, "only {} lines were found", lines.len());
    lines
}

fn collect(folder: &Path, files: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("src can be listed") {
        let path = entry.expect("src can be listed").path();
        if path.is_dir() {
            collect(&path, files);
        } else if path.extension().is_some_and(|e| e == "rs") {
            files.push(path);
        }
    }
}

fn lines_of(root: &Path, file: &Path) -> Vec<Line> {
    let path = file
        .strip_prefix(root)
        .expect("a file of src")
        .to_path_buf();
    let first = path.iter().next().map(|p| p.to_string_lossy().to_string());
    let layer = first
        .unwrap_or_default()
        .trim_end_matches(".rs")
        .to_string();
    if layer == "lib" || layer == "main" {
        return Vec::new();
    }
    assert!(
        ORDER.contains(&layer.as_str()),
        "`{layer}` has no place in the order"
    );
    let text = fs::read_to_string(file).expect("source is text");
    let tests = text
        .lines()
        .position(|l| l == "#[cfg(test)]")
        .unwrap_or(usize::MAX);
    let line = |(index, text): (usize, &str)| Line {
        at: format!("src/{}:{}", path.display(), index + 1),
        path: path.clone(),
        layer: layer.clone(),
        text: text.split("//").next().unwrap_or_default().to_string(),
        in_tests: index >= tests,
    };
    text.lines().enumerate().map(line).collect()
}

/// The layers that a line names by their path from the root of the crate, also several in braces.
fn named(text: &str) -> Vec<&str> {
    let word = |c: char| c.is_alphanumeric() || c == '_';
    let mut names = Vec::new();
    for root in ["crate::", "evenrun::"] {
        for rest in text.split(root).skip(1) {
            let list = rest.strip_prefix('{').map_or(rest, |inner| inner);
            let parts = if rest.starts_with('{') {
                list.split(',').collect()
            } else {
                vec![list]
            };
            names.extend(
                parts
                    .into_iter()
                    .filter_map(|p| p.trim().split(|c| !word(c)).next()),
            );
        }
    }
    names.retain(|n| ORDER.contains(n));
    names
}

fn rank(layer: &str) -> usize {
    ORDER.iter().position(|l| *l == layer).expect("a layer")
}

fn offenders(lines: &[Line], wrong: impl Fn(&Line) -> bool) -> Vec<String> {
    let wrong = lines.iter().filter(|l| wrong(l));
    wrong
        .map(|l| format!("{}: {}", l.at, l.text.trim()))
        .collect()
}

fn none(what: &str, offenders: &[String]) {
    assert!(offenders.is_empty(), "{what}:\n{}", offenders.join("\n"));
}

#[test]
fn names_of_layers_are_seen_in_every_way_of_writing_them() {
    assert_eq!(named("use crate::route::{Instance, pose};"), ["route"]);
    assert_eq!(named("use crate::{plan::make, site};"), ["plan", "site"]);
    assert_eq!(
        named("    let x = crate::walk::path(crate::units::Clock(0));"),
        ["walk", "units"]
    );
    assert_eq!(named("use evenrun::plan;"), ["plan"]);
    assert!(named("use super::route;").is_empty());
}

#[test]
fn imports_run_downwards() {
    let upward = |l: &Line| named(&l.text).iter().any(|n| rank(n) > rank(&l.layer));
    none("these look up", &offenders(&code(), upward));
}

/// `super` never climbs as far as the root, from where any layer could be reached unseen; nor is the root itself imported.
#[test]
fn no_import_goes_round_by_the_root() {
    let climbs = |l: &Line| {
        let is_mod = l.path.file_name().is_some_and(|n| n == "mod.rs");
        let depth = l.path.iter().count() - usize::from(is_mod) + usize::from(l.in_tests);
        l.text.contains(&"super::".repeat(depth))
            || l.text.contains("use crate;")
            || l.text.contains("use crate as")
            || l.text.contains("use crate::*")
    };
    none("these climb to the root", &offenders(&code(), climbs));
}

#[test]
fn only_the_outer_layers_touch_files_and_terminal() {
    let touches = |l: &Line| {
        !OUTER.contains(&l.layer.as_str()) && OUTSIDE_WORLD.iter().any(|w| l.text.contains(w))
    };
    none(
        "these touch the outside world",
        &offenders(&code(), touches),
    );
}

#[test]
fn graphs_stay_in_walk_and_linear_programs_in_balance() {
    for (package, home) in [("petgraph", "walk"), ("good_lp", "balance")] {
        let lines = code();
        let uses = |l: &Line| l.text.contains(&format!("{package}::"));
        let strays = |l: &Line| uses(l) && l.layer != home;
        none(
            &format!("{package} outside {home}"),
            &offenders(&lines, strays),
        );
        assert!(lines.iter().any(uses), "{package} is used nowhere");
    }
}

/// The checker shares no timing and no cost with what it checks, and neither does the reading of plans that it builds on.
#[test]
fn the_checker_knows_nothing_of_the_search() {
    let knows = |l: &Line| {
        let own = l.path.starts_with("plan/check") || l.path.starts_with("plan/reading");
        let of_search = named(&l.text)
            .iter()
            .any(|n| ["route", "balance"].contains(n));
        let by_neighbours = ["make::", "compose::", "earlier::"]
            .iter()
            .any(|n| l.text.contains(n));
        own && (of_search || by_neighbours)
    };
    let lines = code();
    assert!(lines.iter().any(|l| l.path.starts_with("plan/check")));
    none("these know the search", &offenders(&lines, knows));
}
