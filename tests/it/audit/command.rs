//! `evenrun audit` as its users meet it.

use crate::cli::{Folder, evenrun, json};
use std::fmt::Write;
use std::fs;

/// A Tuesday: on a Saturday nobody of the crew would be there.
const DAY: &str = "2026-03-10";

/// The site of `new` with a split in which one person has all rooms but one.
fn folder() -> Folder {
    let folder = Folder::with_new_site();
    let site = crate::common::read_file(&folder.arg("site"));
    let mut text = String::from("room,worker\n");
    for (index, room) in site.rooms.iter().enumerate() {
        let owner = &site.crew[usize::from(index == 0)].name;
        let _ = writeln!(text, "{},{owner}", room.id);
    }
    fs::write(folder.path("split.csv"), text).unwrap();
    folder
}

/// On a day on which the crew is there.
fn on_tuesday<'a>(site: &'a str, split: &'a str, out: &'a str) -> [&'a str; 9] {
    [
        "audit",
        site,
        split,
        "--iterations",
        "30",
        "--date",
        DAY,
        "--out",
        out,
    ]
}

#[test]
fn an_audit_is_tables_on_stdout_a_page_and_a_plan() {
    let folder = folder();
    let [site, split, out] = ["site", "split.csv", "out"].map(|name| folder.arg(name));
    let args = on_tuesday(&site, &split, &out);
    let ran = evenrun(&args);
    assert!(matches!(ran.code, Some(0 | 1)), "{}", ran.err);
    assert!(ran.out.starts_with("Today's split: "), "{}", ran.out);
    for said in [
        "Today ",
        "possible ",
        "80 % of the gain",
        "Restroom min",
        "Highest share",
    ] {
        assert!(ran.out.contains(said), "{said}: {}", ran.out);
    }
    let page = fs::read_to_string(folder.path("out/audit.html")).unwrap();
    for section in [
        "id=\"audit\"",
        "id=\"findings\"",
        "id=\"effort\"",
        "id=\"evenness\"",
    ] {
        assert!(page.contains(section), "{section}");
    }
    let plan = folder.arg("out/best.json");
    let verified = evenrun(&["verify", &site, &plan]);
    assert_eq!(verified.code, Some(0), "{}", verified.out);
    let week = evenrun(&["audit", &site, "--plans", &plan, &plan, "--out", &out]);
    assert_eq!(week.code, Some(0), "{}", week.err);
    assert!(
        week.out.contains("Hard work over several plans"),
        "{}",
        week.out
    );
}

#[test]
fn the_same_audit_is_the_same_json_at_any_number_of_threads() {
    let folder = folder();
    let [site, split, out] = ["site", "split.csv", "out"].map(|name| folder.arg(name));
    let run = |threads: &str| {
        let args = on_tuesday(&site, &split, &out);
        evenrun(&[&args[..], &["--json", "--threads", threads]].concat())
    };
    let (one, many) = (run("1"), run("3"));
    assert_eq!(one.out, many.out);
    let told = json(&one.out);
    assert_eq!(told["version"], 1);
    assert_eq!(told["moves"]["part"], 0.8);
    assert!(told["moves"]["after"].as_f64() <= told["moves"]["today"].as_f64());
    assert!(!told["today"]["runs"].as_array().unwrap().is_empty());
}

#[test]
fn where_nobody_is_there_no_gap_is_told() {
    let folder = folder();
    let [site, split, out] = ["site", "split.csv", "out"].map(|name| folder.arg(name));
    let saturday = "2026-03-14";
    let ran = evenrun(&[
        "audit",
        &site,
        &split,
        "--date",
        saturday,
        "--iterations",
        "0",
        "--out",
        &out,
    ]);
    assert!(
        ran.out.contains("proven bound 0.0 % (gap 0.0 %)"),
        "{}",
        ran.out
    );
}

#[test]
fn a_split_that_names_nobody_known_is_refused_with_its_line() {
    let folder = folder();
    fs::write(folder.path("split.csv"), "room,worker\nno such room,Ana\n").unwrap();
    let [site, split] = ["site", "split.csv"].map(|name| folder.arg(name));
    let ran = evenrun(&["audit", &site, &split]);
    assert_eq!(ran.code, Some(2));
    assert!(
        ran.err.contains("E313") && ran.err.contains(":2:1"),
        "{}",
        ran.err
    );
    assert_eq!(evenrun(&["audit", &site]).code, Some(2));
}
