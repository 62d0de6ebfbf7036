//! What the program is built from: every package's licence allows it, none is known to be given up, and nothing unsafe is written here.
//!
//! Licences are read as SPDX expressions (SPDX specification 2.3, annex D) by the crate spdx.

use crate::support::book::{Book, names_in_code};
use serde_json::Value;
use std::collections::BTreeSet;
use std::process::Command;

/// Licences that ask for no more than to be named along.
const ALLOWED: [&str; 10] = [
    "MIT",
    "MIT-0",
    "Apache-2.0",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "Zlib",
    "Unicode-3.0",
    "Unlicense",
    "CC0-1.0",
    "ISC",
];

/// Packages that are, or once were, widely used and whose authors have given them up, from the advisories of `RustSec` (from memory).
const GIVEN_UP: [&str; 18] = [
    "ansi_term",
    "atty",
    "bincode",
    "daemonize",
    "derivative",
    "fxhash",
    "instant",
    "json5",
    "libyml",
    "mach",
    "paste",
    "proc-macro-error",
    "rustc-serialize",
    "serde_cbor",
    "serde_yaml",
    "serde_yml",
    "term",
    "yaml-rust",
];

/// Everything in Cargo.lock, for all systems.
fn packages() -> Vec<Value> {
    let cargo = std::env::var("CARGO").unwrap_or("cargo".to_string());
    let output = Command::new(cargo)
        .args(["metadata", "--locked", "--format-version", "1"])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap();
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    let all: Value = serde_json::from_slice(&output.stdout).unwrap();
    all["packages"].as_array().unwrap().clone()
}

fn name(package: &Value) -> &str {
    package["name"].as_str().unwrap()
}

#[test]
fn every_licence_is_one_that_asks_for_little() {
    for package in packages() {
        let Some(licence) = package["license"].as_str() else {
            // Its file is the Apache licence; only tests use it.
            assert_eq!(name(&package), "ical");
            continue;
        };
        let terms = spdx::Expression::parse_mode(licence, spdx::ParseMode::LAX).unwrap();
        let allowed = terms.evaluate(|asked| {
            ALLOWED
                .iter()
                .any(|a| asked.license.id().is_some_and(|id| id.name == *a))
        });
        assert!(allowed, "{}: {licence}", name(&package));
    }
}

#[test]
fn no_package_is_one_that_was_given_up() {
    for package in packages() {
        assert!(!GIVEN_UP.contains(&name(&package)), "{}", name(&package));
    }
}

#[test]
fn every_library_is_listed_with_its_reason() {
    let all = packages();
    let own = all.iter().find(|p| name(p) == "evenrun").unwrap();
    let needs = own["dependencies"].as_array().unwrap().iter();
    let direct: BTreeSet<&str> = needs
        .filter(|d| d["kind"].is_null())
        .map(|d| d["rename"].as_str().unwrap_or(name(d)))
        .collect();
    let book = Book::open("DEVELOPERS.md");
    let listed: BTreeSet<&str> = book
        .rows("## What it is built from")
        .iter()
        .flat_map(|row| names_in_code(row.split('|').nth(1).unwrap_or_default()))
        .collect();
    assert_eq!(listed, direct);
}
