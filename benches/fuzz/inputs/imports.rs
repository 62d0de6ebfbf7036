//! Calendars, spreadsheets, buildings.

use super::book::{self, Parts};
use super::desk::{Desk, texts};
use super::sites::{imported, request};
use super::{Family, Outcome, Stock, codes, project};
use evenrun::input::{BuildingRequest, EventsRequest, import_building, import_events};
use jiff::civil::date;
use std::fs;
use std::io;
use std::path::Path;

/// Words of calendars.
const CALENDAR: &[&str] = &[
    "RRULE:FREQ=DAILY",
    "RRULE:FREQ=SECONDLY",
    "RRULE:FREQ=MINUTELY;INTERVAL=7",
    "RRULE:FREQ=YEARLY;BYDAY=-1SU;BYMONTH=2",
    "FREQ=MONTHLY;BYMONTHDAY=31;BYMONTH=2",
    "FREQ=WEEKLY;BYDAY=MO,TU;WKST=SU",
    "BYSETPOS=-1",
    "BYYEARDAY=366",
    "BYWEEKNO=53",
    "BYHOUR=25",
    "BYMINUTE=0,59",
    "BYSECOND=60",
    "COUNT=4294967296",
    "COUNT=0",
    "INTERVAL=0",
    "INTERVAL=65536",
    "UNTIL=99991231T235959Z",
    "UNTIL=00010101",
    "EXDATE",
    "RDATE;VALUE=PERIOD",
    "20260310T090000/PT1H",
    "EXDATE;VALUE=DATE",
    "DTSTART;VALUE=DATE",
    "DTSTART;TZID=America/New_York",
    "TZID=Nowhere",
    "RECURRENCE-ID;RANGE=THISANDFUTURE",
    "DURATION:P1D",
    "DTEND",
    "BEGIN:VEVENT",
    "END:VEVENT",
    "BEGIN:VTIMEZONE",
    "END:VTIMEZONE",
    "BEGIN:STANDARD",
    "END:STANDARD",
    "TZOFFSETFROM:-0500",
    "TZOFFSETTO:+2400",
    "BEGIN:VAVAILABILITY",
    "BEGIN:AVAILABLE",
    "LOCATION:G01",
    "LOCATION:101",
    "LOCATION;LANGUAGE=\"en\"",
    "STATUS:CANCELLED",
    "TRANSP:TRANSPARENT",
    "BUSYTYPE",
    "BEGIN:VALARM",
    "\r\n ",
    "\r\n\t",
    "\\,",
    "\\;",
    "\\n",
];
/// An event of its own, every week in a room of the two floors.
const WEEKLY: &str = "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:x\r\nBEGIN:VEVENT\r\nUID:1\r\nDTSTART;TZID=Europe/London:20260303T180000\r\nDTEND;TZID=Europe/London:20260303T193000\r\nRRULE:FREQ=WEEKLY;BYDAY=TU,TH;COUNT=20\r\nEXDATE;TZID=Europe/London:20260312T180000\r\nRDATE;TZID=Europe/London:20260314T100000\r\nLOCATION:G01\r\nSUMMARY:Choir\\, second\r\n  part\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\nUID:1\r\nRECURRENCE-ID;TZID=Europe/London:20260310T180000\r\nDTSTART;TZID=Europe/London:20260310T190000\r\nDURATION:PT45M\r\nLOCATION:101; 102\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\nUID:2\r\nDTSTART;VALUE=DATE:20260311\r\nLOCATION:103\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n";

/// Calendars of events.
pub(super) fn events() -> io::Result<Family> {
    let desk = Desk::with(&project("fixtures/two_floors"))?;
    let mut seeds = texts(&project("fixtures/import/events"), &["ics"])?;
    seeds.push(WEEKLY.into());
    let sound = desk.put("sound.ics", WEEKLY.as_bytes());
    let mapping =
        "# Locations\nlocations:\n  Main hall: G01\n  Gym: [101, \"102\"]\n  Foyer: ignore\n";
    let stocks = vec![
        Stock::new(seeds.clone(), CALENDAR),
        // Three calendars for one mapping file.
        Stock::new(seeds.clone(), CALENDAR),
        Stock::new(seeds, CALENDAR),
        Stock::new(vec![mapping.into()], &["ignore", "locations", "G01"]),
    ];
    Ok(Family::of_formats(
        "events",
        stocks,
        move |format, input| {
            let mapping = (format == 3).then(|| desk.put("mapping.yaml", input));
            let file = if format == 3 {
                sound.clone()
            } else {
                desk.put("events.ics", input)
            };
            let request = EventsRequest {
                file: &file,
                site: &desk.path("site.yaml"),
                mapping: mapping.as_deref(),
                from: date(2026, 3, 9),
                days: 28,
                margin_min: 15,
                forget: input.len().is_multiple_of(2),
            };
            match import_events(&request) {
                Ok(import) => Outcome::accepted(codes(&import.notes)),
                Err(problems) => Outcome::refused(&problems),
            }
        },
    ))
}

/// Spreadsheets of rooms.
pub(super) fn books() -> io::Result<Family> {
    let desk = Desk::with(&project("fixtures/two_floors"))?;
    let books: Vec<Vec<u8>> = book::books();
    let parts: Vec<Parts> = books.iter().map(|b| Parts::of(b)).collect();
    let texts = parts.iter().flat_map(Parts::texts).collect();
    let words = Stock::new(texts, book::WORDS).words;
    let stock = Stock {
        seeds: books,
        words,
    };
    let read = move |input: &[u8]| {
        let (file, new) = (desk.put("list.xlsx", input), desk.path("new"));
        imported(&request(&file, &new, None))
    };
    let mut family = Family::new("xlsx", stock, read);
    family.books = parts;
    Ok(family)
}

/// `IndoorGML`.
pub(super) fn gml() -> io::Result<Family> {
    let words = [
        "gml:id",
        "xlink:href",
        "core:State",
        "core:Transition",
        "core:CellSpace",
        "gml:pos",
        "gml:Point",
        "gml:Solid",
        "core:weight",
        "core:duality",
        "storey",
        "<core:weight>0</core:weight>",
        "<gml:pos>0 0 0</gml:pos>",
        "navi:Door",
        "srsDimension=\"3\"",
        "uomLabels=\"m\"",
        "xmlns=\"\"",
        "<a xmlns:b=\"c\"/>",
    ];
    building("gml", "school.gml", &words)
}

/// IFC.
pub(super) fn ifc() -> io::Result<Family> {
    let words = [
        "IFCSPACE",
        "IFCBUILDINGSTOREY",
        "IFCDOOR",
        "IFCRELSPACEBOUNDARY",
        "IFCRELAGGREGATES",
        "IFCQUANTITYAREA",
        "IFCELEMENTQUANTITY",
        "IFCSIUNIT",
        "IFCCONVERSIONBASEDUNIT",
        "IFCLOCALPLACEMENT",
        "IFCAXIS2PLACEMENT3D",
        "IFCCARTESIANPOINT",
        "IFCSTAIR",
        "IFCTRANSPORTELEMENT",
        ".MILLI.",
        ".METRE.",
        "IFCLENGTHMEASURE(1.)",
        "#1=",
        "ENDSEC;",
        "DATA;",
        "HEADER;",
        "ISO-10303-21;",
        "END-ISO-10303-21;",
        "\\X2\\00E9\\X0\\",
        "\\X\\E9",
        "\\S\\i",
        "/*",
        "*/",
    ];
    building("ifc", "house.ifc", &words)
}

fn building(name: &'static str, file: &'static str, words: &[&str]) -> io::Result<Family> {
    let folder = project("fixtures/import/building");
    let desk = Desk::with(Path::new(&folder))?;
    let stock = Stock::new(vec![fs::read(folder.join(file))?], words);
    Ok(Family::new(name, stock, move |input| {
        let request = BuildingRequest {
            file: &desk.put(file, input),
            site: &desk.path("new"),
            scale: input.len().is_multiple_of(3).then_some(0.2),
        };
        match import_building(&request) {
            Ok(import) => Outcome::accepted(codes(&import.notes)),
            Err(problems) => Outcome::refused(&problems),
        }
    }))
}
