//! `plan` and `verify`: from a site to files and back.

use super::{Folder, Ran, evenrun, json, json_of};
use serde_json::Value;
use std::fs;

fn verify(folder: &Folder, plan: &str, more: &[&str]) -> Ran {
    let (site, plan) = (folder.arg("site"), folder.arg(plan));
    evenrun(&[&["verify", &site, &plan], more].concat())
}

#[test]
fn a_plan_is_a_table_on_stdout_and_three_files() {
    let folder = Folder::with_new_site();
    let ran = folder.plan("deep/out", &[]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    assert!(
        ran.out.starts_with("My site, Tuesday 10 March 2026\n"),
        "{}",
        ran.out
    );
    let wrote: Vec<&str> = ran.err.lines().collect();
    assert!(
        wrote.len() == 3 && wrote.iter().all(|line| line.starts_with("wrote ")),
        "{wrote:?}"
    );
    let plan = json_of(&folder.path("deep/out/plan.json"));
    assert_eq!(
        (&plan["version"], &plan["seed"], &plan["sound"]),
        (&1.into(), &1.into(), &true.into())
    );
    let page = fs::read_to_string(folder.path("deep/out/report.html")).unwrap();
    assert!(page.starts_with("<!DOCTYPE html>"));
    assert_eq!(folder.plan("again", &["--quiet"]).err, "");
}

#[test]
fn the_same_question_gets_the_same_bytes_at_any_number_of_threads() {
    let folder = Folder::with_new_site();
    let one = folder.plan("one", &["--threads", "1", "--json"]);
    let many = folder.plan("many", &["--threads", "3", "--json"]);
    assert_eq!(one.code, Some(0));
    assert_eq!(one.out, many.out);
    assert_eq!(
        one.out.as_bytes(),
        fs::read(folder.path("one/plan.json")).unwrap()
    );
    assert_ne!(
        one.out,
        folder.plan("other", &["--seed", "7", "--json"]).out
    );
}

#[test]
fn no_rounds_at_all_still_make_a_sound_plan() {
    let folder = Folder::with_new_site();
    let ran = folder.plan_for(&["--iterations", "0"], "out", &[]);
    assert!(matches!(ran.code, Some(0 | 1)), "{}", ran.err);
    assert_eq!(verify(&folder, "out/plan.json", &[]).code, Some(0));
}

#[test]
fn undone_work_ends_with_1() {
    let folder = Folder::new();
    let site = fs::read_to_string("fixtures/broken/W902-room-without-work.yaml").unwrap();
    // Half an hour is no shift for two restrooms, each with a dwell and a drying time of ten minutes.
    let short = site.replace("17:00-22:00", "17:00-17:30");
    assert_ne!(site, short);
    fs::write(folder.path("site"), short).unwrap();
    let ran = folder.plan("out", &[]);
    assert_eq!(ran.code, Some(1), "{}{}", ran.out, ran.err);
    assert!(ran.out.contains("undone:"), "{}", ran.out);
    assert_eq!(verify(&folder, "out/plan.json", &[]).code, Some(0));
}

#[test]
fn whoever_is_away_has_no_run_and_is_named() {
    let folder = Folder::with_new_site();
    let ran = folder.plan("out", &["--absent", "Ben"]);
    assert!(ran.out.contains("away: Ben"), "{}", ran.out);
    let plan = json_of(&folder.path("out/plan.json"));
    assert_eq!(plan["absent"], json(r#"["Ben"]"#));
    let runs: Vec<&Value> = plan["runs"]
        .as_array()
        .unwrap()
        .iter()
        .map(|r| &r["worker"])
        .collect();
    assert_eq!(runs, ["Ana"]);
    assert_eq!(verify(&folder, "out/plan.json", &[]).code, Some(0));
}

#[test]
fn an_unknown_name_is_refused_with_the_crew() {
    let folder = Folder::with_new_site();
    let ran = folder.plan("out", &["--absent", "Bem", "--json"]);
    assert_eq!(ran.code, Some(2));
    assert_eq!(
        ran.err,
        "error: nobody in the crew is called `Bem`\nhint: did you mean `Ben`?\n"
    );
    let problem = &json(&ran.out)["problems"][0];
    assert_eq!(
        (&problem["severity"], &problem["code"]),
        (&"error".into(), &"unknown-worker".into())
    );
    assert!(!folder.path("out").exists());
}

#[test]
fn a_plan_that_is_kept_is_not_made_worse() {
    let folder = Folder::with_new_site();
    assert_eq!(folder.plan("out", &[]).code, Some(0));
    let kept = folder.arg("out/plan.json");
    // Into the folder of the plan that is kept: it is read before it is replaced.
    let before = json_of(&folder.path("out/plan.json"));
    let ran = folder.plan("out", &["--keep", &kept]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    let after = json_of(&folder.path("out/plan.json"));
    let highest = |plan: &Value| plan["evenness"]["highest"].as_f64().unwrap();
    // Shares are compared in bands of 0.2 %.
    assert!(highest(&after) < highest(&before) + 0.002);
}

#[test]
fn what_is_to_be_kept_must_be_a_plan_of_this_site() {
    let folder = Folder::with_new_site();
    let missing = folder.plan("out", &["--keep", &folder.arg("none.json"), "--json"]);
    assert_eq!(
        (missing.code, &json(&missing.out)["problems"][0]["code"]),
        (Some(2), &"unreadable".into())
    );
    fs::write(folder.path("half.json"), "{\"version\": 1,").unwrap();
    let half = folder.plan("out", &["--keep", &folder.arg("half.json"), "--json"]);
    assert_eq!(
        (half.code, &json(&half.out)["problems"][0]["code"]),
        (Some(2), &"plan-misfit".into())
    );
    assert!(!folder.path("out").exists());
}

#[test]
fn a_folder_that_cannot_be_written_is_refused_before_the_search() {
    let folder = Folder::with_new_site();
    fs::write(folder.path("file"), "mine").unwrap();
    fs::create_dir_all(folder.path("taken/report.html")).unwrap();
    for out in ["file", "file/below", "taken"] {
        // An hour of search would be noticed.
        let ran = folder.plan_for(&["--seconds", "3600"], out, &["--json"]);
        assert_eq!(ran.code, Some(2), "{out}: {}", ran.err);
        assert_eq!(json(&ran.out)["problems"][0]["code"], "unwritable", "{out}");
    }
    assert_eq!(fs::read(folder.path("file")).unwrap(), b"mine");
    assert!(!folder.path("taken/plan.json").exists());
}

#[test]
fn verify_lists_every_rule() {
    let folder = Folder::with_new_site();
    assert_eq!(folder.plan("out", &[]).code, Some(0));
    let ran = verify(&folder, "out/plan.json", &[]);
    assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""));
    assert_eq!(
        ran.out
            .lines()
            .filter(|line| line.starts_with("kept "))
            .count(),
        14
    );
    let ran = verify(&folder, "out/plan.json", &["--json"]);
    assert_eq!(
        json(&ran.out),
        serde_json::json!({ "sound": true, "violations": [] })
    );
}

/// The clock an hour later.
fn hour_later(clock: &Value) -> Value {
    let text = clock.as_str().unwrap();
    let (hour, rest) = text.split_once(':').unwrap();
    format!("{:02}:{rest}", hour.parse::<u32>().unwrap() + 1).into()
}

#[test]
fn a_stop_shifted_by_hand_is_found_out_with_rule_run_and_stop() {
    let folder = Folder::with_new_site();
    assert_eq!(folder.plan("out", &[]).code, Some(0));
    let path = folder.path("out/plan.json");
    let mut plan = json_of(&path);
    // Set-up comes first; an hour later, a stop that is followed within the hour runs into the next.
    let stops = plan["runs"][0]["stops"].as_array_mut().unwrap();
    let soon = |i: &usize| stops[i + 1]["from"].as_str() < hour_later(&stops[*i]["from"]).as_str();
    let at = (1..stops.len() - 1).find(soon).unwrap();
    let stop = &mut stops[at];
    (stop["from"], stop["to"]) = (hour_later(&stop["from"]), hour_later(&stop["to"]));
    let from = stop["from"].as_str().unwrap().to_string();
    let worker = plan["runs"][0]["worker"].as_str().unwrap().to_string();
    fs::write(&path, plan.to_string()).unwrap();
    let ran = verify(&folder, "out/plan.json", &[]);
    assert_eq!(ran.code, Some(1), "{}", ran.out);
    assert!(ran.out.contains("BROKEN  3 walking"), "{}", ran.out);
    assert!(
        ran.out.contains(&format!("{worker}'s stop {}, ", at + 1)),
        "{}",
        ran.out
    );
    assert!(ran.out.contains(&from), "{}", ran.out);
    let told = json(&verify(&folder, "out/plan.json", &["--json"]).out);
    assert_eq!(told["sound"], false);
    let walking = |v: &&Value| v["rule"] == 3 && v["worker"] == worker.as_str();
    assert!(
        told["violations"]
            .as_array()
            .unwrap()
            .iter()
            .any(|v| walking(&v))
    );
}

#[test]
fn a_plan_of_another_site_does_not_fit() {
    let folder = Folder::with_new_site();
    assert_eq!(folder.plan("out", &[]).code, Some(0));
    let plan = folder.arg("out/plan.json");
    let ran = evenrun(&["verify", "fixtures/two_floors", &plan]);
    assert_eq!((ran.code, ran.out.as_str()), (Some(2), ""));
    let other = "site: this is a plan of `My site`, not of ";
    let first = format!("error: {plan}: {other}");
    assert!(ran.err.starts_with(&first), "{}", ran.err);
    assert!(ran.err.contains("runs[0].stops["), "{}", ran.err);
}
