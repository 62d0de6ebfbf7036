//! The README keeps its word: its site reads at every step and can be planned, and what it lists is what the program has.

use crate::support::book::{Book, names_in_code};
use evenrun::input::{LIMITS, Reading, read_site};
use evenrun::plan::{PlanDocument, Request, Rule, StopWord, make};
use evenrun::route::{Budget, Settings, Stop};
use evenrun::site::Fixture;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;
use std::process::{Command, Output};
use std::sync::atomic::AtomicBool;

fn readme() -> Book {
    Book::open("README.md")
}

fn evenrun(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_evenrun"))
        .args(args)
        .output()
        .expect("the program runs")
}

fn help_of(args: &[&str]) -> String {
    let output = evenrun(&[args, &["--help"]].concat());
    assert!(output.status.success(), "{args:?}");
    String::from_utf8(output.stdout).expect("help is text")
}

/// The top-level keys of a piece of YAML, each with its lines.
fn keys(yaml: &str) -> BTreeMap<String, String> {
    let mut found: BTreeMap<String, String> = BTreeMap::new();
    let mut key = String::new();
    for line in yaml.lines() {
        if line.starts_with(|c: char| c.is_ascii_lowercase()) {
            key = line.split(':').take(1).collect();
        }
        if !key.is_empty() {
            let lines = found.entry(key.clone()).or_default();
            lines.push_str(line);
            lines.push('\n');
        }
    }
    found
}

/// The site as it is after each piece, in a folder with the README's table of rooms.
fn steps(folder: &Path) -> Vec<Reading> {
    let book = readme();
    let tables = book.blocks("csv");
    assert_eq!(tables.len(), 1);
    fs::write(folder.join("rooms.csv"), tables[0]).expect("the folder can be written to");
    let mut site = BTreeMap::new();
    let mut step = |piece: &&str| {
        site.extend(keys(piece));
        let text: String = site.values().map(String::as_str).collect();
        read(folder, &text)
    };
    book.blocks("yaml").iter().map(&mut step).collect()
}

fn read(folder: &Path, text: &str) -> Reading {
    fs::write(folder.join("site.yaml"), text).expect("the folder can be written to");
    read_site(folder).unwrap_or_else(|problems| panic!("{text}\n{problems}"))
}

#[test]
fn the_site_by_example_reads_at_every_step_and_in_the_end_without_a_warning() {
    let folder = tempfile::tempdir().unwrap();
    let steps = steps(folder.path());
    assert_eq!(steps.len(), 8);
    let last = steps.last().unwrap();
    assert_eq!(last.warnings, []);
    let site = &last.site;
    assert_eq!(
        (site.rooms.len(), site.crew.len(), site.duties.len()),
        (8, 2, 2)
    );
}

#[test]
fn the_smallest_site_is_the_same_in_us_units_to_a_hand_s_breadth() {
    let folder = tempfile::tempdir().unwrap();
    let book = readme();
    let us = read(folder.path(), book.blocks("yaml us")[0]).site;
    let metric = read(folder.path(), book.blocks("yaml")[0]).site;
    assert!((us.halls[0].length.0 - metric.halls[0].length.0).abs() < 0.2);
    for (us, metric) in us.rooms.iter().zip(&metric.rooms) {
        assert_eq!(us.id, metric.id);
        assert!((us.area.0 - metric.area.0).abs() < 0.5, "{}", us.id);
    }
}

#[test]
fn the_site_by_example_can_be_planned_with_nothing_undone() {
    let folder = tempfile::tempdir().unwrap();
    let site = steps(folder.path()).pop().unwrap().site;
    let made = make(
        &Request {
            site: &site,
            date: site.date.unwrap(),
            absent: &[],
            keep: None,
            settings: Settings {
                stop: Stop {
                    budget: Budget::Iterations(100),
                    interrupted: &AtomicBool::new(false),
                },
                seed: 1,
                islands: 2,
            },
        },
        &mut |_, _| {},
    );
    assert_eq!(made.violations, []);
    assert_eq!(made.plan.undone, []);
}

/// The commands of a help text or of a table, `help` itself aside.
fn commands_of_help() -> BTreeSet<String> {
    let help = help_of(&[]);
    let (_, list) = help.split_once("Commands:\n").expect("a list of commands");
    let lines = list.lines().take_while(|line| !line.is_empty());
    let first = lines.filter_map(|line| line.split_whitespace().next());
    first.filter(|c| *c != "help").map(str::to_string).collect()
}

#[test]
fn every_command_is_documented_and_every_documented_command_helps() {
    let book = readme();
    let documented: BTreeSet<String> = book
        .rows("## Commands")
        .iter()
        .filter_map(|row| names_in_code(row).first()?.strip_prefix("evenrun "))
        .map(|rest| rest.split(' ').next().unwrap().to_string())
        .collect();
    assert_eq!(documented, commands_of_help());
    for command in &documented {
        assert!(help_of(&[command]).contains(&format!("evenrun {command}")));
    }
}

#[test]
fn every_shown_command_line_is_one_of_the_program() {
    let commands = commands_of_help();
    let book = readme();
    let shown: Vec<&str> = book
        .blocks("console")
        .iter()
        .flat_map(|b| b.lines())
        .filter_map(|line| {
            line.strip_prefix("$ evenrun ")
                .or_else(|| line.strip_prefix("$ cargo run --release -- "))
        })
        .collect();
    assert!(shown.len() >= 4);
    for line in shown {
        assert!(commands.contains(line.split(' ').next().unwrap()), "{line}");
    }
}

#[test]
fn every_option_is_documented_and_none_besides() {
    let book = readme();
    let common = ["--quiet", "--verbose", "--help"].map(String::from);
    for command in ["plan", "report", "audit", "calendar", "staff"] {
        let documented: BTreeSet<String> = book
            .rows(&format!("### Options of `{command}`"))
            .iter()
            .flat_map(|row| names_in_code(row))
            .filter(|name| name.starts_with("--"))
            .map(|name| name.split(' ').next().unwrap().to_string())
            .collect();
        let help = help_of(&[command]);
        let named = |word: &str| word.strip_prefix("--").map(|rest| format!("--{rest}"));
        let known: BTreeSet<String> = help
            .lines()
            .filter_map(|line| line.split_whitespace().find_map(named))
            .filter(|option| !common.contains(option))
            .collect();
        assert_eq!(documented, known, "{command}");
    }
}

#[test]
fn the_exit_codes_are_those_of_the_help() {
    let book = readme();
    let help = help_of(&[]);
    let codes: Vec<String> = book
        .rows("## Exit codes")
        .iter()
        .map(|row| row.split('|').nth(1).unwrap().trim().to_string())
        .collect();
    assert_eq!(codes, ["0", "1", "2", "3"]);
    for code in codes {
        assert!(help.contains(&format!("\n  {code}  ")), "{code}");
    }
    assert_eq!(evenrun(&["check"]).status.code(), Some(2));
}

#[test]
fn the_limits_are_those_of_the_program() {
    let book = readme();
    let told = book.rows("## What is read at most");
    let thousands = |number: u64| {
        let digits = number.to_string();
        let groups: Vec<&str> = digits
            .as_bytes()
            .rchunks(3)
            .rev()
            .map(|g| std::str::from_utf8(g).unwrap())
            .collect();
        groups.join(",")
    };
    let limits = LIMITS
        .iter()
        .map(|(what, most)| format!("| {what} | {} |", thousands(*most)));
    assert_eq!(told, limits.collect::<Vec<_>>());
}

#[test]
fn every_key_of_plan_json_is_documented() {
    let book = readme();
    let section = book.section("## plan.json");
    let documented: BTreeSet<String> = names_in_code(section)
        .iter()
        .map(|name| name.trim_end_matches("[]").to_string())
        .collect();
    let schema = schemars::schema_for!(PlanDocument).to_value();
    let mut keys = BTreeSet::new();
    properties(&schema, &mut keys);
    assert!(keys.len() > 40);
    assert_eq!(
        keys.difference(&documented).collect::<Vec<_>>(),
        Vec::<&String>::new()
    );
    for word in [StopWord::OpenAndWet, StopWord::TearDown] {
        assert!(documented.contains(&word.to_string()));
    }
}

/// Every key that a JSON Schema names, and every fixed word.
fn properties(schema: &serde_json::Value, keys: &mut BTreeSet<String>) {
    if let Some(object) = schema.get("properties").and_then(|p| p.as_object()) {
        keys.extend(object.keys().cloned());
    }
    if let Some(word) = schema.get("const").and_then(|c| c.as_str()) {
        keys.insert(word.to_string());
    }
    match schema {
        serde_json::Value::Object(map) => map.values().for_each(|v| properties(v, keys)),
        serde_json::Value::Array(list) => list.iter().for_each(|v| properties(v, keys)),
        _ => {}
    }
}

#[test]
fn the_rules_the_fixtures_and_the_kinds_are_all_there() {
    let book = readme();
    let rules = book.section("## What every plan keeps").to_lowercase();
    for rule in Rule::ALL {
        let line = format!("\n{}. **{}.**", rule.number(), rule.name());
        assert!(rules.contains(&line), "{line}");
    }
    let fixtures = names_in_code(book.section("### Carts, closets, fixtures"));
    for (_, word) in Fixture::ALL {
        assert!(fixtures.contains(&word), "{word}");
    }
    let folder = tempfile::tempdir().unwrap();
    let smallest = read(folder.path(), book.blocks("yaml")[0]).site;
    for kind in &smallest.kinds {
        assert!(fixtures.contains(&kind.id.as_str()), "{}", kind.id);
    }
}

#[test]
fn the_script_of_checks_runs_the_first_command() {
    let book = readme();
    let first = book.blocks("console")[0].lines().next().unwrap();
    let script = Book::open(".ci/run");
    let line = format!("\n{}\n", first.strip_prefix("$ ").unwrap());
    assert!(script.text().contains(&line), "{line}");
}
