//! A plan written down and read back.

use crate::support::night::night;
use crate::support::two_floors::{ANA, R102, R103, task, two_floors};
use evenrun::plan::{
    Certificate, Facts, Misfit, Plan, PlanDocument, Reason, Undone, UndoneWork, measure,
};
use evenrun::site::Site;
use evenrun::units::Seconds;

fn facts() -> Facts {
    Facts {
        program: "evenrun 0.1.0".to_string(),
        seed: u64::MAX,
        iterations: 1000,
        sound: true,
        bound: Some(0.25),
        not_cleaning: Some(Seconds(93)),
        certificate: vec![Certificate {
            what: "work".to_string(),
            minutes: 107.5,
        }],
        absent: vec![ANA],
        tonight: None,
    }
}

fn written(site: &Site, plan: &Plan) -> PlanDocument {
    PlanDocument::new(site, plan, &measure(site, plan), facts())
}

/// With every kind of reason, and two breaks of one name.
fn rich() -> (Site, Plan) {
    let mut site = two_floors();
    let tea = site.crew[2].breaks[0].clone();
    site.crew[2].breaks.push(tea);
    let mut plan = night(&site);
    let last = plan.runs[2].stops.len() - 1;
    let mut second = plan.runs[2].stops[2].clone();
    second.what = evenrun::plan::What::Break(1);
    plan.runs[2].stops.insert(last, second);
    let nobody = Reason::Nobody("no one present holds `office key`".to_string());
    plan.undone.extend([
        Undone {
            what: UndoneWork::Task(task(&site, R102, "dust")),
            reason: nobody,
        },
        Undone {
            what: UndoneWork::Duty(0),
            reason: Reason::NoWindow("too late".to_string()),
        },
    ]);
    (site, plan)
}

#[test]
fn a_plan_comes_back_as_it_was() {
    let (site, plan) = rich();
    let document = written(&site, &plan);
    let text = document.to_json().unwrap();
    let again = PlanDocument::from_json(&text).unwrap();
    assert_eq!(again, document);
    assert_eq!(again.resolve(&site), Ok(plan));
}

#[test]
fn more_stops_than_any_plan_has_are_refused() {
    let site = two_floors();
    let mut document = written(&site, &night(&site));
    let stop = document.runs[0].stops[0].clone();
    document.runs[0].stops = vec![stop; 100_001];
    let misfit = PlanDocument::from_json(&document.to_json().unwrap()).unwrap_err();
    assert_eq!(misfit.at, "runs");
}

#[test]
fn the_document_says_what_was_worked_out() {
    let site = two_floors();
    let document = written(&site, &night(&site));
    let ana = &document.runs[0];
    assert_eq!(
        (ana.worker.as_str(), ana.way.as_str()),
        ("Ana", "with cart")
    );
    // 3240 s of 19200 s.
    assert!((ana.share - 0.16875).abs() < 1e-9);
    assert!((ana.minutes.load - 54.0).abs() < 1e-9);
    assert_eq!(ana.floors, ["G", "1"]);
    assert_eq!(
        (ana.stops[4].walk_s, ana.stops[4].room.as_deref()),
        (70, Some("101"))
    );
    assert_eq!(ana.stops[4].place, None);
    assert_eq!(ana.stops[1].place.as_deref(), Some("closet-G"));
    assert_eq!(document.undone[0].priority.as_deref(), Some("appearance"));
    assert_eq!(document.absent, ["Ana"]);
    // 5815 s of 19200 s, over a bound of 0.25.
    assert_eq!(
        (document.evenness.highest, document.evenness.gap),
        (0.302_865, Some(0.211_458))
    );
    assert_eq!(document.minutes.not_cleaning_bound, Some(1.55));
}

#[test]
fn keys_and_words_are_those_of_the_format() {
    let site = two_floors();
    let text = written(&site, &night(&site)).to_json().unwrap();
    let json: serde_json::Value = serde_json::from_str(&text).unwrap();
    let stops = json["runs"][1]["stops"].as_array().unwrap();
    let words: Vec<&str> = stops.iter().map(|s| s["what"].as_str().unwrap()).collect();
    let expected = [
        "set-up",
        "fetch",
        "clean",
        "return",
        "fill",
        "clean",
        "clean",
        "fill",
        "open and wet",
        "wipe and mop",
        "break",
        "reopen",
        "dump",
        "tear-down",
    ];
    assert_eq!(words, expected);
    assert_eq!(stops[10]["break"], "meal");
    assert_eq!(stops[1]["machine"], "scrubber");
    assert_eq!(stops[0]["from"], "18:00:00");
    assert_eq!(json["version"], 1);
    assert_eq!(json["undone"][0]["reason"], "no time");
}

#[test]
fn another_version_is_refused_by_name() {
    let site = two_floors();
    let text = written(&site, &night(&site)).to_json().unwrap();
    let newer = text.replace("\"version\": 1", "\"version\": 2");
    let misfit = PlanDocument::from_json(&newer).unwrap_err();
    assert_eq!(
        misfit.to_string(),
        "version: plan files of version 2 are not known here\n  hint: this program reads version 1"
    );
    assert_eq!(PlanDocument::from_json("{}").unwrap_err().at, "version");
}

#[test]
fn wrong_text_is_shown_by_line_and_column() {
    assert_eq!(
        PlanDocument::from_json("{\n  \"version\": 1,\n  oops")
            .unwrap_err()
            .at,
        "3:3"
    );
    let site = two_floors();
    let text = written(&site, &night(&site)).to_json().unwrap();
    let line = text
        .lines()
        .position(|l| l.contains("\"wipe and mop\""))
        .unwrap()
        + 1;
    let misfit =
        PlanDocument::from_json(&text.replacen("wipe and mop", "wipe an mop", 1)).unwrap_err();
    assert!(misfit.at.starts_with(&format!("{line}:")), "{misfit}");
    assert!(
        misfit.message.contains("unknown variant `wipe an mop`"),
        "{misfit}"
    );
    let misfit = PlanDocument::from_json(&text.replacen("\"seed\"", "\"sed\"", 1)).unwrap_err();
    assert!(misfit.message.contains("unknown field `sed`"), "{misfit}");
}

#[test]
fn everything_that_does_not_fit_is_listed() {
    let site = two_floors();
    let mut document = written(&site, &night(&site));
    document.date = "10.3.2026".to_string();
    document.runs[0].stops[2].room = Some("w1x".to_string());
    document.runs[0].stops[4].tasks[1] = "vacum".to_string();
    document.runs[0].stops[5].from = "18.45".to_string();
    document.runs[1].stops[1].machine = None;
    document.runs[1].stops[10].rest = Some("siesta".to_string());
    document.runs[2].worker = "Carla".to_string();
    document.undone[0].duty = Some("lock up".to_string());
    let misfits = document.resolve(&site).unwrap_err();
    let at: Vec<&str> = misfits.iter().map(|m| m.at.as_str()).collect();
    let expected = [
        "date",
        "runs[0].stops[2].room",
        "runs[0].stops[4].tasks[1]",
        "runs[0].stops[5].from",
        "runs[1].stops[1].machine",
        "runs[1].stops[10].break",
        "runs[2].worker",
        "undone[0]",
    ];
    assert_eq!(at, expected);
    let hint = |at: &str| {
        misfits
            .iter()
            .find(|m: &&Misfit| m.at == at)
            .and_then(|m| m.hint.clone())
    };
    assert_eq!(
        hint("runs[0].stops[4].tasks[1]").as_deref(),
        Some("did you mean `vacuum`?")
    );
    assert_eq!(
        hint("runs[2].worker").as_deref(),
        Some("did you mean `Cara`?")
    );
}

#[test]
fn a_stop_without_what_it_needs_is_told_what_that_is() {
    let site = two_floors();
    let mut document = written(&site, &night(&site));
    let stops = &mut document.runs[0].stops;
    (stops[0].room, stops[0].place) = (None, None);
    (stops[4].room, stops[4].place) = (None, Some("101".to_string()));
    let misfits = document.resolve(&site).unwrap_err();
    let told: Vec<String> = misfits.iter().map(Misfit::to_string).collect();
    assert_eq!(
        told,
        [
            "runs[0].stops[0]: neither `room` nor `place` is given",
            "runs[0].stops[4].room: `clean` needs a room",
        ]
    );
}

#[test]
fn work_in_another_place_than_its_room_comes_back_too() {
    let site = two_floors();
    let mut plan = night(&site);
    plan.runs[0].stops[4].place = site.place_of_room(R103);
    assert_eq!(written(&site, &plan).resolve(&site), Ok(plan));
}

#[test]
fn the_format_can_be_shown_as_a_schema() {
    let schema = schemars::schema_for!(PlanDocument);
    let text = serde_json::to_string(&schema).unwrap();
    assert!(text.contains("open and wet") && text.contains("walk_s"));
}
