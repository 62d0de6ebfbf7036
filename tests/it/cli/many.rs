//! `plan --all`: many sites, of which one that is wrong stops no other, and those that are done stay.

use super::{Folder, Ran, evenrun, json, json_of, skipped};
use crate::support::made_up::{Figures, building};
use serde_json::Value;
use std::collections::BTreeSet;
use std::fs;
use std::process::Command;

/// Small buildings, all different, in folders within folders.
pub(super) fn sites(folder: &Folder, count: usize) {
    for seed in 0..count {
        // A building with everything there is takes more rooms, and a crew that can do it more people.
        let plain = seed % 10 > 0;
        let figures = Figures {
            rooms: if plain { 24 + seed % 7 } else { 60 },
            workers: if plain { 1 + seed % 2 } else { 10 },
            floors: 1,
            seed: seed as u64,
            plain,
        };
        let made = building(figures).unwrap();
        made.write(&folder.path(&format!(
            "sites/{}/b{seed:03}",
            ["north", "south"][seed % 2]
        )))
        .unwrap();
    }
}

fn plan_all(folder: &Folder, more: &[&str]) -> Ran {
    let (sites, out) = (folder.arg("sites"), folder.arg("out"));
    let args = ["plan", "--all", &sites, "--out", &out, "--iterations", "2"];
    evenrun(&[&args, more].concat())
}

/// Site and state of every row.
fn states(ran: &Ran) -> Vec<(String, String)> {
    let text = |row: &Value, key: &str| row[key].as_str().unwrap().to_string();
    let rows = json(&ran.out);
    let rows = rows["sites"].as_array().unwrap();
    rows.iter()
        .map(|row| (text(row, "site"), text(row, "state")))
        .collect()
}

#[test]
fn two_hundred_sites_are_planned_and_one_bad_one_stops_none() {
    let folder = Folder::new();
    sites(&folder, 200);
    fs::write(folder.path("sites/south/b101/site.yaml"), "site: [\n").unwrap();
    let ran = plan_all(&folder, &["--json"]);
    assert_eq!(ran.code, Some(2), "{}", ran.err);
    let found = states(&ran);
    assert_eq!(found.len(), 200);
    assert!(found.is_sorted());
    for (site, state) in &found {
        let expected = if site == "south/b101" {
            "cannot be planned"
        } else {
            "planned"
        };
        assert_eq!(state, expected, "{site}: {}", ran.err);
    }
    assert!(ran.err.contains("b101"), "{}", ran.err);
    for (site, _) in found.iter().filter(|(_, state)| state == "planned") {
        assert_eq!(
            json_of(&folder.path(&format!("out/{site}/plan.json")))["sound"],
            true,
            "{site}"
        );
    }

    // Again: nothing is planned twice but what has changed, in its files, its plan, or what is asked for.
    let before = fs::read(folder.path("out/north/b000/plan.json")).unwrap();
    fs::write(folder.path("out/north/b002/plan.json"), "{}").unwrap();
    let crew = folder.path("sites/north/b004/crew.yaml");
    fs::write(&crew, fs::read_to_string(&crew).unwrap() + "# changed\n").unwrap();
    let again = plan_all(&folder, &["--json"]);
    let planned: Vec<String> = states(&again)
        .into_iter()
        .filter(|(_, s)| s == "planned")
        .map(|(site, _)| site)
        .collect();
    assert_eq!(planned, ["north/b002", "north/b004"]);
    assert_eq!(
        fs::read(folder.path("out/north/b000/plan.json")).unwrap(),
        before
    );
    let table = plan_all(&folder, &[]).out;
    assert!(table.starts_with("200 sites\n"), "{table}");
    let line = table.lines().find(|l| l.starts_with("south/b101")).unwrap();
    assert!(line.ends_with("cannot be planned"), "{line}");
}

#[test]
fn the_plan_of_a_site_among_many_is_the_one_it_has_alone() {
    let folder = Folder::new();
    sites(&folder, 4);
    assert!(plan_all(&folder, &["--threads", "2"]).code < Some(2));
    let (site, out) = (folder.arg("sites/south/b003"), folder.arg("alone"));
    evenrun(&["plan", &site, "--out", &out, "--iterations", "2"]);
    for name in ["plan.json", "report.html", "cards.html"] {
        let read = |at: &str| fs::read(folder.path(&format!("{at}/{name}"))).unwrap();
        assert!(read("alone") == read("out/south/b003"), "{name}");
    }
}

#[test]
fn shares_are_apart_and_together_they_are_all() {
    let folder = Folder::new();
    sites(&folder, 7);
    let part = |part: &str| {
        let ran = plan_all(&folder, &["--json", "--part", part]);
        states(&ran)
            .into_iter()
            .map(|(site, _)| site)
            .collect::<BTreeSet<_>>()
    };
    let parts = ["1/3", "2/3", "3/3"].map(part);
    assert_eq!(
        parts.iter().map(BTreeSet::len).collect::<Vec<_>>(),
        [3, 2, 2]
    );
    assert_eq!(parts.iter().flatten().collect::<BTreeSet<_>>().len(), 7);
    let all = states(&plan_all(&folder, &["--json"]));
    assert!(all.iter().all(|(_, state)| state == "as before"), "{all:?}");
}

#[test]
fn a_folder_without_sites_and_a_share_that_is_none_are_refused() {
    let folder = Folder::with_new_site();
    fs::create_dir(folder.path("sites")).unwrap();
    let ran = plan_all(&folder, &[]);
    assert_eq!(ran.code, Some(2));
    assert!(
        ran.err.contains("has a site.yaml") && ran.err.contains("without `--all`"),
        "{}",
        ran.err
    );
    for wrong in [
        &["--part", "4/3"][..],
        &["--part", "1/2", "--absent", "Ana"],
        &["--keep", "plan.json"],
    ] {
        assert_eq!(plan_all(&folder, wrong).code, Some(2), "{wrong:?}");
    }
    let site = folder.arg("site");
    assert_eq!(evenrun(&["plan", &site, "--part", "1/2"]).code, Some(2));
}

#[test]
fn a_folder_that_is_not_there_is_named() {
    let folder = Folder::new();
    let ran = plan_all(&folder, &[]);
    assert_eq!(ran.code, Some(2));
    let said = format!("error: cannot read `{}`: ", folder.arg("sites"));
    assert!(ran.err.starts_with(&said), "{}", ran.err);
}

/// Files among the folders, a folder of output that is a file, and one in which nothing can be noted: each is its own site's trouble.
#[test]
fn what_cannot_be_written_stops_no_other_site() {
    let folder = Folder::new();
    sites(&folder, 4);
    fs::write(folder.path("sites/notes.txt"), "not a site").unwrap();
    fs::create_dir_all(folder.path("out/north/b002/done.json")).unwrap();
    fs::create_dir_all(folder.path("out/south")).unwrap();
    fs::write(folder.path("out/south/b001"), "a file").unwrap();
    let ran = plan_all(&folder, &["--json"]);
    assert_eq!(ran.code, Some(2), "{}", ran.err);
    let expected = [
        ("north/b000", "planned"),
        ("north/b002", "cannot be planned"),
        ("south/b001", "cannot be planned"),
        ("south/b003", "planned"),
    ];
    let expected = expected.map(|(site, state)| (site.to_string(), state.to_string()));
    assert_eq!(states(&ran), expected, "{}", ran.err);
    assert!(ran.err.contains("error: north/b002: "), "{}", ran.err);
    assert!(ran.err.contains("south/b001"), "{}", ran.err);
    let rows = json(&ran.out);
    assert!(rows["sites"][1]["figures"].is_null(), "{rows:#}");
}

#[test]
fn many_sites_by_the_clock_have_sound_plans_each() {
    let folder = Folder::new();
    sites(&folder, 2);
    let [all, out] = ["sites", "out"].map(|name| folder.arg(name));
    let ran = evenrun(&[
        "plan",
        "--all",
        &all,
        "--out",
        &out,
        "--seconds",
        "0.3",
        "--json",
    ]);
    assert!(ran.code < Some(2), "{}", ran.err);
    for (site, state) in states(&ran) {
        assert_eq!(state, "planned", "{site}");
        let plan = json_of(&folder.path(&format!("out/{site}/plan.json")));
        assert_eq!(plan["sound"], true, "{site}");
    }
}

/// The README's line for GNU parallel, run as it stands there.
#[test]
fn an_engine_that_runs_jobs_shares_the_sites_out() {
    let is_gnu = Command::new("parallel").arg("--version").output();
    if !is_gnu.is_ok_and(|o| String::from_utf8_lossy(&o.stdout).contains("GNU parallel")) {
        skipped("GNU parallel is not installed");
        return;
    }
    let readme = fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md")).unwrap();
    let line = readme.lines().find(|l| l.starts_with("parallel ")).unwrap();
    let folder = Folder::new();
    sites(&folder, 9);
    let program = std::path::Path::new(env!("CARGO_BIN_EXE_evenrun"))
        .parent()
        .unwrap();
    let path = std::env::join_paths(
        std::iter::once(program.to_path_buf())
            .chain(std::env::split_paths(&std::env::var_os("PATH").unwrap())),
    );
    let status = Command::new("sh")
        .args(["-c", &line.replace("--seconds 60", "--iterations 2")])
        .current_dir(folder.path(""))
        .env("PATH", path.unwrap())
        .output()
        .unwrap();
    assert!(status.status.code() < Some(2), "{status:?}");
    let all = states(&plan_all(&folder, &["--json"]));
    assert_eq!(all.len(), 9);
    assert!(all.iter().all(|(_, state)| state == "as before"), "{all:?}");
}
