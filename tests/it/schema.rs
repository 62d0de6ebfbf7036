//! The schema of the site file, held against every site there is with a JSON Schema validator.

use crate::support::book::Book;
use evenrun::input::{EXAMPLES, new_site_text, schema};
use jsonschema::Validator;
use serde_json::{Map, Value};
use std::fs;
use std::path::{Path, PathBuf};

fn validator() -> Validator {
    jsonschema::validator_for(&schema()).unwrap()
}

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn value(text: &str) -> Value {
    serde_yaml::from_str(text).unwrap()
}

/// A site file as one document: the files that it names in place of their names.
fn whole(path: &Path) -> Value {
    let mut site = value(&fs::read_to_string(path).unwrap());
    for key in ["rooms", "crew", "standard"] {
        let Some(name) = site[key].as_str().map(str::to_string) else {
            continue;
        };
        let text = fs::read_to_string(path.parent().unwrap().join(&name)).unwrap();
        site[key] = if Path::new(&name).extension().is_some_and(|e| e == "csv") {
            table(&text)
        } else {
            value(&text)
        };
    }
    site
}

/// A cell as the YAML that says the same.
fn cell(text: &str) -> Value {
    match (text, text.parse::<i64>(), text.parse::<f64>()) {
        ("yes" | "true", ..) => Value::from(true),
        ("no" | "false", ..) => Value::from(false),
        (_, Ok(whole), _) => Value::from(whole),
        (_, _, Ok(number)) => Value::from(number),
        _ => Value::from(text),
    }
}

/// Rows as maps: what a cell says is a number if it looks like one.
fn table(text: &str) -> Value {
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let header = reader.headers().unwrap().clone();
    let row = |record: csv::StringRecord| {
        let cells = header
            .iter()
            .zip(&record)
            .filter(|(_, cell)| !cell.is_empty());
        Value::Object(
            cells
                .map(|(name, text)| (name.to_string(), cell(text)))
                .collect::<Map<_, _>>(),
        )
    };
    Value::Array(reader.records().map(|r| row(r.unwrap())).collect())
}

/// Site files under a folder, broken ones aside.
fn sites(folder: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut waiting = vec![root().join(folder)];
    while let Some(path) = waiting.pop() {
        for entry in fs::read_dir(path).unwrap().map(|e| e.unwrap().path()) {
            let is_site = entry.extension().is_some_and(|e| e == "yaml")
                && fs::read_to_string(&entry)
                    .unwrap()
                    .lines()
                    .any(|l| l.starts_with("site:"));
            if entry.is_dir() && !entry.ends_with("broken") {
                waiting.push(entry);
            } else if is_site {
                found.push(entry);
            }
        }
    }
    found
}

fn complaints(site: &Value) -> Vec<String> {
    validator()
        .iter_errors(site)
        .map(|e| format!("{}: {e}", e.instance_path()))
        .collect()
}

#[test]
fn every_site_of_demo_and_fixtures_keeps_the_schema() {
    let all = [sites("demo"), sites("fixtures")].concat();
    assert!(all.len() >= 4, "{all:?}");
    for path in all {
        assert_eq!(
            complaints(&whole(&path)),
            Vec::<String>::new(),
            "{}",
            path.display()
        );
    }
    let examples = EXAMPLES.iter().map(|(_, _, text)| *text);
    for text in examples.chain([new_site_text()]) {
        assert_eq!(complaints(&value(text)), Vec::<String>::new(), "{text}");
    }
}

#[test]
fn every_piece_of_the_readme_keeps_the_schema() {
    let book = Book::open("README.md");
    let pieces = book.blocks("yaml");
    let first = value(pieces[0]);
    assert_eq!(complaints(&first), Vec::<String>::new());
    for piece in pieces {
        let mut site = first.clone();
        for (key, part) in value(piece).as_object().unwrap() {
            site[key] = part.clone();
        }
        assert_eq!(complaints(&site), Vec::<String>::new(), "{piece}");
    }
}

/// What the schema can see is wrong with a broken site, it sees: unknown and missing keys, wrong types, unknown fixed words.
#[test]
fn broken_sites_break_the_schema_where_it_can_see_that() {
    for code in ["E201", "E202", "E203"] {
        let folder = root().join("fixtures/broken");
        let broken = fs::read_dir(folder).unwrap().map(|e| e.unwrap().path());
        let path = broken
            .into_iter()
            .find(|p| p.file_name().unwrap().to_string_lossy().starts_with(code))
            .unwrap();
        assert!(!complaints(&whole(&path)).is_empty(), "{}", path.display());
    }
}

/// The schema is named where the file begins, and lies beside it.
#[test]
fn a_new_site_names_the_schema_that_lies_beside_it() {
    let line = new_site_text().lines().next().unwrap();
    assert_eq!(line, "# yaml-language-server: $schema=site.schema.json");
    let folder = tempfile::tempdir().unwrap();
    let mut command = assert_cmd::Command::new(env!("CARGO_BIN_EXE_evenrun"));
    command
        .current_dir(folder.path())
        .args(["new", "mine"])
        .assert()
        .success();
    let text = fs::read_to_string(folder.path().join("mine/site.schema.json")).unwrap();
    assert_eq!(serde_json::from_str::<Value>(&text).unwrap(), schema());
}
