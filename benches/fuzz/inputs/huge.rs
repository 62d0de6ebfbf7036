//! Inputs that have too much of something, each with the code it must be refused with. They take time or memory where a reader goes on
//! too far.

use super::desk::Desk;
use super::{Family, Outcome, Stock, codes, project};
use evenrun::input::{EventsRequest, read_site};
use evenrun::plan::PlanDocument;
use jiff::civil::date;
use std::collections::BTreeSet;
use std::fmt::Write;
use std::io;

/// What an input is read as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum As {
    Site,
    Rooms,
    Events,
    Plan,
}

/// An input: the code it is refused with, what it is read as, and how it is made.
type Huge = (&'static str, As, fn() -> String);

/// A problem of plans has no code.
const MISFIT: &str = "misfit";

/// Those that are refused soon.
const QUICK: [Huge; 31] = [
    ("E103", As::Site, || site("places", &"x".repeat(9 << 20))),
    ("E107", As::Site, || {
        site("places", &format!("{}{}", "[".repeat(40), "]".repeat(40)))
    }),
    ("E105", As::Site, || "[".repeat(200_000)),
    ("E107", As::Site, || {
        format!("a: {}{}", "{a: ".repeat(30), "}".repeat(30))
    }),
    ("E107", As::Site, bomb),
    ("E110", As::Site, || {
        site("holidays", &format!("[{}]", "a,".repeat(3_900_000)))
    }),
    ("E110", As::Site, || {
        site("holidays", &format!("[{}]", "2026-03-10,".repeat(50_001)))
    }),
    ("E110", As::Site, || {
        site("places", &format!("[{{id: {}}}]", "x".repeat(100_001)))
    }),
    ("E107", As::Site, || numbered(500_000, "k#: 1\n")),
    ("E201", As::Site, || {
        format!("{{{}}}", numbered(90_000, "k#: 1,"))
    }),
    ("E204", As::Site, || "k0: 1\nk1: 1\n".repeat(45_000)),
    ("E110", As::Site, || {
        site("rooms", &many(5_001, "{id: r#, kind: office, area_m2: 9}"))
    }),
    ("E110", As::Site, || {
        site("places", &many(6_000, "{id: p#}"))
    }),
    ("E110", As::Site, || {
        site(
            "crew",
            &many(401, "{name: w#, shift: \"17:00-22:00\", start: entrance}"),
        )
    }),
    ("E110", As::Site, || {
        site("floors", &many(201, "{id: \"#\"}"))
    }),
    ("E110", As::Site, || {
        site(
            "halls",
            &many(2_001, "{id: h#, floor: G, places: [entrance]}"),
        )
    }),
    ("E110", As::Site, || {
        site(
            "machines",
            &many(33, "{id: m#, units: 1, closet: closet G}"),
        )
    }),
    ("E110", As::Site, || {
        site(
            "duties",
            &many(1_001, "{name: d#, place: entrance, min: 1}"),
        )
    }),
    ("E110", As::Site, || {
        site("standard", &many(501, "{kind: k#}"))
    }),
    ("E110", As::Site, || {
        site(
            "standard",
            &format!("[{{kind: k, tasks: {}}}]", many(101, "{task: t#, min: 1}")),
        )
    }),
    ("E110", As::Site, || {
        site(
            "links",
            &many(
                1_001,
                "{id: l#, length_m: 1, landings: [\"G-East@0\", \"G-East@1\"]}",
            ),
        )
    }),
    ("E110", As::Site, || {
        site(
            "links",
            &format!(
                "[{{id: l, length_m: 1, landings: {}}}]",
                many(2_000, "\"G-East@#\"")
            ),
        )
    }),
    ("E107", As::Site, || {
        site(
            "holidays",
            &many(100, &format!("[{}]", "a,".repeat(15_000))),
        )
    }),
    ("E402", As::Site, || {
        site(
            "halls",
            &format!(
                "[{{id: G-East, floor: G, places: [{}]}}]",
                "G01, ".repeat(40_000)
            ),
        )
    }),
    ("E110", As::Rooms, || {
        format!("id\n{}", "x\n".repeat(100_000))
    }),
    ("E110", As::Rooms, || {
        format!("id{}\n", ",x".repeat(1_000_000))
    }),
    ("E110", As::Rooms, || {
        format!("id,name\nx,\"{}", "y\n".repeat(2_000_000))
    }),
    ("I407", As::Events, || {
        calendar(&"BEGIN:VEVENT\nEND:VEVENT\n".repeat(100_001))
    }),
    ("I407", As::Events, || {
        calendar(&event("DTSTART:20260309T000000\nRRULE:FREQ=SECONDLY"))
    }),
    ("I407", As::Events, || {
        let all = |n: u32| (0..n).map(|i| i.to_string()).collect::<Vec<_>>().join(",");
        let rule = format!(
            "FREQ=YEARLY;BYHOUR={};BYMINUTE={};BYSECOND={}",
            all(24),
            all(60),
            all(60)
        );
        calendar(&event(&format!("DTSTART:20260309T000000\nRRULE:{rule}")))
    }),
    (MISFIT, As::Plan, || "[".repeat(1_000_000)),
];

/// Those that take seconds until they are refused.
const SLOW: [Huge; 5] = [
    // Unknown names beside thousands of known ones: looking for the nearest takes time.
    ("E304", As::Site, || {
        let known = many(
            5_000,
            "{id: \"a long name of a room #\", kind: office, area_m2: 9}",
        );
        site("rooms", &known).replace(
            "[G01,",
            &many(2_000, "\"a longer name of a room #\"").replace(']', ","),
        )
    }),
    ("I407", As::Events, || {
        calendar(&event("DTSTART:19000101T090000\nDURATION:PT1H\nRRULE:FREQ=DAILY").repeat(2_000))
    }),
    ("I407", As::Events, || {
        calendar(
            &event("DTSTART:20260309T000000\nRRULE:FREQ=SECONDLY;BYMONTH=2;BYMONTHDAY=30;COUNT=1")
                .repeat(50),
        )
    }),
    ("I407", As::Events, || {
        let rule = "BEGIN:STANDARD\nDTSTART:20000101T000000\nTZOFFSETTO:+0100\nRRULE:FREQ=SECONDLY;BYMONTH=2;BYMONTHDAY=30\nEND:STANDARD\n";
        calendar(&format!(
            "BEGIN:VTIMEZONE\nTZID:X\n{}END:VTIMEZONE\n",
            rule.repeat(50)
        ))
    }),
    ("I407", As::Events, || {
        let days = "19000101T090000,".repeat(20_000);
        let rule = "DTSTART:19000101T090000\nDURATION:PT1H\nRRULE:FREQ=DAILY";
        calendar(&event(&format!("{rule}\nEXDATE:{}", days.trim_end_matches(','))).repeat(30))
    }),
];

/// As families of which every input is there once.
pub(super) fn quick() -> io::Result<Family> {
    family("limits", &QUICK)
}

/// The others.
pub(super) fn slow() -> io::Result<Family> {
    family("slow", &SLOW)
}

fn family(name: &'static str, all: &'static [Huge]) -> io::Result<Family> {
    let desk = Desk::with(&project("fixtures/two_floors"))?;
    // The number of a case stands for the case: texts of megabytes are made when they are wanted.
    let seeds = (0..all.len()).map(|case| case.to_string().into_bytes());
    let stock = Stock {
        seeds: seeds.collect(),
        words: Vec::new(),
    };
    let read = move |input: &[u8]| {
        let number = std::str::from_utf8(input).unwrap_or_default();
        let (code, read_as, text) = all[number.parse().unwrap_or(0)];
        let outcome = read(&desk, read_as, &text());
        let found = outcome.codes.contains(code) || (code == MISFIT && !outcome.accepted);
        let codes = &outcome.codes;
        assert!(found, "{name} {number}: {code} is wanted, not {codes:?}");
        outcome
    };
    Ok(Family {
        unchanged: true,
        ..Family::new(name, stock, read)
    })
}

fn read(desk: &Desk, read_as: As, text: &str) -> Outcome {
    let refused = |problems: &evenrun::input::Problems| Outcome {
        codes: codes(&problems.0),
        ..Outcome::default()
    };
    match read_as {
        As::Site => read_site(&desk.put("huge.yaml", text.as_bytes()))
            .map_or_else(|p| refused(&p), |r| Outcome::accepted(codes(&r.warnings))),
        As::Rooms => {
            desk.put("rooms.csv", text.as_bytes());
            read_site(&desk.path("site.yaml"))
                .map_or_else(|p| refused(&p), |r| Outcome::accepted(codes(&r.warnings)))
        }
        As::Events => {
            let small = desk.put("small.yaml", site("rooms", "small.csv").as_bytes());
            desk.put("small.csv", b"id,kind,area_m2\nG01,office,18\n");
            let request = EventsRequest {
                file: &desk.put("huge.ics", text.as_bytes()),
                site: &small,
                mapping: None,
                from: date(2026, 3, 9),
                days: 28,
                margin_min: 0,
                forget: false,
            };
            evenrun::input::import_events(&request)
                .map_or_else(|p| refused(&p), |i| Outcome::accepted(codes(&i.notes)))
        }
        As::Plan => match PlanDocument::from_json(text) {
            Ok(_) => Outcome::accepted(BTreeSet::new()),
            Err(misfit) => Outcome::misfit([misfit.message]),
        },
    }
}

/// A small site with something in place of one of its lists.
fn site(list: &str, instead: &str) -> String {
    let lists = [
        ("floors", "[{id: G}]"),
        (
            "halls",
            "[{id: G-East, floor: G, places: [G01, closet G, entrance]}]",
        ),
        (
            "closets",
            "[{id: closet G, fill_point: true, waste_point: true}]",
        ),
        ("places", "[{id: entrance}]"),
        ("rooms", "[{id: G01, kind: office, area_m2: 18}]"),
        ("carts", "[{id: cart}]"),
        (
            "crew",
            "[{name: Ana, shift: \"17:00-22:00\", start: entrance, cart: cart}]",
        ),
    ];
    let mut text = format!("site: Too much\n{list}: {instead}\n");
    for (key, value) in lists.iter().filter(|(key, _)| *key != list) {
        let _ = writeln!(text, "{key}: {value}");
    }
    text
}

/// A list of items with their numbers in place of `#`.
fn many(count: usize, item: &str) -> String {
    let items: Vec<String> = (0..count)
        .map(|n| item.replace('#', &n.to_string()))
        .collect();
    format!("[{}]", items.join(", "))
}

/// A text many times, with its number in place of `#`.
fn numbered(count: usize, text: &str) -> String {
    let texts: Vec<String> = (0..count)
        .map(|n| text.replace('#', &n.to_string()))
        .collect();
    texts.concat()
}

/// Aliases for aliases for aliases.
fn bomb() -> String {
    let mut text = String::from("a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n");
    for level in 1..12 {
        let below = vec![format!("*a{}", level - 1); 10].join(", ");
        let _ = writeln!(text, "a{level}: &a{level} [{below}]");
    }
    text
}

fn calendar(inside: &str) -> String {
    format!("BEGIN:VCALENDAR\n{inside}END:VCALENDAR\n")
}

fn event(lines: &str) -> String {
    format!("BEGIN:VEVENT\nLOCATION:G01\n{lines}\nEND:VEVENT\n")
}
