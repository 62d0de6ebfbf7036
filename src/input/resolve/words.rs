//! Texts in one of the notations: dates, zones, days, hours, stretches.

use crate::input::at::At;
use crate::input::log::Log;
use crate::input::notation::{self, WrongHours, WrongSpan};
use crate::site::{Hours, Weekdays};
use crate::units::{Clock, Span};
use jiff::civil::Date;
use jiff::tz::TimeZone;

const HOW_HOURS: &str =
    "write hours like `mon-fri 17:30-22:00; sat 08:00-12:00; 2026-03-10 closed`";
const HOW_SPAN: &str = "write a stretch like `17:00-01:00`";
const HOW_CLOCK: &str = "write a time like `18:05`, from 00:00 to 47:59";

/// A date.
pub(crate) fn date(log: &Log, given: &At<String>) -> Option<Date> {
    let read = given.value.trim().parse().ok();
    if read.is_none() && given.sound {
        wrong_date(log, given, &given.value);
    }
    read
}

/// The name of a time zone that is known.
pub(crate) fn time_zone(log: &Log, given: &At<String>) -> String {
    let name = given.value.trim();
    if given.sound && TimeZone::get(name).is_err() {
        let known: Vec<String> = jiff::tz::db().available().map(|n| n.to_string()).collect();
        let near = log.near(name, &known);
        let hint = if near.is_empty() {
            "give an IANA name such as `Europe/London`".to_string()
        } else {
            near
        };
        log.error(
            "E215",
            given.pos,
            format!("there is no time zone `{name}`"),
            hint,
        );
    }
    name.to_string()
}

/// Days of the week, or all of them if they cannot be read.
pub(crate) fn days(log: &Log, given: Option<&At<String>>, default: Weekdays) -> Weekdays {
    let Some(given) = given else { return default };
    notation::weekdays(&given.value).unwrap_or_else(|part| {
        if given.sound {
            let message = format!("`{part}` is no day of the week");
            log.error(
                "E210",
                given.pos,
                message,
                "write days like `mon-fri`, `mon,thu` or `daily`",
            );
        }
        default
    })
}

/// Opening hours, or none if they cannot be read.
pub(crate) fn hours(log: &Log, given: Option<&At<String>>) -> Option<Hours> {
    let given = given?;
    match notation::hours(&given.value) {
        Ok(hours) => Some(hours),
        Err(WrongHours::Date(date)) => {
            wrong_date(log, given, &date);
            None
        }
        Err(WrongHours::Part(part)) => {
            if given.sound {
                log.error(
                    "E209",
                    given.pos,
                    format!("`{part}` is not understood as hours"),
                    HOW_HOURS,
                );
            }
            None
        }
    }
}

/// A stretch of a day, with the code for one of no sensible length; `None` if it cannot be read.
pub(crate) fn span(log: &Log, given: &At<String>, no_length: &'static str) -> Option<Span> {
    let wrong = match notation::span(&given.value) {
        Ok(span) => return Some(span),
        Err(wrong) => wrong,
    };
    match wrong {
        _ if !given.sound => {}
        WrongSpan::NotTimes(part) if !given.value.contains('-') => {
            log.error(
                "E208",
                given.pos,
                format!("`{part}` is not two times"),
                HOW_SPAN,
            );
        }
        WrongSpan::NotTimes(part) => log.error(
            "E208",
            given.pos,
            format!("`{part}` is not a time of day"),
            HOW_CLOCK,
        ),
        WrongSpan::NoLength => {
            let message = format!("`{}` has no length, or is longer than a day", given.value);
            log.error(no_length, given.pos, message, HOW_SPAN);
        }
    }
    None
}

/// A time of day; `None` if it cannot be read.
pub(crate) fn clock(log: &Log, given: &At<String>) -> Option<Clock> {
    let read = given.value.trim().parse().ok();
    if read.is_none() && given.sound {
        let message = format!("`{}` is not a time of day", given.value);
        log.error("E208", given.pos, message, HOW_CLOCK);
    }
    read
}

fn wrong_date(log: &Log, given: &At<String>, date: &str) {
    let message = format!("`{date}` is not a date");
    log.error(
        "E211",
        given.pos,
        message,
        "write an existing date like `2026-03-10`",
    );
}
