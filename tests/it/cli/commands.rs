//! `check`, `new`, `schema`, and the command line itself.

use super::{Folder, evenrun, json};
use std::fs;

#[test]
fn help_and_version_are_data() {
    for args in [["--help"], ["--version"]] {
        let ran = evenrun(&args);
        assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""));
        assert!(ran.out.contains("evenrun"), "{}", ran.out);
    }
}

#[test]
fn wrong_usage_ends_with_2_and_says_nothing_on_stdout() {
    let wrong: [&[&str]; 8] = [
        &[],
        &["clean"],
        &["check"],
        &["plan", "fixtures/two_floors", "--seconds", "-1"],
        &["plan", "fixtures/two_floors", "--seconds", "NaN"],
        &["plan", "fixtures/two_floors", "--date", "2026-02-30"],
        &["plan", "fixtures/two_floors", "--threads", "1000000"],
        &["verify", "fixtures/two_floors"],
    ];
    for args in wrong {
        let ran = evenrun(args);
        assert_eq!((ran.code, ran.out.as_str()), (Some(2), ""), "{args:?}");
        assert!(!ran.err.is_empty(), "{args:?}");
    }
}

#[test]
fn check_of_a_good_site_says_so() {
    let ran = evenrun(&["check", "fixtures/two_floors"]);
    assert_eq!((ran.code, ran.out.as_str()), (Some(0), ""));
    assert_eq!(ran.err, "0 errors, 0 warnings\n");
    let quiet = evenrun(&["check", "fixtures/two_floors", "--quiet"]);
    assert_eq!((quiet.code, quiet.err.as_str()), (Some(0), ""));
    let told = evenrun(&["check", "fixtures/two_floors", "--json"]);
    assert_eq!(json(&told.out), serde_json::json!({ "problems": [] }));
}

#[test]
fn check_shows_the_place_and_a_hint() {
    let ran = evenrun(&["check", "fixtures/broken/E305-unknown-kind.yaml"]);
    insta::assert_snapshot!(ran.err, @r"
    fixtures/broken/E305-unknown-kind.yaml:18:21: E305: there is no room kind `ofice`
       |
    18 |   - {id: G01, kind: ofice, area_m2: 18, bins: 2}
       |                     ^^^^^
    hint: did you mean `office`?

    1 error, 0 warnings
    ");
    let told = evenrun(&["check", "fixtures/broken/E305-unknown-kind.yaml", "--json"]);
    let problem = &json(&told.out)["problems"][0];
    assert_eq!(
        (told.code, &problem["severity"]),
        (Some(1), &json("\"error\""))
    );
    assert!(problem["line"].as_u64().unwrap() > 1);
}

#[test]
fn a_site_that_is_not_there_is_a_problem_like_any_other() {
    let ran = evenrun(&["check", "fixtures/nowhere", "--json"]);
    assert_eq!(ran.code, Some(1));
    assert_eq!(json(&ran.out)["problems"][0]["code"], "E101");
    assert_eq!(evenrun(&["plan", "fixtures/nowhere"]).code, Some(2));
}

#[test]
fn new_writes_a_site_that_can_be_checked_and_planned() {
    let folder = Folder::new();
    let site = folder.arg("my/site");
    let ran = evenrun(&["new", &site]);
    assert_eq!((ran.code, ran.out.as_str()), (Some(0), ""));
    assert!(ran.err.contains("next: evenrun plan"), "{}", ran.err);
    assert_eq!(evenrun(&["check", &site]).err, "0 errors, 0 warnings\n");
    let ran = Folder::with_new_site().plan("out", &[]);
    assert_eq!(ran.code, Some(0), "{}{}", ran.out, ran.err);
    assert!(ran.out.contains("sound: every rule is kept"), "{}", ran.out);
}

#[test]
fn new_never_overwrites() {
    let folder = Folder::new();
    fs::write(folder.path("site.yaml"), "mine").unwrap();
    let ran = evenrun(&["new", &folder.arg("")]);
    assert_eq!((ran.code, ran.out.as_str()), (Some(2), ""));
    assert!(ran.err.contains("exists already"), "{}", ran.err);
    assert!(ran.err.contains("hint: give another folder"), "{}", ran.err);
    assert_eq!(fs::read(folder.path("site.yaml")).unwrap(), b"mine");
}

#[test]
fn a_schema_that_lies_in_the_folder_already_is_left_as_it_is() {
    let folder = Folder::new();
    fs::write(folder.path("site.schema.json"), "mine").unwrap();
    assert_eq!(evenrun(&["new", &folder.arg("")]).code, Some(0));
    assert_eq!(fs::read(folder.path("site.schema.json")).unwrap(), b"mine");
    assert!(folder.path("site.yaml").exists());
}

#[test]
fn a_name_unlike_any_other_is_refused_with_the_whole_crew() {
    let folder = Folder::with_new_site();
    let ran = folder.plan("out", &["--absent", "Samira"]);
    assert_eq!(ran.code, Some(2));
    assert_eq!(
        ran.err,
        "error: nobody in the crew is called `Samira`\nhint: the crew is `Ana`, `Ben`\n"
    );
}

#[test]
fn schema_is_json_that_knows_the_keys() {
    let ran = evenrun(&["schema"]);
    assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""));
    let schema = json(&ran.out);
    for key in ["site", "floors", "halls", "rooms", "crew"] {
        assert!(schema["properties"][key].is_object(), "{key}");
    }
}

#[test]
fn completions_know_every_command_in_every_shell() {
    let help = evenrun(&["--help"]).out;
    let (_, list) = help.split_once("Commands:\n").unwrap();
    let commands: Vec<&str> = list
        .lines()
        .take_while(|l| !l.is_empty())
        .filter_map(|l| l.split_whitespace().next())
        .collect();
    assert!(commands.len() > 8);
    for shell in ["bash", "zsh", "fish", "powershell", "elvish"] {
        let ran = evenrun(&["completions", shell]);
        assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""), "{shell}");
        for command in &commands {
            assert!(ran.out.contains(command), "{shell}: {command}");
        }
        assert!(ran.out.contains("dry-run"), "{shell}");
    }
    assert_eq!(evenrun(&["completions", "tcsh"]).code, Some(2));
}

#[test]
fn the_manual_has_a_page_for_every_command() {
    let ran = evenrun(&["man"]);
    assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""));
    assert!(
        ran.out.contains(".TH evenrun 1") && ran.out.contains("evenrun\\-plan"),
        "{}",
        ran.out
    );
    let folder = Folder::new();
    evenrun(&["man", "--out", &folder.arg("man")]);
    for page in [
        "evenrun",
        "evenrun-plan",
        "evenrun-import",
        "evenrun-import-rooms",
        "evenrun-explain",
    ] {
        let text = fs::read_to_string(folder.path(&format!("man/{page}.1"))).unwrap();
        assert!(text.contains(&format!(".TH {page} 1")), "{page}: {text}");
    }
    let plan = fs::read_to_string(folder.path("man/evenrun-plan.1")).unwrap();
    assert!(
        plan.contains("Mei called in sick") && plan.contains("iterations"),
        "{plan}"
    );
}

#[test]
fn near_misses_are_told_for_commands_options_people_and_rooms() {
    for (args, wanted) in [
        (vec!["chekc", "demo/larkfield"], "check"),
        (
            vec!["plan", "demo/larkfield", "--absnet", "Mei"],
            "--absent",
        ),
        (
            vec!["plan", "demo/larkfield", "--absent", "Meu"],
            "did you mean `Mei`?",
        ),
        (
            vec!["explain", "demo/larkfield", "x.json", "1O4"],
            "did you mean `104`?",
        ),
        (vec!["import", "room", "x.csv", "--into", "y"], "rooms"),
    ] {
        let ran = evenrun(&args);
        assert_eq!(ran.code, Some(2), "{args:?}");
        assert!(ran.err.contains(wanted), "{args:?}: {}", ran.err);
    }
}

/// Runs `new --guided` with these answers, one a line.
fn guided(folder: &Folder, answers: &str) -> super::Ran {
    let mut command = assert_cmd::Command::new(env!("CARGO_BIN_EXE_evenrun"));
    let args = ["new", &folder.arg("site"), "--guided"];
    let output = command.args(args).write_stdin(answers).output().unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    super::Ran {
        code: output.status.code(),
        out: text(output.stdout),
        err: text(output.stderr),
    }
}

#[test]
fn a_guided_start_asks_about_a_dozen_questions_and_the_site_plans() {
    let folder = Folder::new();
    let ran = guided(&folder, &"\n".repeat(20));
    assert_eq!((ran.code, ran.out.as_str()), (Some(0), ""), "{}", ran.err);
    let asked = ran.err.lines().filter(|l| l.ends_with(']')).count();
    assert!((10..=14).contains(&asked), "{}", ran.err);
    let check = evenrun(&["check", &folder.arg("site")]);
    assert_eq!(check.err, "0 errors, 0 warnings\n");
    let plan = folder.plan("out", &[]);
    assert_eq!(plan.code, Some(0), "{}{}", plan.out, plan.err);
    let text = fs::read_to_string(folder.path("site/site.yaml")).unwrap();
    let first = "# yaml-language-server: $schema=site.schema.json\n";
    assert!(text.starts_with(first), "{text}");
    assert!(folder.path("site/site.schema.json").exists());
}

#[test]
fn a_guided_start_asks_again_and_writes_nothing_if_it_is_left() {
    let folder = Folder::new();
    let ran = guided(&folder, "Mill\nyards\nus\nG\n3 spaceships\n");
    assert_eq!(ran.code, Some(2));
    for wanted in [
        "answer metric or us",
        "no kind of room",
        "nothing was written",
    ] {
        assert!(ran.err.contains(wanted), "{}", ran.err);
    }
    assert!(!folder.path("site").exists());
}

#[test]
fn every_example_reads_without_a_word_and_plans_with_nothing_undone() {
    for name in ["office", "clinic", "school"] {
        let folder = Folder::new();
        let ran = evenrun(&["new", &folder.arg("site"), "--example", name]);
        assert_eq!(ran.code, Some(0), "{}", ran.err);
        let check = evenrun(&["check", &folder.arg("site")]);
        assert_eq!(check.err, "0 errors, 0 warnings\n", "{name}");
        let plan = folder.plan("out", &[]);
        assert_eq!(plan.code, Some(0), "{name}: {}{}", plan.out, plan.err);
        assert!(plan.out.contains("undone: nothing"), "{name}: {}", plan.out);
    }
    let unknown = evenrun(&["new", "x", "--example", "clinics"]);
    assert!(
        unknown.code == Some(2) && unknown.err.contains("clinic"),
        "{}",
        unknown.err
    );
}
