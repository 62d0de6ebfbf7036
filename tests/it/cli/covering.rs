//! `cover`, `diff` and `plan --carry`: from a plan to the next one.

use super::{Folder, Ran, evenrun, json, json_of};

fn cover(folder: &Folder, more: &[&str]) -> Ran {
    let (site, plan, out) = (
        folder.arg("site"),
        folder.arg("out/plan.json"),
        folder.arg("cover"),
    );
    let args = ["cover", &site, &plan, "--iterations", "30", "--out", &out];
    evenrun(&[&args, more].concat())
}

fn crew(folder: &Folder) -> Vec<String> {
    let plan = json_of(&folder.path("out/plan.json"));
    let runs = plan["runs"].as_array().unwrap();
    runs.iter()
        .map(|r| r["worker"].as_str().unwrap().to_string())
        .collect()
}

#[test]
fn a_sheet_is_printed_and_the_files_hold_a_plan_that_verifies() {
    let folder = Folder::with_new_site();
    folder.plan("out", &[]);
    let (first, second) = (&crew(&folder)[0], &crew(&folder)[1]);
    let leaves = format!("{first}@19:00");
    let ran = cover(
        &folder,
        &["--absent", &leaves, "--overtime", "30", "--steady", "9"],
    );
    assert!(matches!(ran.code, Some(0 | 1)), "{}", ran.err);
    for text in [
        "cover sheet",
        &format!("{first} leaves at 19:00"),
        second,
        "calm: ",
        "sound: every rule is kept",
    ] {
        assert!(ran.out.contains(text), "{text}:\n{}", ran.out);
    }
    for file in [
        "plan.json",
        "changes.json",
        "carry.json",
        "report.html",
        "cards.html",
    ] {
        assert!(folder.path("cover").join(file).exists(), "{file}");
    }
    let (site, plan) = (folder.arg("site"), folder.arg("cover/plan.json"));
    let verified = evenrun(&["verify", &site, &plan]);
    assert_eq!(verified.code, Some(0), "{}", verified.out);
    let again = evenrun(&["report", &site, &plan]);
    assert_eq!(again.code, ran.code, "{}", again.err);
    assert!(!again.err.contains("changed after"), "{}", again.err);
}

/// A second change on the same night starts from the cover plan.
#[test]
fn a_night_can_change_again_and_any_two_plans_be_compared() {
    let folder = Folder::with_new_site();
    folder.plan("out", &[]);
    let leaves = format!("{}@19:00", crew(&folder)[0]);
    cover(&folder, &["--absent", &leaves]);
    let (site, plan) = (folder.arg("site"), folder.arg("cover/plan.json"));
    let out = folder.arg("later");
    let args = [
        "cover",
        &site,
        &plan,
        "--now",
        "19:30",
        "--overtime",
        "40",
        "--iterations",
        "5",
        "--out",
        &out,
    ];
    let later = evenrun(&args);
    assert!(
        matches!(later.code, Some(0 | 1)),
        "{}{}",
        later.err,
        later.out
    );
    let diff = evenrun(&[
        "diff",
        &site,
        &folder.arg("out/plan.json"),
        &folder.arg("later/plan.json"),
    ]);
    assert_eq!(diff.code, Some(0), "{}", diff.err);
    assert!(
        diff.out.contains("what changed") && diff.out.contains("calm: "),
        "{}",
        diff.out
    );
}

#[test]
fn json_holds_plan_changes_and_carry_over() {
    let folder = Folder::with_new_site();
    folder.plan("out", &[]);
    let absent = crew(&folder)[0].clone();
    let ran = cover(&folder, &["--absent", &absent, "--json", "-q"]);
    let all = json(&ran.out);
    assert_eq!(all["plan"], json_of(&folder.path("cover/plan.json")));
    assert_eq!(all["changes"], json_of(&folder.path("cover/changes.json")));
    assert_eq!(all["carry"], json_of(&folder.path("cover/carry.json")));
    assert_eq!(all["plan"]["absent"][0], absent.as_str());
    let people = all["changes"]["people"].as_array().unwrap();
    let gone = people
        .iter()
        .find(|p| p["worker"] == absent.as_str())
        .unwrap();
    assert!(gone["after"].is_null() && !gone["dropped"].as_array().unwrap().is_empty());
    let (site, before, after) = (
        folder.arg("site"),
        folder.arg("out/plan.json"),
        folder.arg("cover/plan.json"),
    );
    let diff = evenrun(&["diff", &site, &before, &after, "--json"]);
    assert_eq!(json(&diff.out), all["changes"]);
}

#[test]
fn what_waits_is_taken_up_on_the_next_day() {
    let folder = Folder::with_new_site();
    folder.plan("out", &[]);
    let everybody: Vec<String> = crew(&folder);
    let absent: Vec<&str> = everybody
        .iter()
        .flat_map(|name| ["--absent", name.as_str()])
        .collect();
    let ran = cover(&folder, &absent);
    assert_eq!(ran.code, Some(1), "{}", ran.err);
    let carry = json_of(&folder.path("cover/carry.json"));
    let waits = carry["waits"].as_array().unwrap();
    assert!(!waits.is_empty());
    assert!(
        waits.iter().all(|w| w["since"] == "2026-03-10"
            && w["next"] == "2026-03-11"
            && w["days_late"] == 1)
    );
    let (site, carry, out) = (
        folder.arg("site"),
        folder.arg("cover/carry.json"),
        folder.arg("next"),
    );
    let next = |date: &str| {
        evenrun(&[
            "plan",
            &site,
            "--date",
            date,
            "--iterations",
            "30",
            "--carry",
            &carry,
            "--out",
            &out,
        ])
    };
    let ran = next("2026-03-11");
    assert!(matches!(ran.code, Some(0 | 1)), "{}", ran.err);
    assert!(folder.path("next/carry.json").exists());
    let plan = json_of(&folder.path("next/plan.json"));
    assert_eq!(
        plan["tonight"]["waited"].as_array().unwrap().len(),
        waits.len()
    );
    assert_eq!(
        evenrun(&["verify", &site, &folder.arg("next/plan.json")]).code,
        Some(0)
    );
    let refused = next("2026-03-10");
    assert_eq!(refused.code, Some(2));
    assert!(refused.err.contains("not before"), "{}", refused.err);
}

#[test]
fn what_does_not_fit_the_site_is_told_with_what_was_meant() {
    let folder = Folder::with_new_site();
    folder.plan("out", &[]);
    let name = crew(&folder)[0].clone();
    let plan = json_of(&folder.path("out/plan.json"));
    let stops = plan["runs"][0]["stops"].as_array().unwrap();
    let room = stops.iter().find_map(|s| s["room"].as_str()).unwrap();
    let wrong = format!("{name}x");
    let late = format!("{name}@9:75");
    let add = format!("{room}:no such task");
    let back = format!("{room}@19:00-18:00");
    for (args, expected) in [
        (
            vec!["--absent", wrong.as_str()],
            format!("did you mean `{name}`?"),
        ),
        (vec!["--late", late.as_str()], "is not a time".to_string()),
        (vec!["--late", name.as_str()], "NAME@HH:MM".to_string()),
        (
            vec!["--close", "nowhere@18:00-19:00"],
            "no room `nowhere`".to_string(),
        ),
        (vec!["--close", room], "ROOM@HH:MM-HH:MM".to_string()),
        (vec!["--add", add.as_str()], "how many minutes".to_string()),
        (vec!["--add", "spill"], "write ROOM:TASK".to_string()),
        (vec!["--close", back.as_str()], "ends before".to_string()),
        (vec!["--done", "list.txt"], "--now".to_string()),
        (vec!["--steady", "11"], "0..=10".to_string()),
    ] {
        let ran = cover(&folder, &args);
        assert_eq!(ran.code, Some(2), "{args:?}: {}", ran.out);
        assert!(ran.err.contains(&expected), "{args:?}: {}", ran.err);
    }
}
