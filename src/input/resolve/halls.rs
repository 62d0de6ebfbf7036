//! Halls, and what is where along them.

use super::Names;
use super::doors::hall_door;
use super::values::{Measure, within};
use crate::input::at::At;
use crate::input::log::{Log, Pos};
use crate::input::raw::{RawHall, RawPlaceAt, RawSideWord};
use crate::site::{FloorId, Hall, HallId, Point, Side, Spot};
use crate::units::{METRES_PER_FOOT, Metres};
use std::collections::BTreeMap;

/// Where each place is, by its number, and where that was said.
pub(super) type Spots = BTreeMap<usize, (Spot, Pos)>;

/// Distance between doors.
const SPACING: Measure = Measure::length("spacing_m", "spacing_ft", 0.1, 500.0);
/// Length of a hall.
const LENGTH: Measure = Measure::length("length_m", "length_ft", 0.1, LONGEST);
/// Distance along a hall.
const ALONG: Measure = Measure::length("m", "ft", 0.0, LONGEST);
/// Longest hall, in metres.
const LONGEST: f64 = 5_000.0;
/// Metres between neighbouring doors if not given (assumption).
const USUAL_SPACING: f64 = 4.0;
/// How far a distance may lie beyond the end: a measured length is rounded somewhere.
const ROUNDING: f64 = 0.05;
/// Farthest point of a plan from its origin, in metres.
const FARTHEST: f64 = 100_000.0;

/// All halls, and where the places are.
pub(super) fn halls(raw: &[RawHall], names: &Names, log: &Log) -> (Vec<Hall>, Spots) {
    let mut spots = Spots::new();
    let mut halls = Vec::with_capacity(raw.len());
    for (index, hall) in raw.iter().enumerate() {
        let read = read_hall(hall, names, log);
        let along = Along {
            hall: HallId::from(index),
            id: &hall.id.value,
            length: read.length.0,
            log,
        };
        // A hall has one of these, unless that was told already.
        listed(hall, &along, names, &mut spots);
        drawn(&hall.places_at, &along, names, &mut spots);
        halls.push(read);
    }
    (halls, spots)
}

fn read_hall(raw: &RawHall, names: &Names, log: &Log) -> Hall {
    one_form(raw, log);
    let line = line(raw, log);
    let without_line = || {
        let spacing = SPACING
            .read(log, raw.spacing_m.as_ref(), raw.spacing_ft.as_ref())
            .unwrap_or(USUAL_SPACING);
        let given = LENGTH.read(log, raw.length_m.as_ref(), raw.length_ft.as_ref());
        given.unwrap_or(spacing * raw.places.len() as f64)
    };
    let length = line.as_deref().map_or_else(without_line, length_of);
    let along = Along {
        hall: HallId(0),
        id: &raw.id.value,
        length,
        log,
    };
    let doors = raw.doors.iter().map(|door| {
        let pos = door
            .m
            .as_ref()
            .or(door.ft.as_ref())
            .map_or(raw.id.pos, |m| m.pos);
        let at = ALONG.required(log, door.m.as_ref(), door.ft.as_ref(), pos);
        (Metres(along.checked(at, pos)), hall_door(door, names, log))
    });
    Hall {
        id: raw.id.value.trim().to_string(),
        floor: FloorId::from(names.floors.find(&raw.floor, log).unwrap_or(0)),
        length: Metres(length),
        doors: doors.collect(),
        line,
    }
}

/// A hall is a list of places, or a line or length with places at distances; not both, and not neither.
fn one_form(raw: &RawHall, log: &Log) {
    let lengths = [
        raw.length_m.is_some() || raw.length_ft.is_some(),
        !raw.line_m.is_empty(),
        !raw.line_ft.is_empty(),
    ];
    let (lengths, spaced) = (
        lengths.iter().filter(|l| **l).count(),
        raw.spacing_m.is_some() || raw.spacing_ft.is_some(),
    );
    let drawn = !raw.places_at.is_empty() || lengths > 0;
    let why = if !raw.places.is_empty() && drawn {
        "is both listed (`places`) and drawn (`places_at`, a line or a length)"
    } else if lengths > 1 || (spaced && drawn) {
        "has its length given in two ways"
    } else if raw.places.is_empty() && lengths == 0 {
        "has neither `places` nor a line or a length"
    } else {
        return;
    };
    let hint = "give `places` in door order, or `line_m` (or `length_m`) and `places_at`";
    log.error(
        "E404",
        raw.id.pos,
        format!("hall `{}` {why}", raw.id.value),
        hint,
    );
}

fn line(raw: &RawHall, log: &Log) -> Option<Vec<Point>> {
    let (written, factor) = if raw.line_m.is_empty() {
        (&raw.line_ft, METRES_PER_FOOT)
    } else {
        (&raw.line_m, 1.0)
    };
    let coordinate = |given: &At<[f64; 2]>, i: usize| {
        let one = At {
            value: given.value[i],
            pos: given.pos,
            sound: given.sound,
        };
        within(log, "coordinate", &one, -FARTHEST, FARTHEST) * factor
    };
    let points: Vec<Point> = written
        .iter()
        .map(|p| Point {
            x: coordinate(p, 0),
            y: coordinate(p, 1),
        })
        .collect();
    let sound = written.iter().all(|p| p.sound);
    if let Some(first) = written
        .first()
        .filter(|_| sound && length_of(&points) < ROUNDING)
    {
        log.error(
            "E207",
            first.pos,
            "the line has no length".to_string(),
            "give at least two points that differ",
        );
    }
    (!points.is_empty()).then_some(points)
}

fn length_of(line: &[Point]) -> f64 {
    line.windows(2)
        .map(|p| (p[1].x - p[0].x).hypot(p[1].y - p[0].y))
        .sum()
}

/// The hall that places are put along.
struct Along<'a> {
    hall: HallId,
    id: &'a str,
    length: f64,
    log: &'a Log,
}

impl Along<'_> {
    /// A distance, which must not lie beyond the end.
    fn checked(&self, at: f64, pos: Pos) -> f64 {
        if at > self.length + ROUNDING {
            let message = format!("{at:.2} m is beyond the end of hall `{}`", self.id);
            self.log.error(
                "E403",
                pos,
                message,
                format!("the hall is {:.2} m long", self.length),
            );
        }
        at.min(self.length)
    }

    fn put(&self, place: &At<String>, along: f64, side: Side, names: &Names, spots: &mut Spots) {
        let Some(number) = names.places.find(place, self.log) else {
            return;
        };
        let spot = Spot {
            hall: self.hall,
            along: Metres(along),
            side,
        };
        if let Some((_, first)) = spots.get(&number) {
            let message = format!("`{}` is put on a hall twice", place.value);
            self.log.error(
                "E402",
                place.pos,
                message,
                format!("it is also there in line {}", first.line),
            );
            return;
        }
        spots.insert(number, (spot, place.pos));
    }
}

/// Places in door order: the middle of equal stretches, sides in turn.
fn listed(raw: &RawHall, along: &Along<'_>, names: &Names, spots: &mut Spots) {
    let spacing = along.length / raw.places.len().max(1) as f64;
    for (index, place) in raw.places.iter().enumerate() {
        let side = if index % 2 == 0 {
            Side::Left
        } else {
            Side::Right
        };
        along.put(place, (index as f64 + 0.5) * spacing, side, names, spots);
    }
}

fn drawn(raw: &[RawPlaceAt], along: &Along<'_>, names: &Names, spots: &mut Spots) {
    for place in raw {
        let pos = place
            .m
            .as_ref()
            .or(place.ft.as_ref())
            .map_or(place.place.pos, |m| m.pos);
        let at = ALONG.required(along.log, place.m.as_ref(), place.ft.as_ref(), pos);
        along.put(
            &place.place,
            along.checked(at, pos),
            side(place.side),
            names,
            spots,
        );
    }
}

fn side(word: Option<RawSideWord>) -> Side {
    match word {
        Some(RawSideWord::Left) => Side::Left,
        Some(RawSideWord::Right) => Side::Right,
        Some(RawSideWord::Ahead) | None => Side::Ahead,
    }
}
