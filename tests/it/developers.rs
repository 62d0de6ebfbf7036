//! The index of problem codes: the code's table, the one in DEVELOPERS.md and the broken fixtures agree.

use crate::support::book::Book;
use evenrun::input::{CODES, IMPORT_CODES, read_site};
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

/// Codes without a broken site among the fixtures, and why.
const WITHOUT_FIXTURE: [(&str, &str); 3] = [
    ("E103", "a file of more than 8 MiB: made by the test below"),
    ("E104", "bytes that no editor shows: made by the test below"),
    (
        "E109",
        "the reader takes any UTF-8 text for a table; kept for what it may refuse one day",
    ),
];

#[test]
fn the_index_in_the_handbook_is_the_table_of_the_code() {
    let book = Book::open("DEVELOPERS.md");
    let written = book.rows("## Index of problem codes");
    let meant: Vec<String> = CODES
        .iter()
        .map(|(code, meaning)| format!("| {code} | {meaning} |"))
        .collect();
    assert_eq!(written, meant);
}

#[test]
fn codes_are_in_order_and_none_is_used_twice() {
    assert!(CODES.windows(2).all(|pair| pair[0].0 < pair[1].0));
}

#[test]
fn every_code_has_a_broken_site_and_every_broken_site_a_code() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/broken");
    let names = fs::read_dir(folder)
        .unwrap()
        .map(|e| e.unwrap().file_name());
    let fixtures: BTreeSet<String> = names
        .map(|n| n.to_string_lossy().chars().take(4).collect())
        .collect();
    let codes: BTreeSet<String> = CODES
        .iter()
        .map(|(code, _)| (*code).to_string())
        .filter(|code| WITHOUT_FIXTURE.iter().all(|(without, _)| without != code))
        .collect();
    assert_eq!(fixtures, codes);
}

/// The codes told of a site file with these bytes.
fn told(bytes: &[u8]) -> Vec<&'static str> {
    let folder = tempfile::tempdir().expect("a folder for the test");
    fs::write(folder.path().join("site.yaml"), bytes).expect("the folder can be written to");
    let problems = read_site(folder.path()).expect_err("a broken site");
    problems.0.iter().map(|p| p.code).collect()
}

#[test]
fn a_file_that_is_too_big_and_one_that_is_not_utf_8_are_told() {
    assert_eq!(told(&vec![b'#'; 8 * 1024 * 1024 + 1]), ["E103"]);
    assert_eq!(told(b"site: Caf\xe9\n"), ["E104"]);
}

#[test]
fn the_index_of_import_codes_is_the_table_of_the_code() {
    let book = Book::open("DEVELOPERS.md");
    let row = |(code, meaning): &(&str, &str)| format!("| {code} | {meaning} |");
    let meant: Vec<String> = IMPORT_CODES.iter().map(row).collect();
    assert_eq!(book.rows("## Index of import codes"), meant);
}
