//! `evenrun staff` as its users meet it.

use crate::cli::{Folder, evenrun, json};
use crate::support::plain_site::desks_text;
use evenrun::manage::{SchoolFigures, casbo};
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

/// The longer a school is used by others besides, the more people its formula asks for.
#[test]
fn the_kind_of_school_is_the_factor_of_its_formula() {
    let folder = Folder::new();
    fs::write(folder.path("site"), desks_text(&[30, 20], 1, "")).unwrap();
    let [site, out] = ["site", "out"].map(|name| folder.arg(name));
    let told = |school: &str| {
        let args = ["staff", &site, "--iterations", "5", "--out", &out, "--json"];
        let more = ["--students", "420", "--teachers", "18", "--school", school];
        let told = json(&evenrun(&[&args[..], &more].concat()).out);
        let lists = told["formulas"].as_array().unwrap();
        let casbo = lists.iter().find(|f| f["list"] == "CASBO").unwrap();
        casbo["least"].as_f64().unwrap()
    };
    let by_hand = |community| {
        let school = SchoolFigures {
            students: 420,
            teachers: 18,
            classrooms: 0,
            community,
        };
        // Two rooms of 10 m².
        casbo(&school, 20.0 / 0.092_903_04)
    };
    for (school, community) in [
        ("elementary", SchoolFigures::ELEMENTARY),
        ("middle", SchoolFigures::MIDDLE),
        ("high", SchoolFigures::HIGH),
    ] {
        let (told, wanted) = (told(school), by_hand(community));
        // Written with two decimals.
        assert!((told - wanted).abs() < 0.006, "{school}: {told}, {wanted}");
    }
}

#[test]
fn hours_are_told_for_every_turn_that_work_may_have() {
    let folder = Folder::new();
    let tasks = "when: daily}\n      - {task: dust, how: dry, min: 30, when: \"mon,thu\"}\n      \
                 - {task: sweep, how: dry, min: 20, when: 3 per week}\n      \
                 - {task: wash walls, how: wipe, min: 60, when: every 2 weeks}\n      \
                 - {task: polish, how: dry, min: 60, when: monthly}\n      \
                 - {task: strip, how: dry, min: 90, when: termly}";
    let text = desks_text(&[30], 1, "").replace("when: daily}", tasks);
    fs::write(folder.path("site"), text).unwrap();
    let [site, out] = ["site", "out"].map(|name| folder.arg(name));
    let args = ["staff", &site, "--iterations", "5", "--out", &out];
    let ran = evenrun(&args);
    let row = |turn: &str| {
        let line = ran.out.lines().find(|l| l.trim_start().starts_with(turn));
        line.unwrap_or_else(|| panic!("{turn}: {}", ran.out))
    };
    for (turn, hours) in [
        ("daily", "3.5"),
        ("on named days", "1.0"),
        ("so many times a week", "1.0"),
        ("every so many weeks", "0.5"),
        ("monthly", "0.2"),
        ("termly", "0.1"),
    ] {
        assert!(row(turn).contains(hours), "{}", row(turn));
    }
    let told = json(&evenrun(&[&args[..], &["--json"]].concat()).out);
    let words = told.to_string();
    for turn in ["on named days", "every so many weeks", "monthly", "termly"] {
        assert!(words.contains(turn), "{turn}: {words}");
    }
}

/// Three rooms of 160 minutes and five hours for each: two people have the hours, and two of the rooms are too much for one.
#[test]
fn a_number_that_is_not_proven_says_what_is_not_known() {
    let folder = Folder::new();
    fs::write(folder.path("site"), desks_text(&[160, 160, 160], 1, "")).unwrap();
    let [site, out] = ["site", "out"].map(|name| folder.arg(name));
    let args = ["staff", &site, "--iterations", "20", "--out", &out];
    let ran = evenrun(&args);
    let said = "3 people are enough for all that fits into such a shift; fewer than 2 cannot be. Between the two nobody knows.";
    assert!(ran.out.contains(said), "{}", ran.out);
    let by_the_clock = ["staff", &site, "--seconds", "0.5", "--out", &out, "--json"];
    let told = json(&evenrun(&by_the_clock).out);
    let level = &told["levels"][0];
    assert!(level["at_least"].as_u64() <= Some(2), "{told:#}");
    assert!(
        level["enough"].is_null() || level["enough"] == 3,
        "{told:#}"
    );
}
