//! What is written in another form than is meant: the words of each problem, and forms that are read all the same.

use super::{codes, fixtures, said_about, site_of};
use crate::common::{read_file, read_text};
use evenrun::input::{Problem, Problems, read_site, read_split, text_from};
use evenrun::site::Site;
use evenrun::units::{Clock, Span};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// The two floors with some things written otherwise, each a file, what stands there, and what stands there instead.
fn two_floors(changes: &[(&str, &str, &str)]) -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    for name in ["site.yaml", "rooms.csv"] {
        let mut text = fs::read_to_string(fixtures().join("two_floors").join(name)).unwrap();
        for (_, from, to) in changes.iter().filter(|(file, ..)| *file == name) {
            assert!(text.contains(from), "{from}");
            text = text.replacen(from, to, 1);
        }
        fs::write(folder.path().join(name), text).unwrap();
    }
    let file = folder.path().join("site.yaml");
    (folder, file)
}

/// The only problem with a code.
fn only<'a>(said: &'a [Problem], code: &str) -> &'a Problem {
    let mut found = said.iter().filter(|p| p.code == code);
    let first = found.next();
    let first = first.unwrap_or_else(|| panic!("no {code}: {:?}", codes(said)));
    assert_eq!(found.next(), None, "{code} is told twice");
    first
}

/// What stands in `site.yaml`, what is written in its place, the code, the message, and the hint.
const FORMS: [(&str, &str, &str, &str, &str); 18] = [
    (
        "window: \"22:00-24:00\", paid: true",
        "window: \"22:00-24:00\", paid: [true]",
        "E203",
        "`paid` should be true or false, not a list",
        "",
    ),
    (
        "access: [staff key]\n",
        "access: {staff key: yes}\n",
        "E203",
        "`access` should be a list, not keys and values",
        "",
    ),
    (
        "[[0, 0], [24, 0]]",
        "[[0, 0], [24]]",
        "E203",
        "`line_m` should be a list of 2, not a list",
        "",
    ),
    (
        "[[0, 0], [24, 0]]",
        "[[0, 0], east]",
        "E203",
        "`line_m` should be a list of 2, not `east`",
        "",
    ),
    (
        "units: metric",
        "units: [metric]",
        "E203",
        "`units` should be one word, not a list",
        "",
    ),
    (
        "rooms: rooms.csv",
        "rooms: {file: rooms.csv}",
        "E203",
        "`rooms` should be a list, or the name of a file, not keys and values",
        "",
    ),
    (
        "carts:\n  - {id: standard",
        "carts:\n  - [standard]\n  - {id: standard",
        "E203",
        "`carts` should be keys and values, not a list",
        "",
    ),
    (
        "m2_per_h: 900",
        "min: 3, per: vist",
        "E214",
        "nothing is counted in `vist`",
        "did you mean `visit`?",
    ),
    (
        "m2_per_h: 900",
        "min: 3, per: [bins]",
        "E203",
        "`per` should be a text, not a list",
        "",
    ),
    // Without a window, a duty may be at any time of somebody's shift, on a day that is theirs.
    (
        "min: 5, window: \"daily 21:00-25:00\", days: mon-fri",
        "min: 529, days: mon-fri",
        "E812",
        "duty `lock up` fits into nobody's shift",
        "",
    ),
    (
        "min: 5, window: \"daily 21:00-25:00\", days: mon-fri",
        "min: 5, days: sat",
        "E812",
        "duty `lock up` fits into nobody's shift",
        "",
    ),
    (
        "keep_open: 1",
        "keep_open: 20000",
        "E207",
        "`keep_open` is 20000, which is out of range",
        "from 0 to 10000",
    ),
    (
        "    line_m: [[0, 0], [24, 0]]",
        "    length_m: 24\n    line_m: [[0, 0], [24, 0]]",
        "E404",
        "hall `1-East` has its length given in two ways",
        "give `places` in door order, or `line_m` (or `length_m`) and `places_at`",
    ),
    (
        "floors: # lowest",
        "---\nfloors: # lowest",
        "E105",
        "a second YAML document in the file; one is read",
        "",
    ),
    (
        "last: true}",
        "last: true, skills: [floor machine, alarm]}\n#",
        "E307",
        "there is no skill `alarm`",
        "known: `floor machine`",
    ),
    (
        "[staff key, lab key] # keys",
        "[staff key, lab key, lab key] # keys",
        "E301",
        "there is another key or clearance `lab key`",
        "the first is in",
    ),
    ("rooms: rooms.csv", "rooms: .", "E101", "is not a file", ""),
    (
        "rooms: rooms.csv",
        "rooms: site.yaml/rooms.csv",
        "E101",
        "not a directory",
        "check the name, and that the file may be read",
    ),
];

#[test]
fn every_wrong_form_is_told_in_its_own_words() {
    let mut wrong = Vec::new();
    for (from, to, code, message, hint) in FORMS {
        let (_folder, file) = two_floors(&[("site.yaml", from, to)]);
        let said = said_about(&file);
        let found = said.iter().any(|p| {
            p.code == code
                && p.message.contains(message)
                && p.hint.as_deref().unwrap_or_default().contains(hint)
        });
        if !found {
            let all: Vec<String> = said.iter().map(Problem::render).collect();
            wrong.push(format!("{to}\n{}", all.join("\n")));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n=====\n\n"));
}

#[test]
fn a_name_too_long_for_a_card_is_refused() {
    let long = format!("name: {}", "x".repeat(201));
    let (_folder, file) = two_floors(&[("site.yaml", "name: Main entrance", &long)]);
    let said = said_about(&file);
    assert_eq!(
        only(&said, "E206").message,
        "the name is longer than 200 characters"
    );
    let just = format!("name: {}", "x".repeat(200));
    let (_folder, file) = two_floors(&[("site.yaml", "name: Main entrance", &just)]);
    assert_eq!(said_about(&file), []);
}

#[test]
fn a_task_that_needs_what_no_single_worker_has_is_told() {
    let (_folder, file) = two_floors(&[
        (
            "site.yaml",
            "skills: [floor machine], machine: scrubber,",
            "skills: [floor machine], heavy: true, machine: scrubber,",
        ),
        ("site.yaml", "heavy: false", "heavy: true"),
        ("site.yaml", "pace: 1.1", "pace: 1.1\n    heavy: false"),
    ]);
    let said = said_about(&file);
    let told = only(&said, "E805");
    assert_eq!(
        told.message,
        "nobody has the skills, the cart and the strength for `machine scrub` in `corridor 1` all together"
    );
    assert!(told.source_line.contains("machine scrub"), "{told:?}");
}

#[test]
fn a_room_whose_key_only_others_have_is_told() {
    let (_folder, file) = two_floors(&[("rooms.csv", "lab key,,Ana", "lab key,,Ben")]);
    let said = said_about(&file);
    let told = only(&said, "E808");
    assert_eq!(
        told.message,
        "nobody who may do room `G03` has what it needs: `lab key`"
    );
    assert!(
        told.file.ends_with("rooms.csv") && told.line == 4,
        "{told:?}"
    );
}

#[test]
fn a_duty_that_nobody_is_skilled_for_or_can_get_to_is_told() {
    let (_folder, file) = two_floors(&[
        (
            "site.yaml",
            "skills: [floor machine]\nmachines",
            "skills: [floor machine, alarm]\nmachines",
        ),
        ("site.yaml", "last: true", "last: true, skills: [alarm]"),
    ]);
    let said = said_about(&file);
    assert_eq!(
        only(&said, "E805").message,
        "nobody has all the skills for duty `lock up`: `alarm`"
    );
    let (_folder, file) = two_floors(&[
        (
            "site.yaml",
            "halls:\n",
            "halls:\n  - {id: attic hall, floor: \"1\", spacing_m: 4, places: [attic]}\n",
        ),
        (
            "site.yaml",
            "  - {id: entrance, name",
            "  - {id: attic}\n  - {id: entrance, name",
        ),
        (
            "site.yaml",
            "lock up, place: entrance",
            "lock up, place: attic",
        ),
    ]);
    let said = said_about(&file);
    let told = only(&said, "E801");
    assert_eq!(told.message, "nobody can reach the place of duty `lock up`");
    assert!(told.source_line.contains("lock up"), "{told:?}");
}

/// Waste by bins: the first office has none, so it is the second one that says a cart is needed.
#[test]
fn the_room_that_brings_waste_is_the_one_that_asks_for_a_cart() {
    let site = |bins: &str| {
        format!(
            "site: Larkfield annexe\nfloors: [{{id: G}}]\nhalls: [{{id: H, floor: G, places: [entrance, X01, X02]}}]\nplaces: [{{id: entrance}}]\n\
             builtin_standard: false\nstandard:\n  - kind: office\n    tasks: [{{task: collect paper, min: 1, waste_l: 5, waste_per: bins}}]\n\
             rooms: [{{id: X01, kind: office, area_m2: 9}}, {{id: X02, kind: office, area_m2: 9{bins}}}]\n\
             crew: [{{name: Mei, shift: \"17:00-22:00\", start: entrance}}]\n"
        )
    };
    let (_folder, file) = site_of(site(", bins: 2").as_bytes());
    let said = said_about(&file);
    let told = only(&said, "E809");
    assert!(
        told.message.contains("`collect paper` in `X02` needs one"),
        "{told:?}"
    );
    let (_folder, file) = site_of(site("").as_bytes());
    assert!(!codes(&said_about(&file)).contains("E809"));
}

#[test]
fn a_break_after_midnight_is_on_the_next_day() {
    let site = read_text(
        "site: Larkfield annexe\nfloors: [{id: G}]\nhalls: [{id: H, floor: G, places: [entrance, X01]}]\nplaces: [{id: entrance}]\n\
         rooms: [{id: X01, kind: storage, area_m2: 9}]\n\
         crew: [{name: Mei, shift: \"22:00-06:00\", start: entrance, breaks: [{name: meal, min: 30, window: \"01:00-03:00\"}]}]\n",
    );
    let window = Span::new(Clock::at(25, 0), Clock::at(27, 0));
    assert_eq!(site.crew[0].breaks[0].window, window);
}

#[test]
fn rows_without_anything_in_them_are_passed_over() {
    let (_folder, file) = two_floors(&[("rooms.csv", "\nG02,", "\n,,,,\n\n , ,\nG02,")]);
    let reading = read_site(&file).unwrap_or_else(|problems| panic!("{problems}"));
    let ids = |site: &Site| -> Vec<String> { site.rooms.iter().map(|r| r.id.clone()).collect() };
    assert_eq!(ids(&reading.site), ids(&read_file("fixtures/two_floors")));
}

/// Whoever stands in the folder of a site names its file alone; other files are looked for beside it all the same.
#[test]
fn a_site_named_by_its_file_alone_is_read_with_what_stands_beside_it() {
    let (folder, _) = two_floors(&[]);
    let ran = crate::cli::evenrun_in(folder.path(), &["check", "site.yaml"]);
    assert_eq!(
        (ran.code, ran.err.as_str()),
        (Some(0), "0 errors, 0 warnings\n")
    );
}

#[cfg(unix)]
#[test]
fn a_link_that_leads_out_of_the_folder_is_not_followed() {
    let (folder, file) = two_floors(&[]);
    let rooms = folder.path().join("rooms.csv");
    fs::remove_file(&rooms).unwrap();
    std::os::unix::fs::symlink(fixtures().join("two_floors/rooms.csv"), &rooms).unwrap();
    let said = said_about(&file);
    assert_eq!(
        only(&said, "E102").message,
        "`rooms.csv` leads out of the site's folder"
    );
    // One that stays inside is followed.
    fs::remove_file(&rooms).unwrap();
    fs::copy(
        fixtures().join("two_floors/rooms.csv"),
        folder.path().join("all.csv"),
    )
    .unwrap();
    std::os::unix::fs::symlink("all.csv", &rooms).unwrap();
    assert_eq!(said_about(&file), []);
}

#[test]
fn a_document_of_more_than_32_mib_is_read_no_further() {
    let most = 32 << 20;
    let error = text_from(io::repeat(b' ')).unwrap_err();
    assert_eq!(error.to_string(), "it is too big: up to 32 MiB are read");
    let just = text_from(io::Read::take(io::repeat(b' '), most)).unwrap();
    assert_eq!(just.len() as u64, most);
}

#[test]
fn a_split_may_give_duties_too() {
    let site = read_file("fixtures/two_floors");
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("split.csv");
    fs::write(&file, "room,worker\nlock up,Ben\nG01,Ana\nlock up,Ana\n").unwrap();
    let told = |problems: Problems| -> String { panic!("{problems}") };
    let read = read_split(Path::new(&file), &site).map_err(told).unwrap();
    let ben = site.worker_named("Ben");
    // The first of several has it; and a duty is no room that is worked in.
    assert_eq!((read.split.duties, read.rows.len()), (vec![ben], 1));
    assert_eq!(read.twice, []);
}
