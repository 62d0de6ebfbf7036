//! Calendars in the rarer forms of RFC 5545: lengths in weeks and days, ends of recurrences, zones that only the calendar tells.

use super::events::{LONDON, calendar, hours, with_site};
use super::support::Folder;

fn told(zone: &str, events: &[&str]) -> Vec<String> {
    let folder = with_site(zone);
    folder.put("x.ics", calendar(events));
    hours(&folder, &["--days", "14"])
}

/// RFC 5545, section 3.3.6.
#[test]
fn lengths_may_be_in_weeks_and_in_days_with_hours() {
    let told = told(
        LONDON,
        &[
            "UID:1\nLOCATION:A\nDTSTART:20260309T120000\nDURATION:P1W",
            "UID:2\nLOCATION:B\nDTSTART:20260310T100000\nDURATION:+P1DT2H",
        ],
    );
    assert_eq!(
        told[0],
        "mon-fri 06:00-22:00; 2026-03-09 06:00-12:00; 2026-03-10 closed; 2026-03-11 closed; 2026-03-12 closed; 2026-03-13 closed; \
         2026-03-16 12:00-22:00"
    );
    assert_eq!(
        told[1],
        "daily 00:00-24:00; 2026-03-10 00:00-10:00; 2026-03-11 12:00-24:00"
    );
}

/// RFC 5545, section 3.3.10: the end counts, a day to its last second. An end before the beginning leaves nothing, as calendars do that were
/// told to drop a series.
#[test]
fn a_recurrence_ends_with_its_last_day_and_one_that_was_dropped_takes_no_time() {
    let told = told(
        "",
        &[
            "UID:1\nLOCATION:B\nDTSTART:20260310T100000\nDURATION:PT1H\nRRULE:FREQ=DAILY;UNTIL=20260311",
            "UID:2\nLOCATION:C\nDTSTART:20260314T090000\nDURATION:PT1H\nRRULE:FREQ=DAILY;UNTIL=20260313T090000",
            "UID:3\nLOCATION:A\nDTSTART:20260310T060000\nDURATION:PT1H\nRRULE:FREQ=DAILY;UNTIL=20260311T060000",
        ],
    );
    assert_eq!(
        told[1],
        "daily 00:00-24:00; 2026-03-10 00:00-10:00 11:00-24:00; 2026-03-11 00:00-10:00 11:00-24:00"
    );
    assert_eq!(told[2], "sat 08:00-12:00");
    assert_eq!(
        told[0],
        "mon-fri 06:00-22:00; 2026-03-10 07:00-22:00; 2026-03-11 07:00-22:00"
    );
}

/// A zone as RFC 5545, section 3.6.5, describes one: an hour before London's, and clocks change on the same nights. With it come a
/// description without a name, and one with a rule that never happens; neither is needed.
const ZONES: &str = "BEGIN:VTIMEZONE\nBEGIN:STANDARD\nDTSTART:19700101T000000\nTZOFFSETFROM:+0500\nTZOFFSETTO:+0500\nEND:STANDARD\nEND:VTIMEZONE\n\
BEGIN:VTIMEZONE\nTZID:Never\nBEGIN:STANDARD\nDTSTART:19700101T000000\nRRULE:FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30\nTZOFFSETFROM:+0500\nTZOFFSETTO:+0500\nEND:STANDARD\nEND:VTIMEZONE\n\
BEGIN:VTIMEZONE\nTZID:Larkfield wall\n\
BEGIN:STANDARD\nDTSTART:19961027T030000\nRRULE:FREQ=YEARLY;BYMONTH=10;BYDAY=-1SU\nTZOFFSETFROM:+0200\nTZOFFSETTO:+0100\nEND:STANDARD\n\
BEGIN:DAYLIGHT\nDTSTART:19960331T020000\nRRULE:FREQ=YEARLY;BYMONTH=3;BYDAY=-1SU\nTZOFFSETFROM:+0100\nTZOFFSETTO:+0200\nEND:DAYLIGHT\nEND:VTIMEZONE\n";

/// The end of a rule is told in universal time (section 3.3.10): 07:00 there is nine on a wall two hours ahead, so the last Wednesday counts.
#[test]
fn a_recurrence_in_a_zone_that_only_the_calendar_tells_ends_by_that_zone() {
    for (end, last) in [
        ("070000Z", "; 2026-04-01 00:00-08:00 09:00-24:00"),
        ("065959Z", ""),
    ] {
        let folder = with_site(LONDON);
        let event = format!(
            "UID:1\nLOCATION:B\nDTSTART;TZID=Larkfield wall:20260325T090000\nDURATION:PT1H\nRRULE:FREQ=WEEKLY;BYDAY=WE;UNTIL=20260401T{end}"
        );
        let text = calendar(&[&event]).replace("\r\n", "\n");
        let text = text.replacen("BEGIN:VEVENT", &format!("{ZONES}BEGIN:VEVENT"), 1);
        folder.put("x.ics", text);
        let told = hours(&folder, &["--from", "2026-03-20", "--days", "28"]);
        assert_eq!(
            told[1],
            format!("daily 00:00-24:00; 2026-03-25 00:00-08:00 09:00-24:00{last}"),
            "{end}"
        );
    }
}

/// Escapes of texts as in RFC 5545, section 3.3.11.
#[test]
fn a_location_over_two_lines_is_one_name() {
    let told = told(
        "",
        &["UID:1\nLOCATION:Hall\\, \\nlarge\nDTSTART:20260314T080000\nDURATION:PT1H"],
    );
    assert_eq!(told[2], "sat 08:00-12:00; 2026-03-14 09:00-12:00");
}

#[test]
fn a_mapping_file_names_the_room_that_was_probably_meant() {
    let folder = with_site("");
    let rooms = folder.text("site/rooms.csv").replace("\nC,", "\nG105,");
    folder.put("site/rooms.csv", rooms);
    let site = folder
        .text("site/site.yaml")
        .replace("A, B, C]", "A, B, G105]");
    folder.put("site/site.yaml", site);
    folder.put(
        "x.ics",
        calendar(&["UID:1\nLOCATION:G150\nDTSTART:20260310T100000\nDURATION:PT1H"]),
    );
    folder.well(&[
        "import", "events", "x.ics", "--into", "site", "--map", "map.yaml",
    ]);
    let map = folder.text("map.yaml");
    assert!(
        map.ends_with("locations:\n  G150: ignore # did you mean `G105`?\n"),
        "{map}"
    );
}

/// A room whose only hours are taken is told as a problem of the site, and the hours are written all the same.
#[test]
fn a_room_that_events_leave_no_hours_is_told() {
    let folder = with_site("");
    let rooms = folder.text("site/rooms.csv").replace(
        "B,Branch Office,storage,9,",
        "B,Branch Office,storage,9,2026-03-10 08:00-12:00",
    );
    folder.put("site/rooms.csv", rooms);
    folder.put(
        "x.ics",
        calendar(&["UID:1\nLOCATION:B\nDTSTART;VALUE=DATE:20260310"]),
    );
    let ran = folder.well(&["import", "events", "x.ics", "--into", "site"]);
    assert!(
        ran.err.contains("the site then has:") && ran.err.contains("rooms.csv:3:"),
        "{}",
        ran.err
    );
    assert!(
        folder
            .text("site/rooms.csv")
            .contains("B,Branch Office,storage,9,2026-03-10 closed\n")
    );
}

/// What ends beyond all calendars, or when it begins, takes no time.
#[test]
fn times_beyond_all_calendars_or_of_no_length_are_passed_over() {
    let folder: Folder = with_site(LONDON);
    folder.put(
        "x.ics",
        calendar(&[
            "UID:1\nLOCATION:B\nDTSTART:99991231T233000\nDTEND:99991231T235959",
            "UID:2\nLOCATION:B\nDTSTART;TZID=America/New_York:99991231T233000\nDURATION:PT1S",
            "UID:3\nLOCATION:B\nDTSTART:20260310T100000\nDURATION:PT1H",
            // Without an end it ends when it begins (RFC 5545, section 3.6.1).
            "UID:4\nLOCATION:B\nDTSTART:20260310T150000",
        ]),
    );
    let ran = folder.run(&["import", "events", "x.ics", "--into", "site"]);
    assert!(matches!(ran.code, Some(0)), "{}{}", ran.out, ran.err);
    assert!(ran.out.contains("1 time that rooms"), "{}", ran.out);
}

#[test]
fn the_last_days_of_all_calendars_can_be_asked_for() {
    let folder = with_site(LONDON);
    folder.put(
        "x.ics",
        calendar(&["UID:1\nLOCATION:B\nDTSTART:99991230T100000\nDURATION:PT1H"]),
    );
    let told = hours(&folder, &["--from", "9999-12-30"]);
    assert_eq!(
        told[1],
        "daily 00:00-24:00; 9999-12-30 00:00-10:00 11:00-24:00"
    );
}
