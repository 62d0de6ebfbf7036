//! `evenrun audit` as its users meet it.

use crate::cli::{Folder, Ran, evenrun, json};
use crate::support::plain_site::desks_text;
use evenrun::plan::Effort;
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

/// Rooms of 200, 150, 50, 30 and 20 minutes, A and B with five hours each, and a split in which all goes wrong that may.
fn gone_wrong() -> Folder {
    let folder = Folder::new();
    let text = desks_text(&[200, 150, 50, 30, 20], 2, "");
    fs::write(folder.path("site"), text).unwrap();
    fs::write(
        folder.path("split.csv"),
        "room,worker,order,start\nR1,A,1,\nR2,A,2,\nR3,A,3,\nR4,B,1,18:00\nR5,B,2,18:10\nR1,B,,\n",
    )
    .unwrap();
    folder
}

fn audited(folder: &Folder, more: &[&str]) -> Ran {
    let [site, split, out] = ["site", "split.csv", "out"].map(|name| folder.arg(name));
    let args = on_tuesday(&site, &split, &out);
    evenrun(&[&args[..], more].concat())
}

/// R2 ends 350 minutes after 17:00 at the earliest: it and what comes after it are late. R4 takes until 18:30.
#[test]
fn all_that_is_wrong_with_a_split_is_in_the_tables_and_on_the_page() {
    let folder = gone_wrong();
    let ran = audited(&folder, &["--times"]);
    assert_eq!(ran.code, Some(1), "{}", ran.err);
    let page = fs::read_to_string(folder.path("out/audit.html")).unwrap();
    let table = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    for said in [
        "start not possible B is to begin R5 at 18:10 and can at 18:30",
        "given to two R1: A has it, B is written as well",
        "rule 2 (shift)",
        "more of the kind)",
    ] {
        assert!(table.contains(said), "{said}: {}", ran.out);
        let last = said.rsplit("possible ").next().unwrap();
        let last = last.rsplit("to two ").next().unwrap();
        assert!(page.contains(last), "{last}");
    }
    assert!(!table.contains("Nothing: every rule is kept"), "{table}");
}

#[test]
fn all_that_is_wrong_with_a_split_is_in_the_json() {
    let told = json(&audited(&gone_wrong(), &["--times", "--json"]).out);
    assert_eq!(
        told["late"],
        serde_json::json!([{ "worker": "B", "room": "R5", "said": "18:10:00", "can": "18:30:00" }])
    );
    assert_eq!(
        told["twice"],
        serde_json::json!([{ "room": "R1", "worker": "A", "also": "B" }])
    );
    let broken = &told["today"]["broken"][0];
    assert_eq!(
        (&broken["rule"], &broken["name"]),
        (&2.into(), &"shift".into())
    );
    assert!(
        broken["message"].as_str().unwrap().starts_with("A's "),
        "{broken}"
    );
    assert_eq!(told["best"]["broken"], serde_json::json!([]));
}

#[test]
fn a_room_of_nobody_is_a_finding_of_its_own_and_not_undone_work() {
    let folder = gone_wrong();
    fs::write(
        folder.path("split.csv"),
        "room,worker\nR1,A\nR2,B\nR3,\nR4,\nR5,B\n",
    )
    .unwrap();
    let ran = audited(&folder, &[]);
    let table = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(table.contains("nobody's R3, R4"), "{}", ran.out);
    let findings = table.split("What is wrong with today's split").nth(1);
    let findings = findings.unwrap().split("How hard").next().unwrap();
    assert!(!findings.contains("undone"), "{findings}");
}

/// Plans beside a split: how hard work goes round stands below the audit.
#[test]
fn hard_work_of_a_week_is_shown_with_the_audit_and_as_json() {
    let folder = gone_wrong();
    audited(&folder, &[]);
    let [site, best, out] = ["site", "out/best.json", "week"].map(|name| folder.arg(name));
    let both = audited(&folder, &["--plans", &best, &best]);
    assert!(
        both.out.contains("How hard the runs are")
            && both.out.contains("Hard work over several plans"),
        "{}",
        both.out
    );
    let args = ["audit", &site, "--plans", &best, &best, "--json"];
    let week = evenrun(&[&args[..], &["--out", &out]].concat());
    assert_eq!(week.code, Some(0), "{}", week.err);
    let told = json(&week.out);
    assert_eq!(
        (&told["version"], &told["site"]),
        (&1.into(), &"Desks".into())
    );
    let all = told["rotation"].as_array().unwrap();
    let names: Vec<&str> = all.iter().map(|r| r["worker"].as_str().unwrap()).collect();
    assert_eq!(names, ["A", "B"]);
    let wet = Effort::NAMES[0];
    let sum = |key: &str| {
        all.iter()
            .map(|r| r[key][wet].as_f64().unwrap())
            .sum::<f64>()
    };
    assert_eq!(all[0]["shifts"], 2);
    // Twice the 450 minutes of a night, all of them wiping; whoever has the most has it both times.
    assert!((sum("effort") - 900.0).abs() < 1e-9, "{told:#}");
    assert!((sum("part") - 1.0).abs() < 1e-9);
    assert!(sum("most") >= 2.0);
    let with_audit = json(&audited(&folder, &["--plans", &best, &best, "--json"]).out);
    assert_eq!(with_audit["rotation"], told["rotation"]);
}

/// By the clock as by rounds: whole files, and a best plan that keeps every rule.
#[test]
fn an_audit_by_the_clock_leaves_a_sound_best_plan() {
    let folder = gone_wrong();
    let [site, split, out] = ["site", "split.csv", "out"].map(|name| folder.arg(name));
    let args = ["audit", &site, &split, "--seconds", "0.3", "--out", &out];
    let ran = evenrun(&args);
    assert_eq!(ran.code, Some(1), "{}", ran.err);
    let verified = evenrun(&["verify", &site, &folder.arg("out/best.json")]);
    assert_eq!(verified.code, Some(0), "{}", verified.out);
}
