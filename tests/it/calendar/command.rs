//! `evenrun calendar` as its users meet it.

use crate::cli::{Folder, evenrun, json};
use std::fs;
use std::io::BufReader;

#[test]
fn a_calendar_is_tables_on_stdout_a_page_and_files_that_the_site_can_use() {
    let folder = Folder::with_new_site();
    let [site, out] = ["site", "out"].map(|name| folder.arg(name));
    let args = [
        "calendar",
        &site,
        "--from",
        "2026-03-09",
        "--weeks",
        "4",
        "--out",
        &out,
    ];
    let ran = evenrun(&args);
    assert_eq!(ran.code, Some(0), "{}{}", ran.out, ran.err);
    assert!(
        ran.out.starts_with("Calendar of periodic work: "),
        "{}",
        ran.out
    );
    assert!(ran.out.contains("The heaviest day is at "), "{}", ran.out);
    let page = fs::read_to_string(folder.path("out/calendar.html")).unwrap();
    assert!(page.contains("id=\"calendar\"") && page.contains("id=\"calendar-work\""));
    let told = json(&evenrun(&[&args[..], &["--json"]].concat()).out);
    assert_eq!(
        (&told["version"], &told["from"]),
        (&1.into(), &"2026-03-09".into())
    );
    // The site takes the file.
    let file = fs::read_to_string(folder.path("out/calendar.yaml")).unwrap();
    fs::write(folder.path("site/calendar.yaml"), file).unwrap();
    let own = folder.path("site/site.yaml");
    let text = fs::read_to_string(&own).unwrap() + "\ncalendar: calendar.yaml\n";
    fs::write(&own, text).unwrap();
    assert_eq!(evenrun(&["check", &site]).code, Some(0));
    let again = json(&evenrun(&[&args[..], &["--json"]].concat()).out);
    assert_eq!(again["kept"], again["turns"]);
    assert_eq!(again["work"], told["work"]);
}

/// Read back by another library.
#[test]
fn each_owner_has_an_icalendar_with_whole_days() {
    let folder = Folder::with_new_site();
    let [site, out] = ["site", "out"].map(|name| folder.arg(name));
    let ran = evenrun(&["calendar", &site, "--from", "2026-03-09", "--out", &out]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    let files = fs::read_dir(folder.path("out")).unwrap();
    let names = files.map(|f| f.unwrap().path());
    let calendars: Vec<_> = names
        .filter(|p| p.extension().is_some_and(|e| e == "ics"))
        .collect();
    assert!(!calendars.is_empty());
    let mut events = 0;
    for file in calendars {
        let reader = BufReader::new(fs::File::open(&file).unwrap());
        for calendar in ical::IcalParser::new(reader) {
            for event in calendar.unwrap().events {
                events += 1;
                let start = event
                    .properties
                    .iter()
                    .find(|p| p.name == "DTSTART")
                    .unwrap();
                assert_eq!(start.value.as_ref().unwrap().len(), 8);
                assert!(event.properties.iter().any(|p| p.name == "UID"));
            }
        }
    }
    assert!(events > 0);
}
