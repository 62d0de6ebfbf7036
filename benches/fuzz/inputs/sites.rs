//! Site files, tables of rooms, splits.

use super::desk::{Desk, texts};
use super::{Family, Outcome, Stock, codes, project};
use evenrun::input::{
    EXAMPLES, Problems, Reading, RoomsRequest, import_rooms, map_rooms, new_site_text, read_site,
    read_split, schema,
};
use evenrun::plan::{self, Ground};
use evenrun::route::{Budget, Settings, Stop};
use evenrun::site::Site;
use jiff::civil::date;
use serde_json::Value;
use std::collections::BTreeSet;
use std::fs;
use std::io;
use std::path::Path;
use std::sync::atomic::AtomicBool;

/// One of so many sites that were read is planned.
const PLANNED: usize = 50;
/// Largest site that is walked through here.
const MOST_PLACES: usize = 120;
/// Columns of tables of rooms as offices call them.
const HEADERS: &[&str] = &[
    "Room No.",
    "Description",
    "Room type",
    "Floor",
    "Area (sq ft)",
    "Area (m2)",
    "# of toilets",
    "Finish",
    "Building",
    "Name",
    "Office",
    "Lab",
    "Total",
    "1,250",
    "1.250",
    "18,5",
    "n/a",
    "basement",
    "1st floor",
];

/// A calendar of periodic work of the two floors.
const DIARY: &str = "from: 2026-03-02\nto: 2026-03-29\nwork:\n  - {room: corridor 1, task: machine scrub, worker: Ana, days: [2026-03-10]}\n  - {room: G01, task: dust shelves and sills, days: [2026-03-05, 2026-03-12]}\n";

/// Site files, beside the other files of the two floors.
pub(super) fn site() -> io::Result<Family> {
    let desk = Desk::with(&project("fixtures/two_floors"))?;
    let mut seeds = texts(&project("fixtures/broken"), &["yaml"])?;
    let mut sound = texts(&project("fixtures/worked"), &["yaml"])?;
    sound.push(fs::read(project("fixtures/two_floors/site.yaml"))?);
    sound.push(new_site_text().as_bytes().to_vec());
    sound.extend(EXAMPLES.map(|(_, _, text)| text.as_bytes().to_vec()));
    // As many sound ones as broken ones, or hardly any would be read.
    let times = seeds.len() / sound.len();
    seeds.extend(std::iter::repeat_n(sound, times).flatten());
    let mut words = Vec::new();
    keys(&schema(), &mut words);
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    // Days of periodic work are in a file of their own.
    let named = format!(
        "calendar: calendar.yaml\n{}",
        fs::read_to_string(desk.path("site.yaml"))?
    );
    desk.put("named.yaml", named.as_bytes());
    let stocks = vec![
        Stock::new(seeds, &words),
        Stock::new(vec![DIARY.into()], &["owner", "2026-03-20"]),
    ];
    Ok(Family::of_formats("site", stocks, move |format, input| {
        outcome(if format == 0 {
            read_site(&desk.put("site.yaml", input))
        } else {
            desk.put("calendar.yaml", input);
            read_site(&desk.path("named.yaml"))
        })
    }))
}

/// The keys and fixed words of a schema.
fn keys(schema: &Value, found: &mut Vec<String>) {
    match schema {
        Value::Object(map) => {
            if let Some(Value::Object(properties)) = map.get("properties") {
                found.extend(properties.keys().cloned());
            }
            let fixed = map
                .get("enum")
                .and_then(Value::as_array)
                .into_iter()
                .flatten();
            found.extend(fixed.filter_map(Value::as_str).map(str::to_string));
            map.values().for_each(|part| keys(part, found));
        }
        Value::Array(list) => list.iter().for_each(|part| keys(part, found)),
        _ => {}
    }
}

fn outcome(read: Result<Reading, Problems>) -> Outcome {
    match read {
        Ok(reading) => {
            go_on(&reading.site);
            Outcome::accepted(codes(&reading.warnings))
        }
        Err(problems) => Outcome::refused(&problems),
    }
}

/// Walks through a site, and plans it now and then.
///
/// # Panics
/// If the plan breaks a rule.
pub(super) fn go_on(site: &Site) {
    if site.places.len() > MOST_PLACES || site.crew.len() > MOST_PLACES {
        return;
    }
    let day = site.date.unwrap_or(date(2026, 3, 10));
    let ground = Ground::of(site, day, &[]);
    // By something that the input decides, so that the same input is always treated alike.
    let turn = ground.jobs.jobs.len()
        + site.name.len()
        + site.rooms.iter().map(|r| r.area.0 as usize).sum::<usize>();
    if turn.is_multiple_of(PLANNED) {
        planned(site, day);
    }
}

fn planned(site: &Site, day: jiff::civil::Date) {
    let never = AtomicBool::new(false);
    let request = plan::Request {
        site,
        date: day,
        absent: &[],
        keep: None,
        settings: few_rounds(&never),
    };
    let made = plan::make(&request, &mut |_, _| {});
    assert!(
        made.violations.is_empty(),
        "the plan breaks rules: {:?}",
        made.violations
    );
}

/// Hardly any search.
pub(super) fn few_rounds(never: &AtomicBool) -> Settings<'_> {
    Settings {
        stop: Stop {
            budget: Budget::Iterations(3),
            interrupted: never,
        },
        seed: 1,
        islands: 1,
    }
}

/// Tables of rooms: the site's own, and lists that are imported into it or become a site of their own.
pub(super) fn rooms() -> io::Result<Family> {
    let desk = Desk::with(&project("fixtures/two_floors"))?;
    let own = fs::read(project("fixtures/two_floors/rooms.csv"))?;
    let demo = fs::read_to_string(project("demo/larkfield/rooms.csv"))?;
    let some: Vec<&str> = demo.lines().take(20).collect();
    let list = "Building 4: room list;;;;\nRoom No.;Description;Room type;Floor;Area (sq ft)\n101;Front office;Office;1st floor;190\n102;Chemistry;Lab;1st floor;\"1.250,5\"\n103;Men;Men's restroom;2nd floor;160,5\n104;;Closet;;40\n;;Total;;1640\n";
    let comma = "Room,Name,Type,Floor,Area (m2),Toilets\nG01,Front office,Office,G,18.5,\nG02,\"Long, \"\"quoted\"\"\",Restroom,G,12,3\n";
    let lists = vec![
        own.clone(),
        list.into(),
        comma.into(),
        some.join("\n").into(),
    ];
    let sound = desk.put("sound.csv", comma.as_bytes());
    let mapping = map_rooms(&request(&sound, &desk.path("new"), None));
    let mapping = mapping.map_err(|problems| io::Error::other(problems.to_string()))?;
    let stocks = vec![
        Stock::new(vec![own, some.join("\n").into()], HEADERS),
        Stock::new(lists.clone(), HEADERS),
        Stock::new(lists, HEADERS),
        Stock::new(vec![mapping.into_bytes()], HEADERS),
    ];
    Ok(Family::of_formats(
        "rooms",
        stocks,
        move |format, input| match format {
            0 => {
                desk.put("rooms.csv", input);
                outcome(read_site(&desk.path("site.yaml")))
            }
            3 => {
                let mapping = desk.put("mapping.yaml", input);
                imported(&request(&sound, &desk.path("new"), Some(&mapping)))
            }
            _ => {
                let into = desk.path(if format == 1 { "site.yaml" } else { "new" });
                imported(&request(&desk.put("list.csv", input), &into, None))
            }
        },
    ))
}

/// An import that says no more than it must.
pub(super) fn request<'a>(
    file: &'a Path,
    site: &'a Path,
    mapping: Option<&'a Path>,
) -> RoomsRequest<'a> {
    RoomsRequest {
        file,
        site,
        mapping,
        units: None,
        decimal_comma: None,
    }
}

/// A list of rooms imported into a site.
pub(super) fn imported(request: &RoomsRequest<'_>) -> Outcome {
    match import_rooms(request) {
        Ok(import) => {
            // The same file, looked at in another way.
            drop(map_rooms(request));
            Outcome::accepted(codes(&import.notes))
        }
        Err(problems) => Outcome::refused(&problems),
    }
}

/// Today's splits.
pub(super) fn split() -> io::Result<Family> {
    let desk = Desk::with(&project("fixtures/two_floors"))?;
    let site = read_site(&desk.path("site.yaml"))
        .map_err(|p| io::Error::other(p.to_string()))?
        .site;
    let own = fs::read(project("demo/larkfield/split.csv"))?;
    let worker = |i: usize| site.crew[i % site.crew.len()].name.clone();
    let row = |(i, room): (usize, &evenrun::site::Room)| {
        format!(
            "{},{},{},{}:{:02}",
            room.id,
            worker(i),
            i,
            17 + i % 7,
            i % 60
        )
    };
    let rows: Vec<String> = site.rooms.iter().enumerate().map(row).collect();
    let made_up = format!("room,worker,order,start\n{}\n", rows.join("\n"));
    let stock = Stock::new(
        vec![own, made_up.into()],
        &["room", "worker", "order", "start"],
    );
    Ok(Family::new("split", stock, move |input| {
        match read_split(&desk.put("split.csv", input), &site) {
            Ok(reading) => {
                assert!(reading.rows.len() <= input.len());
                Outcome::accepted(BTreeSet::new())
            }
            Err(problems) => Outcome::refused(&problems),
        }
    }))
}
