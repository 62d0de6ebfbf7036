//! `import events`: hours without the times of events, by hand and by the examples of the standards.
//!
//! `rfc_*.ics` and `america_new_york.ics` are examples of RFC 5545 and RFC 7953 as PyPI's package icalendar 7.3.2 carries them in its tests;
//! its licence stands beside them.

use super::support::Folder;
use std::fs;
use std::path::Path;

/// A site with three rooms in a table, in London.
pub(super) fn with_site(zone: &str) -> Folder {
    let folder = Folder::new();
    folder.put(
        "site/site.yaml",
        format!(
            "site: Small # ours\ndate: 2026-03-09\n{zone}floors: [{{id: G}}]\nhalls: [{{id: H, floor: G, places: [entrance, A, B, C]}}]\n\
             places: [{{id: entrance}}]\nrooms: rooms.csv\ncrew: [{{name: Ana, shift: \"06:00-22:00\", days: daily, start: entrance}}]\n"
        ),
    );
    folder.put(
        "site/rooms.csv",
        "id,name,kind,area_m2,open\nA,Main Office,storage,9,mon-fri 06:00-22:00\nB,Branch Office,storage,9,\nC,\"Hall, large\",storage,9,sat 08:00-12:00\n",
    );
    folder
}

pub(super) const LONDON: &str = "time_zone: Europe/London\n";

pub(super) fn calendar(events: &[&str]) -> String {
    let events: Vec<String> = events
        .iter()
        .map(|e| format!("BEGIN:VEVENT\n{e}\nEND:VEVENT\n"))
        .collect();
    format!(
        "BEGIN:VCALENDAR\nVERSION:2.0\n{}END:VCALENDAR\n",
        events.concat()
    )
    .replace('\n', "\r\n")
}

/// The hours of each room after an import.
pub(super) fn hours(folder: &Folder, more: &[&str]) -> Vec<String> {
    folder.well(&[&["import", "events", "x.ics", "--into", "site"], more].concat());
    let mut reader =
        csv::Reader::from_reader(folder.text("site/rooms.csv").into_bytes().leak() as &[u8]);
    reader
        .records()
        .map(|r| r.unwrap()[4].to_string())
        .collect()
}

#[test]
fn events_are_cut_out_with_recurrences_exceptions_and_changes() {
    let folder = with_site(LONDON);
    folder.put(
        "x.ics",
        calendar(&[
            // Mondays 16:00 to 18:00, not on the 16th, and on the 23rd at 10 instead.
            "UID:1\nLOCATION:main office\nDTSTART;TZID=Europe/London:20260302T160000\nDTEND;TZID=Europe/London:20260302T180000\nRRULE:FREQ=WEEKLY\nEXDATE;TZID=Europe/London:20260316T160000",
            "UID:1\nRECURRENCE-ID;TZID=Europe/London:20260323T160000\nLOCATION:Room A\nDTSTART;TZID=Europe/London:20260323T100000\nDURATION:PT1H30M",
            // All day on the 10th; cancelled on the 11th; free time on the 12th.
            "UID:2\nLOCATION:A\nDTSTART;VALUE=DATE:20260310",
            "UID:3\nLOCATION:A\nSTATUS:CANCELLED\nDTSTART:20260311T100000Z\nDURATION:PT1H",
            "UID:4\nLOCATION:A\nTRANSP:TRANSPARENT\nDTSTART:20260312T100000Z\nDURATION:PT1H",
            "UID:5\nLOCATION:Hall\\, large; B\nDTSTART:20260314T090000Z\nDTEND:20260314T093001Z",
        ]),
    );
    let ran = folder.well(&["import", "events", "x.ics", "--into", "site", "--dry-run"]);
    assert!(ran.out.starts_with("2026-03-09 to 2026-04-05: 6 times that rooms of the site are in use\n2 events take no room"), "{}", ran.out);
    let told = hours(&folder, &[]);
    assert_eq!(
        told,
        [
            "mon-fri 06:00-22:00; 2026-03-09 06:00-16:00 18:00-22:00; 2026-03-10 closed; 2026-03-23 06:00-10:00 11:30-22:00; 2026-03-30 06:00-16:00 18:00-22:00",
            "daily 00:00-24:00; 2026-03-14 00:00-09:00 09:31-24:00",
            "sat 08:00-12:00; 2026-03-14 08:00-09:00 09:31-12:00",
        ]
    );
    // The same again changes nothing; the site's own file was not touched; and the dates can be forgotten.
    assert_eq!(hours(&folder, &[]), told);
    assert!(
        folder
            .text("site/site.yaml")
            .starts_with("site: Small # ours\n")
    );
    folder.put(
        "x.ics",
        calendar(&["UID:9\nLOCATION:A\nDTSTART:20260311T100000Z\nDURATION:PT1H"]),
    );
    assert_eq!(
        hours(&folder, &["--forget", "--margin", "10"]),
        [
            "mon-fri 06:00-22:00; 2026-03-11 06:00-09:50 11:10-22:00",
            "daily 00:00-24:00",
            "sat 08:00-12:00"
        ]
    );
}

/// Nine in New York is 13:00 in London from 8 March 2026, when clocks go forward there, and 14:00 again from 29 March, when they do in
/// London. A time in universal time stands still.
#[test]
fn a_meeting_elsewhere_moves_when_clocks_change_at_different_dates() {
    let folder = with_site(LONDON);
    folder.put(
        "x.ics",
        calendar(&[
            "UID:1\nLOCATION:A\nDTSTART;TZID=America/New_York:20260306T090000\nDURATION:PT1H\nRRULE:FREQ=WEEKLY;BYDAY=FR;UNTIL=20260403T130000Z",
            "UID:2\nLOCATION:B\nDTSTART:20260327T200000Z\nDURATION:PT1H\nRRULE:FREQ=WEEKLY;COUNT=2",
        ]),
    );
    let told = hours(&folder, &["--from", "2026-03-01", "--days", "60"]);
    assert_eq!(
        told[0],
        "mon-fri 06:00-22:00; 2026-03-06 06:00-14:00 15:00-22:00; 2026-03-13 06:00-13:00 14:00-22:00; 2026-03-20 06:00-13:00 14:00-22:00; \
         2026-03-27 06:00-13:00 14:00-22:00; 2026-04-03 06:00-14:00 15:00-22:00"
    );
    assert_eq!(
        told[1],
        "daily 00:00-24:00; 2026-03-27 00:00-20:00 21:00-24:00; 2026-04-03 00:00-21:00 22:00-24:00"
    );
}

fn fixture(folder: &Folder, name: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("fixtures/import/events")
        .join(name);
    folder.put("x.ics", fs::read(path).unwrap());
}

/// RFC 7953, second example: the main office Monday to Thursday from 9 to 17, the branch office on Fridays from 9 to 12; Montreal's time.
#[test]
fn availability_leaves_only_what_is_available() {
    let folder = with_site("time_zone: America/Montreal\n");
    fixture(&folder, "rfc_7953_2.ics");
    let told = hours(&folder, &["--from", "2011-10-03", "--days", "7"]);
    let day = |d: u32| format!("2011-10-{d:02} 09:00-17:00");
    assert_eq!(
        told[0],
        format!(
            "mon-fri 06:00-22:00; {}; {}; {}; {}; 2011-10-07 closed",
            day(3),
            day(4),
            day(5),
            day(6)
        )
    );
    assert_eq!(
        told[1],
        "daily 00:00-24:00; 2011-10-03 closed; 2011-10-04 closed; 2011-10-05 closed; 2011-10-06 09:00-12:00; 2011-10-07 closed; 2011-10-08 closed; 2011-10-09 closed"
    );
}

/// RFC 7953, third example: a week in Denver, whose clocks are two hours behind those of Montreal.
#[test]
fn availability_in_another_zone_is_told_in_the_site_s() {
    let folder = with_site("time_zone: America/Montreal\n");
    folder.put("map.yaml", "locations: {Denver: B, Montreal: ignore}\n");
    fixture(&folder, "rfc_7953_3.ics");
    let told = hours(
        &folder,
        &["--from", "2011-10-24", "--days", "2", "--map", "map.yaml"],
    );
    assert_eq!(
        told[1],
        "daily 00:00-24:00; 2011-10-24 11:00-19:00; 2011-10-25 11:00-19:00"
    );
}

#[test]
fn the_other_examples_of_the_standards_are_read_without_an_error() {
    for name in [
        "rfc_5545_RDATE_example.ics",
        "rfc_7953_1.ics",
        "america_new_york.ics",
    ] {
        let folder = with_site(LONDON);
        fixture(&folder, name);
        folder.well(&[
            "import",
            "events",
            "x.ics",
            "--into",
            "site",
            "--from",
            "2011-10-03",
        ]);
    }
}

#[test]
fn unknown_locations_are_told_and_mapped() {
    let folder = with_site("");
    let event = |location: &str| {
        format!("UID:{location}\nLOCATION:{location}\nDTSTART:20260310T100000\nDURATION:PT1H")
    };
    folder.put(
        "x.ics",
        calendar(&[&event("Aula"), &event("Man Office"), &event("B")]),
    );
    let args = [
        "import", "events", "x.ics", "--into", "site", "--map", "map.yaml",
    ];
    let first = folder.well(&args);
    assert!(first.err.contains("nothing was imported"), "{}", first.err);
    let map = folder.text("map.yaml");
    assert!(
        map.contains("  Aula: ignore\n") && map.contains("  Man Office: ignore"),
        "{map}"
    );
    folder.put("map.yaml", map.replace("Aula: ignore", "Aula: [A, C]"));
    let ran = folder.well(&args);
    assert!(
        ran.out.contains("3 times") && ran.out.contains("changed 2"),
        "{}",
        ran.out
    );
    let plain = folder.well(&["import", "events", "x.ics", "--into", "site", "--dry-run"]);
    assert!(
        plain
            .err
            .contains("I906: left out: 1 times of events with the location `Aula`"),
        "{}",
        plain.err
    );
}

#[test]
fn a_change_of_all_later_times_is_told() {
    let folder = with_site(LONDON);
    folder.put(
        "x.ics",
        calendar(&[
            "UID:1\nLOCATION:A\nDTSTART:20260310T100000\nDURATION:PT1H\nRRULE:FREQ=DAILY;COUNT=3",
            "UID:1\nLOCATION:A\nRECURRENCE-ID;RANGE=THISANDFUTURE:20260311T100000\nDTSTART:20260311T120000\nDURATION:PT1H",
        ]),
    );
    let ran = folder.well(&["import", "events", "x.ics", "--into", "site"]);
    assert!(ran.err.contains("I907"), "{}", ran.err);
}

#[test]
fn one_event_that_takes_no_room_is_counted_and_changes_are_told_as_json() {
    let folder = with_site(LONDON);
    let at = "DTSTART;TZID=Europe/London:20260309T160000\nDTEND;TZID=Europe/London:20260309T180000";
    folder.put(
        "x.ics",
        calendar(&[
            &format!("UID:1\nLOCATION:main office\n{at}"),
            &format!("UID:2\nLOCATION:main office\nSTATUS:CANCELLED\n{at}"),
        ]),
    );
    let args = ["import", "events", "x.ics", "--into", "site", "--dry-run"];
    let ran = folder.well(&args);
    let said = "1 event takes no room: cancelled, or marked as free time\n";
    assert!(ran.out.contains(said), "{}", ran.out);
    let told = crate::cli::json(&folder.well(&[&args[..], &["--json"]].concat()).out);
    let changed = &told["changed"][0];
    assert_eq!(
        (&changed["room"], &changed["column"]),
        (&"A".into(), &"open".into())
    );
    let after = changed["after"].as_str().unwrap();
    assert!(after.contains("2026-03-09 06:00-16:00"), "{after}");
}
