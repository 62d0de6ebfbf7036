//! Reading sites from files: the valid fixtures read, and every broken one yields exactly the code in its name.

use evenrun::input::{CODES, Problem, Severity, new_site_text, read_site, schema};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

fn fixtures() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures")
}

#[test]
fn the_two_floor_site_reads_without_a_word() {
    let reading = read_site(&fixtures().join("two_floors")).unwrap_or_else(|problems| panic!("{problems}"));
    assert_eq!(reading.warnings, []);
    let site = reading.site;
    assert_eq!((site.rooms.len(), site.closets.len(), site.places.len(), site.crew.len()), (10, 1, 13, 2));
}

#[test]
fn a_new_site_reads_without_a_word() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("site.yaml");
    std::fs::write(&file, new_site_text()).unwrap();
    let reading = read_site(&file).unwrap_or_else(|problems| panic!("{problems}"));
    assert_eq!(reading.warnings, []);
}
