//! Reading sites from files: the valid fixtures read, and every broken one yields exactly the code in its name.

mod altered;
mod forms;

use evenrun::input::{Problem, new_site_text, read_site};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

fn fixtures() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures")
}

/// Everything that is said about a site, errors and warnings.
fn said_about(path: &Path) -> Vec<Problem> {
    match read_site(path) {
        Ok(reading) => reading.warnings,
        Err(problems) => problems.0,
    }
}

fn codes(problems: &[Problem]) -> BTreeSet<&'static str> {
    problems.iter().map(|p| p.code).collect()
}

/// A site of one file in a folder of its own.
fn site_of(text: &[u8]) -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("site.yaml");
    std::fs::write(&file, text).unwrap();
    (folder, file)
}

fn broken() -> Vec<(String, PathBuf)> {
    let entries = std::fs::read_dir(fixtures().join("broken")).unwrap();
    let mut all: Vec<_> = entries.map(|e| e.unwrap()).collect();
    all.sort_by_key(std::fs::DirEntry::file_name);
    all.iter()
        .map(|e| (e.file_name().to_string_lossy()[..4].to_string(), e.path()))
        .collect()
}

#[test]
fn the_two_floor_site_reads_without_a_word() {
    let reading =
        read_site(&fixtures().join("two_floors")).unwrap_or_else(|problems| panic!("{problems}"));
    assert_eq!(reading.warnings, []);
    let site = reading.site;
    assert_eq!(
        (
            site.rooms.len(),
            site.closets.len(),
            site.places.len(),
            site.crew.len()
        ),
        (10, 1, 13, 2)
    );
}

#[test]
fn a_new_site_reads_without_a_word() {
    let (_folder, file) = site_of(new_site_text().as_bytes());
    let reading = read_site(&file).unwrap_or_else(|problems| panic!("{problems}"));
    assert_eq!(reading.warnings, []);
}

#[test]
fn every_broken_site_yields_exactly_its_code() {
    let mut wrong = Vec::new();
    for (code, path) in broken() {
        let said = said_about(&path);
        if codes(&said) != BTreeSet::from([code.as_str()]) {
            let all: Vec<String> = said.iter().map(Problem::render).collect();
            wrong.push(format!("{}:\n{}", path.display(), all.join("\n\n")));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n=====\n\n"));
}
