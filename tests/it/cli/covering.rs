//! `cover`, `diff` and `plan --carry`: from a plan to the next one.

use super::{Folder, Ran, evenrun, json, json_of};
use crate::support::plain_site::desks_text;
use std::fs;

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

/// A site in which walking takes no time, with its plan of a Tuesday.
fn with_desks(minutes: &[u32], people: usize, more: &[&str]) -> Folder {
    let folder = Folder::new();
    let rest = "start: door, breaks: [{name: rest, min: 15, window: \"18:00-21:00\"}]}";
    let text = desks_text(minutes, people, "").replace("start: door}", rest);
    fs::write(folder.path("site"), text).unwrap();
    let ran = folder.plan("out", more);
    assert_eq!(ran.code, Some(0), "{}{}", ran.out, ran.err);
    folder
}

#[test]
fn whoever_had_nothing_and_whoever_has_nothing_any_more_are_told() {
    let folder = with_desks(&[40], 2, &["--absent", "B"]);
    let ran = cover(&folder, &["--extra", "B", "--absent", "A"]);
    let b = |start: &str| {
        let line = ran.out.lines().find(|l| l.trim_start().starts_with(start));
        line.unwrap_or_else(|| panic!("{start}: {}", ran.out))
    };
    assert!(b("B: ").ends_with("; had nothing before"), "{}", ran.out);
    let mut added = ran.out.lines().filter(|l| l.contains(" added "));
    assert!(
        added.any(|l| l.ends_with(" rest")),
        "nobody gives a break away, and it is not new: {}",
        ran.out
    );

    let ran = cover(&folder, &["--close", "R1@16:00-23:00"]);
    assert!(
        ran.out.contains("A: nothing to do; was 17:00-"),
        "{}",
        ran.out
    );
}

#[test]
fn what_is_asked_for_besides_is_new_to_whoever_gets_it() {
    let folder = with_desks(&[40, 30], 2, &[]);
    let ran = cover(&folder, &["--now", "17:50", "--add", "R1:spill:5"]);
    assert_eq!(ran.code, Some(0), "{}{}", ran.out, ran.err);
    assert!(
        ran.out.contains("asked for besides: R1, spill, 5"),
        "{}",
        ran.out
    );
    let line = ran.out.lines().find(|l| l.contains("spill in R1"));
    let line = line.unwrap_or_else(|| panic!("{}", ran.out));
    assert!(
        line.trim_start().starts_with("added") && line.ends_with("new"),
        "{line}"
    );
    let plan = json_of(&folder.path("cover/plan.json"));
    let minutes = plan["tonight"]["added"][0]["minutes"].as_f64();
    assert_eq!(minutes, Some(5.0));
}

/// The list as a spreadsheet saves it, with its heading; one that is not there, and one with a room that is not.
#[test]
fn rooms_done_ahead_of_the_plan_are_read_from_a_list_and_told() {
    let folder = with_desks(&[40, 30], 1, &[]);
    let done = folder.arg("done.csv");
    fs::write(&done, "room\n\"R1\"\n\nR2\n").unwrap();
    let ran = cover(&folder, &["--now", "17:01", "--done", &done]);
    assert_eq!(ran.code, Some(0), "{}{}", ran.out, ran.err);
    assert!(ran.out.contains("done ahead of the plan: R"), "{}", ran.out);
    let plan = json_of(&folder.path("cover/plan.json"));
    let ahead = plan["tonight"]["done"][0].as_str().unwrap();
    let said = format!("done ahead of the plan: {ahead}\n");
    assert!(ran.out.contains(&said), "{}", ran.out);
    fs::write(&done, "R1\nR22222\n").unwrap();
    let ran = cover(&folder, &["--now", "17:01", "--done", &done]);
    assert_eq!(ran.code, Some(2));
    assert!(ran.err.contains("no room `R22222`"), "{}", ran.err);
    let none = folder.arg("none.csv");
    let ran = cover(&folder, &["--now", "17:01", "--done", &none]);
    assert_eq!(ran.code, Some(2));
    assert!(ran.err.contains("none.csv"), "{}", ran.err);
}

#[test]
fn a_plan_that_is_not_sound_is_covered_with_a_word_about_it() {
    let folder = with_desks(&[40, 30], 2, &[]);
    assert!(!cover(&folder, &[]).err.contains("breaks rules"));
    let path = folder.path("out/plan.json");
    let mut plan = json_of(&path);
    plan["runs"][0]["stops"].as_array_mut().unwrap().pop();
    fs::write(&path, plan.to_string()).unwrap();
    let ran = cover(&folder, &[]);
    let note = "note: the plan to start from breaks rules; `evenrun verify` lists them\n";
    assert!(ran.err.contains(note), "{}", ran.err);
}

/// Friday's daily work, left by all, is three days old on Monday.
#[test]
fn what_will_have_waited_for_too_long_says_what_it_comes_before() {
    let folder = Folder::new();
    let text = desks_text(&[40, 30], 2, "").replace("days: daily", "days: mon-fri");
    fs::write(folder.path("site"), text).unwrap();
    for (date, words) in [
        (
            "2026-03-13",
            "3 days late if done on 2026-03-16, and then before all but health",
        ),
        ("2026-03-12", "1 day late if done on 2026-03-13"),
    ] {
        let [site, out] = ["site", "out"].map(|name| folder.arg(name));
        let args = ["plan", &site, "--iterations", "5", "--out", &out];
        assert_eq!(
            evenrun(&[&args[..], &["--date", date]].concat()).code,
            Some(0)
        );
        let ran = cover(&folder, &["--absent", "A", "--absent", "B"]);
        assert_eq!(ran.code, Some(1), "{}", ran.err);
        let sheet = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(sheet.contains(words), "{sheet}");
        assert_eq!(
            sheet.contains("before all but health"),
            words.ends_with("health"),
            "{sheet}"
        );
    }
}

#[test]
fn nobody_is_away_who_is_not_on_duty_or_comes_besides() {
    let folder = Folder::new();
    let text = desks_text(&[40, 30], 3, "").replacen("days: daily", "days: sat", 1);
    fs::write(folder.path("site"), text).unwrap();
    folder.plan("out", &[]);
    let ran = cover(&folder, &["--absent", "A", "--absent", "B", "--extra", "B"]);
    assert_eq!(ran.code, Some(2), "{}", ran.out);
    for said in [
        "error: A is not on duty on this date\n",
        "error: B is said to be away and to come besides\n",
    ] {
        assert!(ran.err.contains(said), "{said}: {}", ran.err);
    }
}

#[test]
fn plans_of_different_days_are_not_compared() {
    let folder = with_desks(&[40, 30], 2, &[]);
    let site = folder.arg("site");
    let (tuesday, wednesday) = (folder.arg("out"), folder.arg("wednesday"));
    let args = ["plan", &site, "--date", "2026-03-11", "--iterations", "5"];
    evenrun(&[&args[..], &["--out", &wednesday]].concat());
    let [a, b] = [tuesday, wednesday].map(|out| format!("{out}/plan.json"));
    let ran = evenrun(&["diff", &site, &a, &b, "--json"]);
    assert_eq!(ran.code, Some(2));
    assert_eq!(
        ran.err,
        "error: one plan is for 2026-03-10, the other for 2026-03-11\n"
    );
    assert_eq!(json(&ran.out)["problems"][0]["code"], "other-date");
}

/// A night's plan held against another site: the first line says that, the rest what of the night is not there.
#[test]
fn a_cover_plan_of_another_site_is_told_by_its_night_too() {
    let folder = with_desks(&[40, 30], 2, &[]);
    let ran = cover(&folder, &["--close", "R1@20:00-21:00"]);
    assert!(matches!(ran.code, Some(0 | 1)), "{}", ran.err);
    let plan = folder.arg("cover/plan.json");
    let ran = evenrun(&["verify", "fixtures/two_floors", &plan]);
    assert_eq!((ran.code, ran.out.as_str()), (Some(2), ""));
    let mut lines = ran.err.lines();
    assert_eq!(
        lines.next().unwrap(),
        format!("error: {plan}: site: this is a plan of `Desks`, not of `Two floors`")
    );
    assert!(
        lines.any(|l| l.starts_with(&format!("error: {plan}: tonight.closed[0].room: "))),
        "{}",
        ran.err
    );
}

/// What waited in a room that has been taken out of the site since.
#[test]
fn a_carry_over_with_a_room_that_is_gone_is_refused() {
    let folder = with_desks(&[40, 30], 2, &[]);
    cover(&folder, &["--absent", "A", "--absent", "B"]);
    let path = folder.path("cover/carry.json");
    let carry = fs::read_to_string(&path).unwrap();
    fs::write(&path, carry.replace("\"R1\"", "\"R7\"")).unwrap();
    let [site, carry, out] = ["site", "cover/carry.json", "next"].map(|name| folder.arg(name));
    let args = ["plan", &site, "--date", "2026-03-11", "--carry", &carry];
    let ran = evenrun(&[&args[..], &["--iterations", "5", "--out", &out]].concat());
    assert_eq!(ran.code, Some(2), "{}", ran.out);
    assert!(ran.err.contains("the site has no room `R7`"), "{}", ran.err);
    assert!(!folder.path("next").exists());
}
