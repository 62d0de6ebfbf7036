//! A site of 600 rooms on six floors that gives no drawing, with a crew of 24. All figures are invented for these tests.

use super::Made;
use crate::common::read_text;
use std::ops::Range;

const FLOORS: Range<usize> = 0..6;
const HALLS: [&str; 4] = ["A", "B", "C", "D"];
/// Where the other halls of a floor join its first.
const JOINS: [(&str, &str); 3] = [("B", "end"), ("C", "30"), ("D", "start")];
const ROOMS_PER_HALL: usize = 25;

/// The site with a plan.
pub(crate) fn six_hundred() -> Made {
    let parts = [
        "site: Six hundred\ndate: 2026-03-10".to_string(),
        list(
            "floors",
            FLOORS.map(|f| format!("{{id: F{f}, height_m: 3.5}}")),
        ),
        list("halls", each_hall(hall)),
        list(
            "links",
            FLOORS.flat_map(|f| JOINS.map(|join| link(f, join))),
        ),
        list("lifts", [lift()]),
        list(
            "closets",
            FLOORS.map(|f| format!("{{id: closet {f}, fill_point: true, waste_point: true}}")),
        ),
        "places:\n  - {id: entrance, name: Entrance, break_place: true}".to_string(),
        "carts:\n  - {id: cart, waste_l: 300, bucket_m2: 150, width_m: 0.75}".to_string(),
        list("rooms", each_hall(rooms).flatten()),
        list("crew", (1..=24).map(worker)),
    ];
    Made::of(read_text(&(parts.join("\n") + "\n")))
}

fn list(key: &str, entries: impl IntoIterator<Item = String>) -> String {
    let entries: Vec<String> = entries.into_iter().map(|e| format!("\n  - {e}")).collect();
    format!("{key}:{}", entries.concat())
}

fn each_hall<T>(of: fn(usize, &str) -> T) -> impl Iterator<Item = T> {
    FLOORS.flat_map(move |f| HALLS.map(move |hall| of(f, hall)))
}

fn ids(floor: usize, hall: &str) -> Vec<String> {
    (0..ROOMS_PER_HALL)
        .map(|i| format!("{floor}{hall}{i:02}"))
        .collect()
}

fn hall(floor: usize, hall: &str) -> String {
    let mut places = ids(floor, hall);
    if hall == "A" {
        places.insert(0, format!("closet {floor}"));
        places.extend((floor == 0).then(|| "entrance".to_string()));
    }
    format!("{{id: {floor}-{hall}, floor: F{floor}, spacing_m: 3, places: {places:?}}}")
}

fn link(floor: usize, (hall, at): (&str, &str)) -> String {
    let landings = [format!("{floor}-A@{at}"), format!("{floor}-{hall}@start")];
    format!("{{id: join {floor} {hall}, landings: {landings:?}, length_m: 4}}")
}

fn lift() -> String {
    let landings: Vec<String> = FLOORS.map(|f| format!("{f}-A@start")).collect();
    format!("{{id: lift, landings: {landings:?}, wait_s: 20, per_floor_s: 5, boarding_s: 8}}")
}

fn rooms(floor: usize, hall: &str) -> Vec<String> {
    let room = |(i, id): (usize, String)| {
        let kind = match i {
            0 | 1 => "restroom, bowls: 2, basins: 2, mirrors: 1",
            _ if i % 3 == 0 => "office",
            _ => "classroom",
        };
        format!(
            "{{id: \"{id}\", area_m2: {}, bins: 1, kind: {kind}}}",
            12 + i
        )
    };
    ids(floor, hall).into_iter().enumerate().map(room).collect()
}

fn worker(number: usize) -> String {
    format!("{{name: Worker {number}, shift: \"17:00-25:00\", start: entrance, cart: cart}}")
}
