//! Dates, times and durations of iCalendar (RFC 5545, section 3.3).

use super::lines::Line;
use super::zone::{Zone, Zones};
use crate::input::log::Log;
use jiff::civil::{Date, DateTime, date};
use jiff::tz::TimeZone;
use jiff::{Span, Timestamp, ToSpan};

/// A moment as a calendar says it.
#[derive(Clone, Debug)]
pub(super) struct When {
    /// On the wall of its zone; midnight for a whole day.
    pub(super) wall: DateTime,
    /// Which zone; none is wherever one happens to be.
    pub(super) zone: Option<Zone>,
    /// Whether it is a day rather than a time.
    pub(super) is_day: bool,
}

impl When {
    /// The moment in `home`, on the wall. A floating time is the same everywhere.
    pub(super) fn at(&self, home: Option<&TimeZone>) -> Option<DateTime> {
        in_zone(self.wall, self.zone.as_ref().filter(|_| !self.is_day), home)
    }

    /// The same with another time on the wall.
    pub(super) fn with(&self, wall: DateTime) -> When {
        When {
            wall,
            ..self.clone()
        }
    }
}

fn in_zone(wall: DateTime, zone: Option<&Zone>, home: Option<&TimeZone>) -> Option<DateTime> {
    match (zone, home) {
        (Some(zone), Some(home)) => {
            let moment: Timestamp = zone.moment(wall)?;
            Some(moment.to_zoned_datetime(home.clone()).datetime())
        }
        _ => Some(wall),
    }
}

/// The moments of a line: several where it holds a list. An error is told, and nothing comes out.
pub(super) fn moments(line: &Line, zones: &Zones, log: &Log) -> Option<Vec<When>> {
    let values = line
        .value
        .split(',')
        .map(|v| v.split('/').next().unwrap_or_default().trim());
    let read = |text: &str| {
        let when = moment(text, line, zones, log);
        if when.is_none() && log.errors() == 0 {
            let message = format!("`{text}` is neither a date nor a time");
            log.error(
                "I404",
                line.pos,
                message,
                "times are written like `20260310T174500Z`",
            );
        }
        when
    };
    values.filter(|v| !v.is_empty()).map(read).collect()
}

/// The moment of a line that has to hold one; without any, that is told.
pub(super) fn first_moment(line: &Line, zones: &Zones, log: &Log) -> Option<When> {
    let first = moments(line, zones, log)?.into_iter().next();
    if first.is_none() {
        let message = format!("`{}` has no time", line.name);
        let hint = "times are written like `20260310T174500Z`";
        log.error("I404", line.pos, message, hint);
    }
    first
}

fn moment(text: &str, line: &Line, zones: &Zones, log: &Log) -> Option<When> {
    if let Some(day) = day(text) {
        return Some(When {
            wall: day.to_datetime(jiff::civil::Time::midnight()),
            zone: None,
            is_day: true,
        });
    }
    let (text, utc) = text
        .strip_suffix(['Z', 'z'])
        .map_or((text, false), |t| (t, true));
    let wall = local(text)?;
    let zone = match line.param("TZID") {
        _ if utc => Some(Zone::Known(TimeZone::UTC)),
        Some(name) => Some(zones.find(name, line.pos, log)?),
        None => None,
    };
    Some(When {
        wall,
        zone,
        is_day: false,
    })
}

/// `20260310`
pub(super) fn day(text: &str) -> Option<Date> {
    if text.len() != 8 || !text.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    let number = |from: usize, to: usize| text[from..to].parse::<i16>().ok();
    let (year, month, day) = (number(0, 4)?, number(4, 6)?, number(6, 8)?);
    Date::new(year, i8::try_from(month).ok()?, i8::try_from(day).ok()?).ok()
}

/// `20260310T174500`, a time on the wall.
pub(super) fn local(text: &str) -> Option<DateTime> {
    let (left, right) = text.trim_end_matches(['Z', 'z']).split_once(['T', 't'])?;
    let day = day(left)?;
    if right.len() != 6 || !right.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    let number = |from: usize| right[from..from + 2].parse::<i8>().ok();
    // A leap second is the second before it.
    DateTime::new(
        day.year(),
        day.month(),
        day.day(),
        number(0)?,
        number(2)?,
        number(4)?.min(59),
        0,
    )
    .ok()
}

/// `PT1H30M`, `P1D`, `P2W`: a nominal length, days before hours.
pub(super) fn duration(text: &str) -> Option<Span> {
    let (negative, body) = match text.trim().strip_prefix('-') {
        Some(rest) => (true, rest),
        None => (false, text.trim().trim_start_matches('+')),
    };
    let mut span = Span::new();
    let mut digits = String::new();
    for c in body.strip_prefix('P')?.chars() {
        if c.is_ascii_digit() && digits.len() < 6 {
            digits.push(c);
            continue;
        }
        if c == 'T' && digits.is_empty() {
            continue;
        }
        let n: i64 = std::mem::take(&mut digits).parse().ok()?;
        span = match c {
            'W' => span.try_days(i64::from(span.get_days()) + 7 * n).ok()?,
            'D' => span.try_days(i64::from(span.get_days()) + n).ok()?,
            'H' => span.try_hours(n).ok()?,
            'M' => span.try_minutes(n).ok()?,
            'S' => span.try_seconds(n).ok()?,
            _ => return None,
        };
    }
    (digits.is_empty() && !negative).then_some(span)
}

/// A time on the wall as seconds from 1970, as if that wall were in Greenwich: for arithmetic alone.
pub(super) fn seconds(wall: DateTime) -> i64 {
    let days = (wall.date() - date(1970, 1, 1)).get_days();
    let time = wall.time();
    i64::from(days) * 86_400
        + i64::from(time.hour()) * 3600
        + i64::from(time.minute()) * 60
        + i64::from(time.second())
}

/// The time on the wall that is so many seconds after another.
pub(super) fn later(wall: DateTime, by: i64) -> Option<DateTime> {
    wall.checked_add(by.seconds()).ok()
}
