//! `explain`: its reasons are worked out, and held here against sites small enough to work them out by hand.

use assert_cmd::Command;
use evenrun::units::{Clock, Seconds};
use serde_json::Value;
use std::fs;
use std::path::Path;

/// A site in a folder of its own, and its plan.
struct Planned(tempfile::TempDir);

impl Planned {
    fn new(site: &str, more: &[&str]) -> Planned {
        let planned = Planned(tempfile::tempdir().unwrap());
        planned.write("site.yaml", site);
        let args = ["plan", "site.yaml", "--iterations", "200", "--out", "out"];
        let plan = planned.run(&[&args[..], more].concat());
        assert!(matches!(plan.0, Some(0 | 1)), "{}", plan.1);
        planned
    }

    fn write(&self, name: &str, text: &str) {
        fs::write(self.0.path().join(name), text).unwrap();
    }

    fn run(&self, args: &[&str]) -> (Option<i32>, String) {
        let output = Command::new(env!("CARGO_BIN_EXE_evenrun"))
            .current_dir(self.0.path())
            .args(args)
            .output()
            .unwrap();
        (
            output.status.code(),
            String::from_utf8(output.stdout).unwrap() + &String::from_utf8(output.stderr).unwrap(),
        )
    }

    /// Changes the plan as somebody might by hand.
    fn edit(&self, how: impl FnOnce(&mut Value)) {
        let path = self.0.path().join("out/plan.json");
        let mut plan = serde_json::from_str(&fs::read_to_string(&path).unwrap()).unwrap();
        how(&mut plan);
        fs::write(path, plan.to_string()).unwrap();
    }

    fn explain(&self, room: &str) -> String {
        let (code, text) = self.run(&["explain", "site.yaml", "out/plan.json", room]);
        assert_eq!(code, Some(0), "{text}");
        text
    }
}

/// Plans a site and explains rooms of the plan.
fn explained(site: &str, rooms: &[&str]) -> Vec<String> {
    let planned = Planned::new(site, &[]);
    rooms.iter().map(|room| planned.explain(room)).collect()
}

#[track_caller]
fn has(text: &str, wanted: &str) {
    assert!(text.contains(wanted), "{wanted}:\n{text}");
}

/// One task of ten minutes in every room, all rooms next to the entrance; Ana has an hour, Ben an hour.
fn site(rooms: &str, crew: &str) -> String {
    format!(
        "site: Small\ndate: 2026-03-10\nbuiltin_standard: false\nfloors: [{{id: G}}]\naccess: [lab key]\nskills: [glass]\n\
         halls: [{{id: H, floor: G, spacing_m: 1, places: [entrance, A, B, C, D]}}]\nplaces: [{{id: entrance}}]\n\
         standard:\n  - {{kind: office, tasks: [{{task: sweep, how: dry, min: 10, when: daily, priority: expected}}]}}\n\
         \x20 - {{kind: shop, tasks: [{{task: polish, how: dry, min: 10, when: daily, priority: appearance, skills: [glass]}}]}}\n\
         rooms:\n{rooms}crew:\n{crew}"
    )
}

const ANA: &str = "  - {name: Ana, shift: \"17:00-18:00\", start: entrance, access: [lab key]}\n";
const BEN: &str = "  - {name: Ben, shift: \"17:00-18:00\", start: entrance, skills: [glass]}\n";

#[test]
fn who_may_not_is_told_with_what_is_missing() {
    let rooms = "  - {id: A, kind: office, area_m2: 9, needs: [lab key]}\n  - {id: B, kind: shop, area_m2: 9}\n\
                 \x20 - {id: C, kind: office, area_m2: 9, never: [Ana]}\n  - {id: D, kind: office, area_m2: 9, only: [Ana]}\n";
    let told = explained(&site(rooms, &format!("{ANA}{BEN}")), &["A", "B", "C", "D"]);
    for (text, owner, why) in [
        (&told[0], "Ana", "Ben  may not: does not hold `lab key`"),
        (&told[1], "Ben", "Ana  may not: lacks the skill `glass`"),
        (&told[2], "Ben", "Ana  may not: the room says so"),
        (&told[3], "Ana", "Ben  may not: the room says so"),
    ] {
        assert!(
            text.contains(&format!("{owner} does it:")) && text.contains(why),
            "{text}"
        );
    }
}

/// Four rooms of ten minutes: two each are 20 of 60 minutes, and a third one makes 30. Walks are a few seconds.
#[test]
fn what_another_s_share_would_become_is_told() {
    let rooms: String = ["A", "B", "C", "D"]
        .map(|id| format!("  - {{id: {id}, kind: office, area_m2: 9}}\n"))
        .concat();
    let told = explained(&site(&rooms, &format!("{ANA}{BEN}")), &["A", "B", "C", "D"]);
    for text in &told {
        let line = text
            .lines()
            .find(|l| l.contains("could: own share from"))
            .unwrap_or_else(|| panic!("{text}"));
        let shares: Vec<f64> = line
            .split(" %")
            .filter_map(|part| part.rsplit(' ').next()?.parse().ok())
            .collect();
        let (own, highest) = ((shares[0], shares[1]), (shares[2], shares[3]));
        assert!(
            (own.0 - 33.3).abs() < 1.0 && (own.1 - 50.0).abs() < 1.0,
            "{line}"
        );
        assert!(
            (highest.0 - 33.3).abs() < 1.0 && (highest.1 - 50.0).abs() < 1.0,
            "{line}"
        );
    }
}

/// Ben is there for 25 minutes and does two rooms: a third one takes ten, and less than five are left. Of five rooms Ana does the rest.
#[test]
fn a_shift_that_would_be_passed_is_told_with_its_minutes() {
    let rooms: String = ["A", "B", "C", "D"]
        .map(|id| format!("  - {{id: {id}, kind: office, area_m2: 9, skip: []}}\n"))
        .concat();
    let ben = BEN.replace("17:00-18:00", "17:00-17:25");
    let told = explained(
        &site(&rooms, &format!("{}{ben}", ANA.replace("18:00", "17:25"))),
        &["A", "B", "C", "D"],
    );
    for text in &told {
        let line = text
            .lines()
            .find(|l| l.contains("could not: it takes 10 min, and"))
            .unwrap_or_else(|| panic!("{text}"));
        assert!(line.contains("4 min") || line.contains("5 min"), "{line}");
    }
}

/// Six rooms' worth of work for one person with 25 minutes: two are done, and nobody could do a third.
#[test]
fn work_left_undone_is_told_with_everybody_s_minutes() {
    let rooms = "  - {id: A, kind: office, area_m2: 9}\n  - {id: B, kind: office, area_m2: 9}\n  - {id: C, kind: office, area_m2: 9, priority: health}\n\
                 \x20 - {id: D, kind: office, area_m2: 9, priority: health}\n";
    let told = explained(&site(rooms, &ANA.replace("18:00", "17:25")), &["A", "C"]);
    assert!(told[0].contains("Nobody comes here."), "{}", told[0]);
    assert!(
        told[0].contains(
            "Not done: sweep (expected): there is no time beside work that matters as much or more"
        ),
        "{}",
        told[0]
    );
    assert!(
        told[0].contains("Ana  could not: it takes 10 min, and 5 min"),
        "{}",
        told[0]
    );
    assert!(told[1].contains("nobody else is there"), "{}", told[1]);
}

#[test]
fn a_wait_is_told_with_the_rule_that_asks_for_it() {
    let rooms = "  - {id: A, kind: office, area_m2: 9, open: \"17:30-18:00\"}\n";
    let text = site(rooms, ANA).replace("[entrance, A, B, C, D]", "[entrance, A]");
    let told = explained(&text, &["A"]);
    assert!(
        told[0].contains("may be cleaned 17:30-18:00"),
        "{}",
        told[0]
    );
    assert!(told[0].contains("17:30-17:40  clean: sweep"), "{}", told[0]);
    assert!(
        told[0].contains("could be there 17:00")
            && told[0].contains("the room may be cleaned from 17:30 on"),
        "{}",
        told[0]
    );
}

/// Dwell and drying of the restrooms of a fixture worked out by hand elsewhere: they are why its later stops begin when they do.
#[test]
fn every_room_of_the_demo_and_of_the_fixture_is_explained() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    for site in ["fixtures/two_floors", "demo/larkfield"] {
        let out = tempfile::tempdir().unwrap();
        let folder = out.path().to_str().unwrap();
        let run = |args: &[&str]| {
            Command::new(env!("CARGO_BIN_EXE_evenrun"))
                .current_dir(root)
                .args(args)
                .output()
                .unwrap()
        };
        run(&["plan", site, "--iterations", "40", "--out", folder]);
        let rooms = fs::read_to_string(root.join(site).join("rooms.csv")).unwrap();
        let ids = rooms
            .lines()
            .skip(1)
            .map(|l| l.split(',').next().unwrap().to_string());
        let mut reasons = 0;
        for id in ids.step_by(7) {
            let output = run(&["explain", site, &format!("{folder}/plan.json"), &id]);
            let text = String::from_utf8(output.stdout).unwrap();
            assert_eq!(output.status.code(), Some(0), "{id}: {text}");
            assert!(
                text.contains("does it:") || text.contains("Nobody comes here."),
                "{id}: {text}"
            );
            reasons += text.matches("could").count() + text.matches("may not").count();
            assert!(!text.contains("cannot be told"), "{id}: {text}");
        }
        assert!(reasons > 0, "{site}");
    }
}

#[test]
fn an_unknown_room_is_told_with_the_one_that_was_meant() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let args = ["explain", "fixtures/two_floors", "nowhere.json", "G0l"];
    let output = Command::new(env!("CARGO_BIN_EXE_evenrun"))
        .current_dir(root)
        .args(args)
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(
        String::from_utf8(output.stderr)
            .unwrap()
            .contains("did you mean `G01`?")
    );
}

/// Who is on foot takes no bucket, and not everybody lifts.
#[test]
fn what_a_person_cannot_carry_or_push_is_told() {
    let rooms = "  - {id: A, kind: cellar, area_m2: 9}\n  - {id: B, kind: bath, area_m2: 9}\n";
    let crew = "  - {name: Ana, shift: \"17:00-19:00\", start: entrance, cart: cart}\n\
                \x20 - {name: Ben, shift: \"17:00-19:00\", start: entrance, heavy: false}\n";
    let kinds = "standard:\n  - {kind: cellar, tasks: [{task: move crates, how: dry, min: 10, when: daily, heavy: true}]}\n\
                 \x20 - {kind: bath, tasks: [{task: mop, how: mop, min: 5, drying_min: 5, when: daily}]}\n";
    let text = site(rooms, crew)
        .replacen("standard:\n", kinds, 1)
        .replace("[entrance, A, B, C, D]", "[entrance, closet, A, B]")
        + "closets: [{id: closet, fill_point: true, waste_point: true}]\n\
           carts: [{id: cart, waste_l: 100, bucket_m2: 60, bucket_rooms: 3}]\n";
    let told = explained(&text, &["A", "B"]);
    has(&told[0], "Ben  may not: no heavy lifting");
    has(&told[1], "Ben  may not: has no cart");
}

/// A restroom whose surfaces stay wet for ten minutes and whose floor dries for five, and rooms beside it.
fn with_restroom(rooms: &str) -> String {
    let kind = "standard:\n  - kind: restroom\n    restroom: true\n    reopen_min: 1\n    tasks:\n      \
                - {task: disinfect, how: spray, min: 1, wipe_min: 2, dwell_min: 10}\n      \
                - {task: mop, how: mop, min: 2, drying_min: 5}\n";
    let crew = "  - {name: Ana, shift: \"17:00-18:00\", start: entrance, cart: cart}\n";
    let rooms = format!("  - {{id: A, kind: restroom, area_m2: 9}}\n{rooms}");
    site(&rooms, crew)
        .replacen("standard:\n", kind, 1)
        .replace("[entrance, A, B, C, D]", "[entrance, closet, A, B]")
        + "closets: [{id: closet, fill_point: true, waste_point: true}]\n\
           carts: [{id: cart, waste_l: 100, bucket_m2: 60, bucket_rooms: 3}]\n"
}

/// What stands below a stop.
fn why(told: &str, stop: &str) -> String {
    let mut lines = told.lines().skip_while(|l| !l.contains(stop));
    lines.nth(1).unwrap_or_default().to_string()
}

/// Ten minutes after the first minute the surfaces are wiped, and five minutes after the last one the floor is dry: nothing else is there to do.
#[test]
fn waiting_for_surfaces_and_for_the_floor_is_told_apart() {
    let text = with_restroom("").replace("closet, A, B]", "closet, A]");
    let told = &explained(&text, &["A"])[0];
    has(
        &why(told, "wipe and mop"),
        "surfaces have to stay wet until then",
    );
    has(&why(told, "reopen"), "the floor dries until then");
    assert!(!why(told, "open and wet").contains("until then"), "{told}");
}

/// A plan that somebody has changed: B, which opens at 17:30, now comes between the two stops in A. The first of them begins at 17:20 and could begin
/// before that, but the second could not, so A would only be closed longer.
#[test]
fn a_room_that_would_be_closed_longer_is_told_as_such() {
    let text = with_restroom("  - {id: B, kind: office, area_m2: 9, open: \"17:30-18:00\"}\n");
    let planned = Planned::new(&text, &[]);
    planned.edit(|plan| {
        let stops = plan["runs"][0]["stops"].as_array_mut().unwrap();
        stops.retain(|stop| stop["what"] != "tear-down");
        let clock = |stop: &Value, key: &str| stop[key].as_str().unwrap().parse::<Clock>().unwrap();
        let moments = [
            ("open and wet", "17:20:00"),
            ("wipe and mop", "17:41:00"),
            ("reopen", "17:50:00"),
        ];
        for (what, from) in moments {
            let stop = stops.iter_mut().find(|s| s["what"] == what).unwrap();
            let length = clock(stop, "to") - clock(stop, "from");
            let from: Clock = from.parse().unwrap();
            stop["from"] = from.to_string().into();
            stop["to"] = (from + length).to_string().into();
        }
        stops.sort_by_key(|stop| clock(stop, "from"));
    });
    let told = planned.explain("A");
    has(&why(&told, "open and wet"), "could begin 17:0");
    has(
        &why(&told, "open and wet"),
        "the room would be closed longer",
    );
}

#[test]
fn a_room_that_may_not_be_closed_yet_is_told_with_the_time() {
    let kind = "standard:\n  - {kind: bath, reopen_min: 1, tasks: [{task: polish taps, how: wipe, min: 10, when: daily}]}\n";
    let rooms = "  - {id: A, kind: bath, area_m2: 9, closure: \"17:30-18:00\"}\n";
    let text = site(rooms, ANA)
        .replacen("standard:\n", kind, 1)
        .replace("[entrance, A, B, C, D]", "[entrance, A]");
    let told = &explained(&text, &["A"])[0];
    has(told, "may be closed 17:30-18:00");
    has(told, "could be there 17:00");
    has(told, "the room may be closed from 17:30 on");
}

/// A plan that somebody has changed: set-up left out, and the one room half an hour later than need be.
#[test]
fn a_stop_that_waits_for_nothing_and_one_that_comes_first_are_told_as_such() {
    let text = site("  - {id: A, kind: office, area_m2: 9}\n", ANA)
        .replace("[entrance, A, B, C, D]", "[entrance, A]");
    let planned = Planned::new(&text, &[]);
    planned.edit(|plan| {
        let stops = plan["runs"][0]["stops"].as_array_mut().unwrap();
        for stop in stops.iter_mut().filter(|s| s["what"] != "set-up") {
            for key in ["from", "to"] {
                let clock: Clock = stop[key].as_str().unwrap().parse().unwrap();
                stop[key] = (clock + Seconds::minutes(30)).to_string().into();
            }
        }
    });
    let told = planned.explain("A");
    has(&told, "could begin 17:0");
    has(&told, "as well, after set-up");
    has(&told, "no rule asks for the wait");
    planned.edit(|plan| {
        let stops = plan["runs"][0]["stops"].as_array_mut().unwrap();
        stops.retain(|stop| stop["what"] != "set-up");
    });
    has(&planned.explain("A"), "begins on arrival, first of all");
}

#[test]
fn an_equal_and_a_better_place_are_told_for_what_they_are() {
    let both = format!("{ANA}{}", BEN.replace(", skills: [glass]", ""));
    let one = site("  - {id: A, kind: office, area_m2: 9}\n", &both)
        .replace("[entrance, A, B, C, D]", "[entrance, A]")
        + "policy: {speeds: {walking: false}}\n";
    has(
        &explained(&one, &["A"])[0],
        "could as well: own share from 0.0 % to",
    );

    // Ben was away when the plan was made, and is not any more.
    let rooms = "  - {id: A, kind: office, area_m2: 9}\n  - {id: B, kind: office, area_m2: 9}\n";
    let two = site(rooms, &both).replace("[entrance, A, B, C, D]", "[entrance, A, B]");
    let planned = Planned::new(&two, &["--absent", "Ben"]);
    planned.edit(|plan| plan["absent"] = serde_json::json!([]));
    let told = planned.explain("A");
    has(
        &told,
        "Ben  could, and better, which the search has not found: own share from 0.0 % to",
    );
    has(&told, "the highest share goes from");
}

/// Ana has handed in her key since the plan was made.
#[test]
fn a_plan_that_the_site_no_longer_allows_is_shown_without_a_guess_at_others() {
    let text = site(
        "  - {id: A, kind: office, area_m2: 9, needs: [lab key]}\n",
        &format!(
            "{ANA}{}",
            BEN.replace("skills", "access: [lab key], skills")
        ),
    )
    .replace("[entrance, A, B, C, D]", "[entrance, A]");
    let planned = Planned::new(&text, &["--absent", "Ben"]);
    let since = text.replacen("start: entrance, access: [lab key]", "start: entrance", 1);
    assert_ne!(since, text);
    planned.write("site.yaml", &since);
    let told = planned.explain("A");
    has(&told, "Ana does it:");
    has(
        &told,
        "cannot be told: the runs of this plan cannot be timed again in their order",
    );
}

#[test]
fn every_reason_for_which_something_is_not_done_is_told() {
    // Ben alone holds the skill, and alone is there while B is open.
    let rooms = "  - {id: A, kind: shop, area_m2: 9}\n  - {id: B, kind: office, area_m2: 9, open: \"18:00-19:00\"}\n\
                 \x20 - {id: C, kind: office, area_m2: 9, open: \"sat 08:00-12:00\"}\n";
    let late = BEN.replace("17:00-18:00", "17:00-19:00");
    let cara = ANA
        .replace("Ana", "Cara")
        .replace("17:00-18:00", "08:00-12:00\", days: \"sat");
    let text = site(rooms, &format!("{ANA}{late}{cara}"))
        .replace("[entrance, A, B, C, D]", "[entrance, A, B, C]");
    let planned = Planned::new(&text, &["--absent", "Ben"]);
    has(
        &planned.explain("A"),
        "Not done: polish (appearance): nobody may do it: ",
    );
    has(
        &planned.explain("B"),
        "Not done: sweep (expected): it fits nowhere, even alone: ",
    );
    has(
        &planned.explain("C"),
        "may be cleaned at no time on this date",
    );
}

/// Ana was to come at five and comes at six, when the doors are locked.
#[test]
fn what_it_is_too_late_for_is_told_by_explain_and_by_the_report() {
    let text = site(
        "  - {id: A, kind: office, area_m2: 9, only: [Ana]}\n",
        &format!("{}{BEN}", ANA.replace("18:00", "19:00")),
    )
    .replace("[entrance, A, B, C, D]", "[entrance, A]")
        + "duties: [{name: lock up, place: entrance, min: 5, window: \"17:00-18:00\", last: true, skills: [glass]}]\n";
    let planned = Planned::new(&text, &[]);
    let args = ["cover", "site.yaml", "out/plan.json", "--late", "Ana@18:00"];
    let more = ["--now", "17:58", "--iterations", "20", "--out", "out"];
    let (code, sheet) = planned.run(&[&args[..], &more].concat());
    assert_eq!(code, Some(1), "{sheet}");
    has(
        &planned.explain("A"),
        "Not done: sweep (expected): it was too late for it that night: `lock up` began at",
    );
    let page = fs::read_to_string(planned.0.path().join("out/report.html")).unwrap();
    has(&page, "too late for it that night: ");
}

/// Among very many rooms none is meant more than another.
#[test]
fn a_room_unlike_any_other_is_refused_without_a_guess() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let args = [
        "explain",
        "demo/larkfield",
        "nowhere.json",
        "the attic stairs",
    ];
    let output = Command::new(env!("CARGO_BIN_EXE_evenrun"))
        .current_dir(root)
        .args(args)
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert_eq!(
        String::from_utf8(output.stderr).unwrap(),
        "error: there is no room `the attic stairs`\n"
    );
}
