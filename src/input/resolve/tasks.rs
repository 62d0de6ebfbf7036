//! Tasks: their minutes per unit in metric, their method, frequency and waste.

use super::Names;
use super::standard::Merged;
use super::values::{Measure, minutes, minutes_as_seconds, text, texts, within};
use crate::input::at::At;
use crate::input::log::Log;
use crate::input::notation;
use crate::input::raw::{RawHow, RawPriority, RawTask};
use crate::site::{Fixture, Frequency, MachineId, Method, Priority, Rate, RoomKind, Task};
use crate::units::SQUARE_METRES_PER_SQUARE_FOOT;

/// Waste of one task, per unit.
const WASTE: Measure = Measure::volume("waste_l", "waste_gal", 0.0, 10_000.0);
/// Fastest work by area, in square metres or feet an hour: a ride-on machine on an empty field stays below it.
const FASTEST: f64 = 1_000_000.0;

/// All kinds with their tasks.
pub(super) fn kinds(merged: &[Merged<'_>], names: &Names, log: &Log) -> Vec<RoomKind> {
    let kind = |m: &Merged<'_>| RoomKind {
        id: m.id.value.trim().to_string(),
        restroom: m.restroom,
        reopen: m
            .reopen_min
            .map(|min| minutes_as_seconds(log, "reopen_min", min)),
        tasks: m
            .in_order()
            .into_iter()
            .map(|t| task(t, names, log))
            .collect(),
    };
    merged.iter().map(kind).collect()
}

fn task(raw: &RawTask, names: &Names, log: &Log) -> Task {
    let (rate, factor) = rate(raw.per.as_ref(), log);
    let (by_area, min) = given_minutes(raw, log);
    let (waste_rate, waste_factor) = self::rate(raw.waste_per.as_ref(), log);
    let waste = WASTE
        .read(log, raw.waste_l.as_ref(), raw.waste_gal.as_ref())
        .unwrap_or(0.0);
    one_person(raw.people.as_ref(), log);
    Task {
        name: raw.task.value.trim().to_string(),
        // A rate by area excludes `per`, so that the factor is 1 then.
        minutes: min * factor,
        wipe_minutes: raw
            .wipe_min
            .as_ref()
            .map_or(0.0, |w| minutes(log, "wipe_min", w))
            * factor,
        rate: if by_area { Rate::SquareMetre } else { rate },
        method: method(raw, log),
        frequency: frequency(raw.when.as_ref(), log),
        priority: raw.priority.map(priority).unwrap_or_default(),
        skills: names.skills.find_all(&raw.skills, log),
        machine: raw
            .machine
            .as_ref()
            .and_then(|m| names.machines.find(m, log))
            .map(MachineId::from),
        cart: raw.cart.unwrap_or(false),
        heavy: raw.heavy.unwrap_or(false),
        waste_litres: waste * waste_factor,
        waste_rate,
        supplies: texts(log, "supply", &raw.supplies),
        source: raw
            .source
            .as_ref()
            .map(|s| text(log, "source", s))
            .unwrap_or_default(),
    }
}

/// Minutes as given, and whether they are per square metre because a rate by area was given.
fn given_minutes(raw: &RawTask, log: &Log) -> (bool, f64) {
    let rates = [
        raw.m2_per_h.as_ref().map(|r| ("m2_per_h", r, 1.0)),
        raw.sqft_per_h
            .as_ref()
            .map(|r| ("sqft_per_h", r, SQUARE_METRES_PER_SQUARE_FOOT)),
    ];
    let given: Vec<_> = rates.into_iter().flatten().collect();
    let name = &raw.task.value;
    if given.len() == 2 {
        let message = "`m2_per_h` and `sqft_per_h` are both given".to_string();
        log.error("E205", given[1].1.pos, message, "keep the one you measured");
    }
    match (given.first(), &raw.min) {
        (Some((_, rate, _)), Some(_)) => {
            let message = format!("task `{name}` has both `min` and a rate by area");
            log.error("E503", rate.pos, message, "keep one of them");
            (false, 0.0)
        }
        (Some((_, rate, _)), None) if raw.per.is_some() => {
            let message = format!("task `{name}` has both `per` and a rate by area");
            log.error(
                "E503",
                rate.pos,
                message,
                "leave `per` out: the rate is by area",
            );
            (false, 0.0)
        }
        (Some((key, rate, area)), None) => {
            (true, 60.0 / (within(log, key, rate, 0.1, FASTEST) * area))
        }
        (None, Some(min)) => (false, minutes(log, "min", min)),
        (None, None) => {
            if raw.task.sound {
                let message = format!("task `{name}` has no minutes");
                log.error(
                    "E501",
                    raw.task.pos,
                    message,
                    "give `min` (and `per`), or `m2_per_h` or `sqft_per_h`",
                );
            }
            (false, 0.0)
        }
    }
}

/// What something is multiplied by, and by what to turn a figure per written unit into one per metric unit.
fn rate(given: Option<&At<String>>, log: &Log) -> (Rate, f64) {
    let Some(given) = given else {
        return (Rate::Visit, 1.0);
    };
    match given.value.trim() {
        "visit" => (Rate::Visit, 1.0),
        "m2" => (Rate::SquareMetre, 1.0),
        "sqft" => (Rate::SquareMetre, 1.0 / SQUARE_METRES_PER_SQUARE_FOOT),
        "occupant" | "occupants" => (Rate::Occupant, 1.0),
        word => {
            let fixture = fixture(word);
            if fixture.is_none() {
                unknown_unit(given, log);
            }
            (fixture.map_or(Rate::Visit, Rate::Per), 1.0)
        }
    }
}

/// A fixture by its word, in the plural or the singular.
fn fixture(word: &str) -> Option<Fixture> {
    let singular = |plural: &str| {
        plural
            .strip_suffix("es")
            .filter(|s| s.ends_with("ch"))
            .or(plural.strip_suffix('s'))
            .map(str::to_string)
    };
    let found = Fixture::ALL
        .iter()
        .find(|(_, plural)| *plural == word || singular(plural).as_deref() == Some(word));
    found.map(|(fixture, _)| *fixture)
}

fn unknown_unit(given: &At<String>, log: &Log) {
    if given.sound {
        let fixtures = Fixture::ALL.iter().map(|(_, word)| *word);
        let known: Vec<&str> = ["visit", "m2", "sqft", "occupant"]
            .into_iter()
            .chain(fixtures)
            .collect();
        let near = log.near(&given.value, &known);
        let hint = if near.is_empty() {
            format!("one of {}", known.join(", "))
        } else {
            near
        };
        log.error(
            "E214",
            given.pos,
            format!("nothing is counted in `{}`", given.value),
            hint,
        );
    }
}

fn method(raw: &RawTask, log: &Log) -> Method {
    let how = raw.how.as_ref().map(|h| h.value).unwrap_or_default();
    needed_of_method(raw, how, log);
    misplaced(raw, how, log);
    let seconds = |name: &str, given: Option<&At<f64>>| {
        given
            .map(|given| minutes_as_seconds(log, name, given))
            .unwrap_or_default()
    };
    match how {
        RawHow::Open => Method::Open,
        RawHow::Spray => Method::Spray {
            dwell: seconds("dwell_min", raw.dwell_min.as_ref()),
        },
        RawHow::Dry => Method::Dry,
        RawHow::Wipe => Method::Wipe,
        RawHow::Mop => Method::Mop {
            drying: seconds("drying_min", raw.drying_min.as_ref()),
        },
    }
}

/// Sprayed work has a dwell and wiping, mopped work has a drying time.
fn needed_of_method(raw: &RawTask, how: RawHow, log: &Log) {
    match how {
        RawHow::Spray => {
            missing(
                raw,
                raw.dwell_min.is_none(),
                "dwell_min",
                "E502",
                "the minutes on the product's label",
                log,
            );
            missing(
                raw,
                raw.wipe_min.is_none(),
                "wipe_min",
                "E502",
                "the minutes of wiping; `min` is for spraying",
                log,
            );
        }
        RawHow::Mop => missing(
            raw,
            raw.drying_min.is_none(),
            "drying_min",
            "E505",
            "the minutes until the floor is dry",
            log,
        ),
        _ => {}
    }
}

/// What belongs to another method means nothing here.
fn misplaced(raw: &RawTask, how: RawHow, log: &Log) {
    let keys = [
        ("dwell_min", raw.dwell_min.as_ref(), RawHow::Spray),
        ("wipe_min", raw.wipe_min.as_ref(), RawHow::Spray),
        ("drying_min", raw.drying_min.as_ref(), RawHow::Mop),
    ];
    for (key, given, _) in keys.iter().filter(|(_, _, needs)| *needs != how) {
        if let Some(given) = given {
            let message = format!("`{key}` means nothing for task `{}`", raw.task.value);
            log.error(
                "E506",
                given.pos,
                message,
                "leave it out, or say `how: spray` or `how: mop`",
            );
        }
    }
}

fn missing(raw: &RawTask, is_missing: bool, key: &str, code: &'static str, what: &str, log: &Log) {
    if is_missing && raw.task.sound {
        log.error(
            code,
            raw.task.pos,
            format!("task `{}` has no `{key}`", raw.task.value),
            format!("add `{key}`: {what}"),
        );
    }
}

fn frequency(given: Option<&At<String>>, log: &Log) -> Frequency {
    let Some(given) = given else {
        return Frequency::Daily;
    };
    notation::frequency(&given.value).unwrap_or_else(|| {
        if given.sound {
            let hint =
                "write `daily`, `mon,thu`, `3 per week`, `every 2 weeks`, `monthly` or `termly`";
            log.error(
                "E213",
                given.pos,
                format!("`{}` is not a frequency", given.value),
                hint,
            );
        }
        Frequency::Daily
    })
}

/// The priority a word stands for.
pub(super) fn priority(word: RawPriority) -> Priority {
    match word {
        RawPriority::Health => Priority::Health,
        RawPriority::Expected => Priority::Expected,
        RawPriority::Appearance => Priority::Appearance,
    }
}

/// Work for several people at once is not planned for.
pub(super) fn one_person(people: Option<&At<u32>>, log: &Log) {
    if let Some(people) = people.filter(|p| p.sound && p.value != 1) {
        let message = format!(
            "work for {} people at once is not planned for yet",
            people.value
        );
        log.error(
            "E607",
            people.pos,
            message,
            "make it work of one person each, or plan it by hand",
        );
    }
}
