//! A table of broken files for each importer: every one ends with a code, a place where there is one, and nothing written.

use super::events::with_site;
use super::rooms::list;
use super::support::Folder;
use evenrun::input::IMPORT_CODES;
use rust_xlsxwriter::{ExcelDateTime, Format, Workbook};
use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::{Cursor, Read, Write};
use std::path::Path;
use zip::write::SimpleFileOptions;
use zip::{ZipArchive, ZipWriter};

/// A broken file: the code it ends with, its name, what is in it, where the error is told, and further options.
struct Broken {
    code: &'static str,
    name: &'static str,
    bytes: Vec<u8>,
    at: &'static str,
    more: &'static [&'static str],
}

fn broken(
    code: &'static str,
    name: &'static str,
    at: &'static str,
    bytes: impl Into<Vec<u8>>,
) -> Broken {
    Broken {
        code,
        name,
        bytes: bytes.into(),
        at,
        more: &[],
    }
}

fn fixture(name: &str) -> Vec<u8> {
    fs::read(
        Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("fixtures/import")
            .join(name),
    )
    .unwrap()
}

/// A workbook whose second row has a date in the column of room numbers.
fn dated() -> Vec<u8> {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    for (column, header) in ["Room", "Type", "Area (m2)"].into_iter().enumerate() {
        sheet.write(0, column as u16, header).unwrap();
    }
    let date = ExcelDateTime::from_ymd(2026, 1, 2).unwrap();
    sheet
        .write_with_format(1, 0, &date, &Format::new().set_num_format("d-m"))
        .unwrap();
    sheet.write(1, 1, "Office").unwrap();
    book.save_to_buffer().unwrap()
}

/// One cell far to the right of a sheet that else has nothing.
fn far_away() -> Vec<u8> {
    let mut book = Workbook::new();
    book.add_worksheet().write(1_048_575, 16_383, "x").unwrap();
    book.save_to_buffer().unwrap()
}

/// An archive of many parts with nothing in them.
fn parted() -> Vec<u8> {
    let mut book = ZipWriter::new(Cursor::new(Vec::new()));
    for part in 0..2_001 {
        book.start_file(part.to_string(), SimpleFileOptions::default())
            .unwrap();
    }
    book.finish().unwrap().into_inner()
}

/// A workbook with one thing written otherwise in all its parts.
fn rewritten(from: &str, to: &str) -> Vec<u8> {
    let mut whole = ZipArchive::new(Cursor::new(dated())).unwrap();
    let mut book = ZipWriter::new(Cursor::new(Vec::new()));
    for part in 0..whole.len() {
        let mut part = whole.by_index(part).unwrap();
        let mut text = String::new();
        part.read_to_string(&mut text).unwrap();
        let name = part.name().unwrap().to_string();
        book.start_file(name, SimpleFileOptions::default()).unwrap();
        let text = text.replace(from, to);
        book.write_all(text.as_bytes()).unwrap();
    }
    book.finish().unwrap().into_inner()
}

#[expect(clippy::too_many_lines, reason = "a table")]
fn rooms() -> Vec<Broken> {
    let whole = list();
    let half = whole[..whole.len() / 2].to_vec();
    let mut wide = String::from("Room,Type");
    wide.push_str(&",x".repeat(300));
    let long = format!("Room,Type,Area (m2)\n101,Office,{}\n", "9".repeat(3_000));
    let rows = |text: &str| format!("Room,Type,Area (m2)\n{text}");
    let mut all = vec![
        broken(
            "E104",
            "list.csv",
            "list.csv: ",
            b"Room,Type,Area (m2)\n101,Caf\xe9,18\n".to_vec(),
        ),
        broken(
            "E104",
            "utf16.csv",
            "utf16.csv: ",
            b"\xff\xfeR\0o\0o\0m\0".to_vec(),
        ),
        broken("I101", "list.docx", "list.docx: ", b"PK".to_vec()),
        broken("I101", "list", "list: ", b"Room".to_vec()),
        broken("I102", "parts.xlsx", "parts.xlsx: ", parted()),
        broken("I102", "bomb.xlsx", "bomb.xlsx: ", fixture("bomb.xlsx")),
        broken("I103", "half.xlsx", "half.xlsx: ", half),
        broken(
            "I103",
            "text.xlsx",
            "text.xlsx: ",
            "Room,Type\n101,Office\n",
        ),
        broken("I103", "empty.xlsx", "empty.xlsx: ", ""),
        broken("I104", "wide.csv", "wide.csv:1:1: ", wide),
        broken("I104", "long.csv", "long.csv:2:12: ", long),
        broken("I104", "far.xlsx", "far.xlsx:1048576:16384: ", far_away()),
        // Its last cell has a name that no column has.
        broken(
            "I104",
            "beyond.xlsx",
            "beyond.xlsx:2:",
            rewritten("r=\"B2\"", "r=\"AAAAAAAAA2\""),
        ),
        // Room for so many texts would be 100 GB.
        broken(
            "I103",
            "boasting.xlsx",
            "boasting.xlsx: ",
            rewritten("uniqueCount=\"", "uniqueCount=\"429496729"),
        ),
        broken(
            "I104",
            "many.csv",
            "many.csv:5001:1: ",
            rows(&"101,Office,18\n".repeat(21_000)),
        ),
        broken(
            "I105",
            "open.csv",
            "open.csv:2:5: ",
            rows("101,\"Office,18\n102,Office,20\n"),
        ),
        broken("I201", "none.csv", "none.csv:1:1: ", "Name,Remark\nx,y\n"),
        broken("I201", "nothing.csv", "nothing.csv", ""),
        broken(
            "I301",
            "twice.csv",
            "twice.csv:3:1: ",
            rows("101,Office,18\n101,Office,20\n"),
        ),
        broken(
            "I302",
            "unit.csv",
            "unit.csv:2:12: ",
            rows("101,Office,18 acres\n"),
        ),
        broken(
            "I303",
            "unitless.csv",
            "unitless.csv:1:11: ",
            "Room,Type,Area\n101,Office,18\n",
        ),
        broken(
            "I304",
            "unclear.csv",
            "unclear.csv:2:12: ",
            rows("101,Office,\"1,250\"\n"),
        ),
        broken(
            "I305",
            "words.csv",
            "words.csv:2:12: ",
            rows("101,Office,large\n"),
        ),
        broken(
            "I305",
            "minus.csv",
            "minus.csv:2:12: ",
            rows("101,Office,-4\n"),
        ),
        broken("I306", "dated.xlsx", "dated.xlsx:2:1: ", dated()),
        broken("I307", "kind.csv", "kind.csv:2:5: ", rows("101,Spa,18\n")),
        broken("I309", "bare.csv", "bare.csv:1:1: ", rows("")),
    ];
    for (code, map) in [
        ("I202", "columns: {Room: id, Type: knd}\n"),
        ("I202", "columns: [Room, Kind]\n"),
        ("I203", "columns: {Room: id, Kind: kind}\n"),
    ] {
        all.push(Broken {
            more: &["--map", "map.yaml"],
            ..broken(code, "map.yaml", "map.yaml:1:", map)
        });
    }
    all
}

#[expect(clippy::too_many_lines, reason = "a table")]
fn events() -> Vec<Broken> {
    let whole = |event: &str| {
        format!("BEGIN:VCALENDAR\nBEGIN:VEVENT\nLOCATION:A\n{event}\nEND:VEVENT\nEND:VCALENDAR\n")
    };
    let at = |rest: &str| whole(&format!("DTSTART:20260310T100000\n{rest}"));
    let deep = "BEGIN:X\n".repeat(2_000);
    vec![
        broken(
            "E104",
            "latin.ics",
            "latin.ics: ",
            b"BEGIN:VCALENDAR\nSUMMARY:Caf\xe9\nEND:VCALENDAR\n".to_vec(),
        ),
        broken("I401", "empty.ics", "empty.ics: ", ""),
        broken("I401", "blank.ics", "blank.ics: ", "\u{feff}\r\n\r\n"),
        broken(
            "I402",
            "page.ics",
            "page.ics:1:1: ",
            "<html><body>Sign in</body></html>\n",
        ),
        broken("I402", "zip.ics", "zip.ics:1:1: ", "PK\u{3}\u{4}"),
        broken(
            "I403",
            "cut.ics",
            "cut.ics:2:1: ",
            "BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\nDTSTART:20260310T100000\r\n",
        ),
        broken(
            "I403",
            "crossed.ics",
            "crossed.ics:3:1: ",
            "BEGIN:VCALENDAR\nBEGIN:VEVENT\nEND:VCALENDAR\n",
        ),
        broken("I403", "outside.ics", "outside.ics:1:1: ", "SUMMARY:x\n"),
        broken(
            "I404",
            "day.ics",
            "day.ics:4:1: ",
            whole("DTSTART:20260230T100000"),
        ),
        broken(
            "I404",
            "length.ics",
            "length.ics:5:1: ",
            at("DURATION:1 hour"),
        ),
        broken(
            "I404",
            "timeless.ics",
            "timeless.ics:4:1: ",
            whole("DTSTART:\nDURATION:PT1H"),
        ),
        broken("I404", "endless.ics", "endless.ics:5:1: ", at("DTEND: ")),
        // A length forwards, in weeks or days and hours, and in nothing else (RFC 5545, section 3.3.6).
        broken(
            "I404",
            "backwards.ics",
            "backwards.ics:5:1: ",
            at("DURATION:-PT1H"),
        ),
        broken("I404", "year.ics", "year.ics:5:1: ", at("DURATION:P1Y")),
        broken("I404", "bare.ics", "bare.ics:5:1: ", at("DURATION:PT90")),
        broken(
            "I405",
            "until.ics",
            "until.ics:5:1: ",
            at("RRULE:FREQ=DAILY;UNTIL=SUMMER\nDURATION:PT1H"),
        ),
        broken(
            "I407",
            "vain.ics",
            "vain.ics:9:1: ",
            at(&format!(
                "{}DURATION:PT1H",
                "RRULE:FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30;UNTIL=20300101T000000\n".repeat(5)
            )),
        ),
        broken(
            "I404",
            "end.ics",
            "end.ics:4:1: ",
            at("DTEND:20260310T090000"),
        ),
        broken(
            "I405",
            "rule.ics",
            "rule.ics:5:1: ",
            at("RRULE:FREQ=SOMETIMES\nDURATION:PT1H"),
        ),
        broken(
            "I405",
            "none.ics",
            "none.ics:5:1: ",
            at("RRULE:weekly please\nDURATION:PT1H"),
        ),
        broken(
            "I404",
            "far.ics",
            "far.ics:5:1: ",
            whole("DTSTART:99991231T235959\nDURATION:PT1H"),
        ),
        broken(
            "I405",
            "never.ics",
            "never.ics:5:1: ",
            at("RRULE:FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30\nDURATION:PT1H"),
        ),
        broken(
            "I406",
            "zone.ics",
            "zone.ics:4:1: ",
            whole("DTSTART;TZID=Middle-earth/Shire:20260310T100000\nDURATION:PT1H"),
        ),
        broken(
            "I407",
            "often.ics",
            "often.ics:5:1: ",
            at("RRULE:FREQ=SECONDLY\nDURATION:PT1S"),
        ),
        broken("I407", "deep.ics", "deep.ics:9:1: ", deep),
        broken(
            "I408",
            "utc.ics",
            "utc.ics: ",
            whole("DTSTART:20260310T100000Z\nDURATION:PT1H"),
        ),
    ]
}

#[test]
fn every_broken_calendar_is_refused_with_its_place_and_nothing_is_written() {
    let failed: Vec<String> = events()
        .iter()
        .filter_map(|b| refused_events(b).err())
        .collect();
    assert!(failed.is_empty(), "{}", failed.join("\n\n"));
}

#[expect(clippy::too_many_lines, reason = "a table")]
fn buildings() -> Vec<Broken> {
    let state = |id: &str, pos: &str| {
        format!(
            "<State gml:id=\"{id}\"><geometry><Point><pos>{pos}</pos></Point></geometry></State>"
        )
    };
    let gml = |inner: &str| {
        format!(
            "<IndoorFeatures xmlns:gml=\"http://www.opengis.net/gml/3.2\">\n{inner}\n</IndoorFeatures>\n"
        )
    };
    let ifc = |data: &str| {
        format!("ISO-10303-21;\nHEADER;\nENDSEC;\nDATA;\n{data}\nENDSEC;\nEND-ISO-10303-21;\n")
    };
    let bomb = "<!DOCTYPE b [<!ENTITY a \"aaaaaaaaaa\"><!ENTITY b \"&a;&a;&a;&a;&a;&a;&a;&a;\">]>\n<IndoorFeatures>&b;</IndoorFeatures>";
    let whole = String::from_utf8(fixture("building/school.gml")).unwrap();
    let house = String::from_utf8(fixture("building/house.ifc")).unwrap();
    // What is part of itself: neither on a storey, nor a way round for ever.
    let circle = "#1= IFCSPACE('g',$,'1',$,$,$,$,'x',$,$,$);\n#2= IFCRELAGGREGATES('g',$,$,$,#1,(#3));\n#3= IFCSPACE('h',$,'2',$,$,$,$,'y',$,$,$);\n#4= IFCRELAGGREGATES('g',$,$,$,#3,(#1));";
    vec![
        broken("E104", "latin.gml", "latin.gml: ", b"<a>\xe9</a>".to_vec()),
        broken(
            "E104",
            "utf16.gml",
            "utf16.gml: ",
            b"\xff\xfe<\0a\0".to_vec(),
        ),
        broken("I501", "word.ifc", "word.ifc:1:1: ", "PK\u{3}\u{4} a zip"),
        broken("I501", "empty.ifc", "empty.ifc:1:1: ", ""),
        broken("I502", "bomb.gml", "bomb.gml:1:", bomb),
        broken("I502", "deep.gml", "deep.gml:1:1: ", "<a>".repeat(100_000)),
        broken(
            "I503",
            "cut.gml",
            "cut.gml:",
            whole[..whole.len() / 2].to_string(),
        ),
        broken(
            "I503",
            "cut.ifc",
            "cut.ifc:",
            house[..house.len() / 2].to_string(),
        ),
        broken(
            "I503",
            "head.ifc",
            "head.ifc:1:1: ",
            "ISO-10303-21;\nHEADER;\n",
        ),
        broken(
            "I503",
            "noise.ifc",
            "noise.ifc:5:",
            ifc("#1= IFCSPACE('a',,;"),
        ),
        broken(
            "I503",
            "twice.ifc",
            "twice.ifc:6:1: ",
            ifc("#1= IFCDOOR('a');\n#1= IFCDOOR('b');"),
        ),
        broken(
            "I503",
            "deep.ifc",
            "deep.ifc:5:",
            ifc(&format!("#1= IFCDOOR({}", "(".repeat(100_000))),
        ),
        broken(
            "I503",
            "twice.gml",
            "twice.gml:3:1: ",
            gml(&format!("{}\n{}", state("A", "0 0 0"), state("A", "1 0 0"))),
        ),
        broken("I504", "none.gml", "none.gml: ", gml("")),
        broken("I504", "none.ifc", "none.ifc: ", ifc("#1= IFCDOOR('a');")),
        broken("I504", "circle.ifc", "circle.ifc: ", ifc(circle)),
        broken(
            "I505",
            "unit.gml",
            "unit.gml: ",
            gml(&format!(
                "{}{}",
                state("A", "0 0 0"),
                state("B", "0 0 3500")
            )),
        ),
    ]
}

#[test]
fn every_broken_building_is_refused_with_its_place_and_nothing_is_written() {
    let failed: Vec<String> = buildings()
        .iter()
        .filter_map(|b| refused("building", b).err())
        .collect();
    assert!(failed.is_empty(), "{}", failed.join("\n\n"));
}

/// Into a site that is there, and stays as it was.
fn refused_events(broken: &Broken) -> Result<(), String> {
    let folder = with_site("");
    folder.put(broken.name, &broken.bytes);
    let rooms = folder.text("site/rooms.csv");
    let ran = folder.run(&[
        "import",
        "events",
        broken.name,
        "--into",
        "site",
        "--from",
        "2026-03-09",
    ]);
    let told = ran
        .err
        .lines()
        .any(|l| l.starts_with(broken.at) && l.contains(&format!("{}: ", broken.code)));
    if ran.code == Some(2) && told && ran.out.is_empty() && folder.text("site/rooms.csv") == rooms {
        return Ok(());
    }
    Err(format!(
        "{} {}: {:?}\n{}{}",
        broken.code, broken.name, ran.code, ran.out, ran.err
    ))
}

/// Runs an import that must fail: the code, the place, and nothing written.
fn refused(what: &str, broken: &Broken) -> Result<(), String> {
    let folder = Folder::new();
    folder.put("list.csv", "Room,Type\n101,Office\n");
    folder.put(broken.name, &broken.bytes);
    let file = if broken.more.is_empty() {
        broken.name
    } else {
        "list.csv"
    };
    let ran = folder.run(&[&["import", what, file, "--into", "site"], broken.more].concat());
    let told = ran
        .err
        .lines()
        .any(|l| l.starts_with(broken.at) && l.contains(&format!("{}: ", broken.code)));
    if ran.code == Some(2) && told && ran.out.is_empty() && !folder.path("site").exists() {
        return Ok(());
    }
    Err(format!(
        "{} {}: {:?}\n{}{}",
        broken.code, broken.name, ran.code, ran.out, ran.err
    ))
}

#[test]
fn every_broken_table_is_refused_with_its_place_and_nothing_is_written() {
    let failed: Vec<String> = rooms()
        .iter()
        .filter_map(|b| refused("rooms", b).err())
        .collect();
    assert!(failed.is_empty(), "{}", failed.join("\n\n"));
}

#[test]
fn a_file_of_200_mb_is_refused_unread() {
    let folder = with_site("");
    File::create(folder.path("big.ics"))
        .unwrap()
        .set_len(200 << 20)
        .unwrap();
    let ran = folder.run(&["import", "events", "big.ics", "--into", "site"]);
    assert!(
        ran.code == Some(2) && ran.err.contains("E103"),
        "{}",
        ran.err
    );
    let folder = Folder::new();
    for name in ["big.csv", "big.xlsx"] {
        File::create(folder.path(name))
            .unwrap()
            .set_len(200 << 20)
            .unwrap();
        let ran = folder.run(&["import", "rooms", name, "--into", "site"]);
        assert_eq!(ran.code, Some(2));
        assert!(
            ran.err.contains("E103") && ran.err.contains("up to 16 MiB"),
            "{}",
            ran.err
        );
    }
}

/// Cut anywhere, or with any byte changed, a workbook is read or refused: it never makes the program panic.
#[test]
fn a_damaged_workbook_never_panics() {
    let whole = list();
    let folder = Folder::new();
    for step in 0..24 {
        let mut bytes = whole.clone();
        let at = whole.len() * step / 24;
        if step % 2 == 0 {
            bytes.truncate(at);
        } else {
            bytes[at] ^= 0x5a;
        }
        folder.put("list.xlsx", bytes);
        let ran = folder.run(&[
            "import",
            "rooms",
            "list.xlsx",
            "--into",
            "site",
            "--dry-run",
        ]);
        assert!(
            matches!(ran.code, Some(0 | 2)),
            "{step}: {:?} {}",
            ran.code,
            ran.err
        );
    }
}

/// Codes told elsewhere: warnings and what needs a site, in the tests of each importer.
const ELSEWHERE: [&str; 19] = [
    "I308", "I506", "I901", "I902", "I903", "I904", "I905", "I906", "I907", "I908", "I911", "I912",
    "I913", "I914", "I915", "I916", "I917", "I918", "I919",
];

#[test]
fn every_code_of_imports_has_a_broken_file() {
    let told: BTreeSet<&str> = rooms()
        .iter()
        .chain(&events())
        .chain(&buildings())
        .map(|b| b.code)
        .filter(|c| c.starts_with('I'))
        .chain(ELSEWHERE)
        .collect();
    let known: BTreeSet<&str> = IMPORT_CODES.iter().map(|(code, _)| *code).collect();
    assert_eq!(told, known);
    assert!(IMPORT_CODES.windows(2).all(|pair| pair[0].0 < pair[1].0));
}
