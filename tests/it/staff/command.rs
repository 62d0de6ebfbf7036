//! `evenrun staff` as its users meet it.

use crate::cli::{Folder, evenrun, json};
use std::fs;

#[test]
fn the_answer_is_tables_on_stdout_and_a_page() {
    let folder = Folder::with_new_site();
    let [site, out] = ["site", "out"].map(|name| folder.arg(name));
    let args = [
        "staff",
        &site,
        "--date",
        "2026-03-10",
        "--iterations",
        "30",
        "--out",
        &out,
    ];
    let ran = evenrun(&args);
    assert!(matches!(ran.code, Some(0 | 1)), "{}", ran.err);
    assert!(ran.out.starts_with("How many people: "), "{}", ran.out);
    for said in [
        "CEDS element 001866",
        "NCES 2003-347",
        "USPS",
        "The lists disagree",
        "Hours/year",
    ] {
        assert!(ran.out.contains(said), "{said}: {}", ran.out);
    }
    assert!(!ran.out.contains("CASBO"));
    let page = fs::read_to_string(folder.path("out/staff.html")).unwrap();
    for section in ["id=\"staff\"", "id=\"hours\"", "id=\"formulas\""] {
        assert!(page.contains(section), "{section}");
    }
}

#[test]
fn levels_a_shift_and_a_school_can_be_asked_for() {
    let folder = Folder::with_new_site();
    let [site, out] = ["site", "out"].map(|name| folder.arg(name));
    let args = [
        "staff",
        &site,
        "--date",
        "2026-03-10",
        "--iterations",
        "30",
        "--out",
        &out,
        "--json",
    ];
    let more = [
        "--levels",
        "--shift",
        "16:00-22:00",
        "--students",
        "420",
        "--teachers",
        "18",
        "--school",
        "elementary",
    ];
    let ran = evenrun(&[&args[..], &more[..]].concat());
    let told = json(&ran.out);
    assert_eq!(told["levels"].as_array().unwrap().len(), 3);
    assert_eq!(told["levels_left"], 0);
    assert_eq!(told["shift"][0], "16:00:00");
    let lists = told["formulas"].as_array().unwrap();
    assert!(lists.iter().any(|f| f["list"] == "CASBO"));
    let again = evenrun(&[&args[..], &more[..], &["--threads", "1"]].concat());
    assert_eq!(ran.out, again.out);
    assert_eq!(evenrun(&["staff", &site, "--shift", "noon"]).code, Some(2));
    assert_eq!(evenrun(&["staff", &site, "--students", "3"]).code, Some(2));
}
