//! `report`: a plan shown again, and the files it writes.

use super::{Folder, evenrun, json_of};
use std::fs;
use std::path::Path;

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    let mut names: Vec<String> = entries
        .map(|e| e.unwrap().file_name().to_string_lossy().to_string())
        .collect();
    names.sort();
    names
}

#[test]
fn a_plan_is_shown_as_it_was_and_every_file_asked_for_is_written() {
    let folder = Folder::with_new_site();
    let planned = folder.plan("out", &[]);
    let (site, plan) = (folder.arg("site"), folder.arg("out/plan.json"));
    let ran = evenrun(&["report", &site, &plan]);
    assert_eq!((ran.code, &ran.out), (Some(0), &planned.out), "{}", ran.err);
    let [page, cards, csv, ics, svg] =
        ["a/r.html", "a/c.html", "csv", "ics", "svg"].map(|n| folder.arg(n));
    let all = [
        "report",
        &site,
        &plan,
        "--html",
        &page,
        "--cards",
        &cards,
        "--csv",
        &csv,
        "--ics",
        &ics,
        "--map-svg",
        &svg,
    ];
    let ran = evenrun(&all);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    let read = |name: &str| fs::read_to_string(folder.path(name)).unwrap();
    assert_eq!(read("a/r.html"), read("out/report.html"));
    assert_eq!(read("a/c.html"), read("out/cards.html"));
    assert_eq!(names(&folder.path("csv")).len(), 4);
    assert_eq!(names(&folder.path("ics")).len(), 2);
    assert!(names(&folder.path("svg")).len() > 2);
    assert_eq!(
        ran.err.matches("wrote ").count(),
        2 + 4 + 2 + names(&folder.path("svg")).len()
    );
}

#[test]
fn cards_come_in_large_print_and_in_spanish() {
    let folder = Folder::with_new_site();
    folder.plan("out", &[]);
    let (site, plan, cards) = (
        folder.arg("site"),
        folder.arg("out/plan.json"),
        folder.arg("c.html"),
    );
    let args = [
        "report", &site, &plan, "--cards", &cards, "--lang", "es", "--large", "-q",
    ];
    let ran = evenrun(&args);
    assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""));
    let text = fs::read_to_string(&cards).unwrap();
    assert!(text.contains("lang=\"es\"") && text.contains("cards large"));
    assert!(text.contains("Llevar") && text.contains("vaciar papeleras"));
}

#[test]
fn a_changed_plan_is_shown_without_its_bound_and_a_broken_one_ends_with_1() {
    let folder = Folder::with_new_site();
    folder.plan("out", &[]);
    let path = folder.path("out/plan.json");
    let mut plan = json_of(&path);
    let stops = plan["runs"][0]["stops"].as_array_mut().unwrap();
    let work = stops.iter().position(|s| s["what"] == "clean").unwrap();
    stops.remove(work);
    fs::write(&path, plan.to_string()).unwrap();
    let (site, plan) = (folder.arg("site"), folder.arg("out/plan.json"));
    let ran = evenrun(&["report", &site, &plan]);
    assert_eq!(ran.code, Some(1));
    assert!(
        ran.out.contains("NOT SOUND") && ran.out.contains("No bound is known"),
        "{}",
        ran.out
    );
    assert!(
        ran.err.contains("its proven bound is left out"),
        "{}",
        ran.err
    );
}

#[test]
fn what_cannot_be_read_or_written_and_unknown_languages_end_with_2() {
    let folder = Folder::with_new_site();
    folder.plan("out", &[]);
    let (site, plan) = (folder.arg("site"), folder.arg("out/plan.json"));
    let in_the_way = folder.arg("site/site.yaml/x");
    let wrong: [&[&str]; 4] = [
        &["report", &site, &plan, "--lang", "tlh"],
        &["report", &site, "nowhere.json"],
        &["report", &site, &plan, "--csv", &in_the_way],
        &["report", &site, &plan, "--html", &site],
    ];
    for args in wrong {
        let ran = evenrun(args);
        assert_eq!(ran.code, Some(2), "{args:?}: {}", ran.err);
        assert!(!ran.err.is_empty(), "{args:?}");
    }
}
