//! Tables and calendars, read back by other libraries.

use super::{Made, hostile, with_hostile_names};
use crate::common::demo;
use evenrun::report::{Language, Words, csv, ics};
use ical::IcalParser;
use ical::parser::ical::component::IcalEvent;
use std::collections::BTreeSet;

/// The rows of a table, its mark and its head first taken off.
fn rows(text: &str) -> (Vec<String>, Vec<Vec<String>>) {
    let text = text.strip_prefix('\u{feff}').expect("the mark of UTF-8");
    let mut reader = ::csv::Reader::from_reader(text.as_bytes());
    let cells = |record: &::csv::StringRecord| record.iter().map(String::from).collect::<Vec<_>>();
    let head = cells(reader.headers().unwrap());
    (head, reader.records().map(|r| cells(&r.unwrap())).collect())
}

#[test]
fn tables_are_whole_and_no_cell_is_a_formula() {
    let mut made = with_hostile_names();
    made.site.rooms[2].name = "=HYPERLINK(\"x\")".into();
    made.site.places[2].name = "+1".into();
    let tables = csv(&made.answer(), &made.words());
    let names: Vec<&str> = tables.iter().map(|t| t.name.as_str()).collect();
    assert_eq!(
        names,
        ["stops.csv", "rooms.csv", "people.csv", "undone.csv"]
    );
    for table in &tables {
        let (head, rows) = rows(&table.text);
        assert!(!rows.is_empty(), "{}", table.name);
        for row in &rows {
            assert_eq!(row.len(), head.len(), "{}", table.name);
            for cell in row {
                // OWASP, CSV Injection: what a formula may begin with.
                let first = cell.trim_start().chars().next();
                assert!(!first.is_some_and(|c| "=+-@".contains(c)), "{cell:?}");
            }
        }
    }
    let (_, stops) = rows(&tables[0].text);
    let planned: usize = made.plan.runs.iter().map(|r| r.stops.len()).sum();
    assert_eq!(stops.len(), planned);
    let (_, rooms) = rows(&tables[1].text);
    let ids: BTreeSet<&String> = rooms.iter().map(|row| &row[0]).collect();
    assert_eq!(ids.len(), made.site.rooms.len());
    assert!(rooms.iter().any(|row| row[1] == "'=HYPERLINK(\"x\")"));
    assert!(stops.iter().any(|row| row[1] == hostile()[0]));
}

fn property<'a>(event: &'a IcalEvent, name: &str) -> &'a str {
    let found = event.properties.iter().find(|p| p.name == name);
    found.and_then(|p| p.value.as_deref()).unwrap_or_default()
}

#[test]
fn calendars_are_read_back_with_every_stop_that_takes_time() {
    let made = Made::of(demo());
    let words = Words::new(Language::Spanish, &made.site);
    let files = ics(&made.answer(), &words);
    assert_eq!(files.len(), made.plan.runs.len());
    let mut ids = BTreeSet::new();
    for (file, run) in files.iter().zip(&made.plan.runs) {
        let calendars: Vec<_> = IcalParser::new(file.text.as_bytes()).collect();
        let calendar = calendars.into_iter().next().unwrap().unwrap();
        let planned: Vec<_> = run.stops.iter().filter(|s| !s.span.is_empty()).collect();
        assert_eq!(calendar.events.len(), planned.len(), "{}", file.name);
        for (event, stop) in calendar.events.iter().zip(&planned) {
            let (from, to) = (property(event, "DTSTART"), property(event, "DTEND"));
            assert!(from < to && from.ends_with('Z'), "{from} {to}");
            // Dublin is on UTC in March before the clocks change (tz database).
            assert!(
                from.ends_with(&format!("{}Z", stop.span.from.to_string().replace(':', "")))
                    || stop.span.from.0 >= 86_400
            );
            assert!(
                ids.insert(property(event, "UID").to_string()),
                "an id twice"
            );
            assert!(!property(event, "SUMMARY").is_empty());
            assert_eq!(property(event, "DTSTAMP"), "20260310T000000Z");
        }
    }
}

/// RFC 5545, 3.1: lines end in CR LF and are folded at 75 octets; 3.6: what a calendar must have.
#[test]
fn calendars_keep_to_the_form_of_rfc_5545_whatever_the_names_are() {
    let made = with_hostile_names();
    let files = ics(&made.answer(), &made.words());
    let names: BTreeSet<_> = files.iter().map(|f| &f.name).collect();
    assert_eq!(names.len(), files.len());
    for file in &files {
        assert_eq!(
            file.text.matches('\n').count(),
            file.text.matches("\r\n").count()
        );
        assert!(
            file.text.lines().all(|line| line.len() <= 75),
            "{}",
            file.name
        );
        for must in ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:", "END:VCALENDAR"] {
            assert_eq!(file.text.matches(must).count(), 1, "{must}");
        }
        let steers = |c: char| c.is_control() && c != '\r' && c != '\n';
        assert!(!file.text.chars().any(steers));
        let calendar = IcalParser::new(file.text.as_bytes())
            .next()
            .unwrap()
            .unwrap();
        assert!(!calendar.events.is_empty());
        // Without a time zone, times are the clock's on the wall.
        assert!(!property(&calendar.events[0], "DTSTART").ends_with('Z'));
    }
}

#[test]
fn the_same_plan_makes_the_same_files() {
    let made = Made::new("Larkfield", 2, &["Ana", "Bilal"]);
    let files = || {
        [
            csv(&made.answer(), &made.words()),
            ics(&made.answer(), &made.words()),
        ]
    };
    assert_eq!(files(), files());
}
