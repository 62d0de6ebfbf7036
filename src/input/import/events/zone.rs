//! Time zones of a calendar: by their IANA names, or by the rules that the calendar itself brings (VTIMEZONE; RFC 5545, section 3.6.5).

use super::component::Component;
use super::recur::{Effort, Recurrence};
use super::time::local;
use crate::input::limits;
use crate::input::log::{Log, Pos};
use jiff::Timestamp;
use jiff::civil::DateTime;
use jiff::tz::{Offset, TimeZone};
use std::collections::BTreeMap;

/// A zone that wall-clock times may be in.
#[derive(Clone, Debug)]
pub(super) enum Zone {
    /// Known by its name.
    Known(TimeZone),
    /// Known by the changes its calendar tells: from each wall-clock time on, the offset in seconds that holds; sorted.
    Told(Vec<(DateTime, i32)>),
}

impl Zone {
    /// The moment of a wall-clock time. One that clocks skip is the one after the gap, one that they show twice is the first.
    pub(super) fn moment(&self, wall: DateTime) -> Option<Timestamp> {
        match self {
            Zone::Known(zone) => zone
                .to_ambiguous_zoned_datetime(wall)
                .compatible()
                .ok()
                .map(|z| z.timestamp()),
            Zone::Told(changes) => {
                let now = changes
                    .iter()
                    .rev()
                    .find(|(from, _)| *from <= wall)
                    .or(changes.first())?;
                Offset::from_seconds(now.1).ok()?.to_timestamp(wall).ok()
            }
        }
    }
}

/// The zones of a calendar.
#[derive(Debug, Default)]
pub(super) struct Zones {
    told: BTreeMap<String, Zone>,
}

impl Zones {
    /// Those that these components describe.
    pub(super) fn of(calendars: &[Component], effort: &Effort, log: &Log) -> Zones {
        let mut zones = Zones::default();
        let described = calendars
            .iter()
            .flat_map(|c| c.inner.iter().chain(std::iter::once(c)));
        for component in described.filter(|c| c.name == "VTIMEZONE") {
            let Some(id) = component.line("TZID").map(|l| l.value.clone()) else {
                continue;
            };
            let known = component
                .line("X-LIC-LOCATION")
                .and_then(|l| by_name(&l.value));
            let zone = known.or_else(|| told(component, effort, log));
            if let Some(zone) = zone {
                zones.told.insert(id, zone);
            }
        }
        zones
    }

    /// The zone with this name; `None` if nothing tells it, which is an error at `pos`.
    pub(super) fn find(&self, name: &str, pos: Pos, log: &Log) -> Option<Zone> {
        let zone = by_name(name).or_else(|| self.told.get(name).cloned());
        if zone.is_none() {
            let message =
                format!("the time zone `{name}` is neither known nor described in the calendar");
            log.error(
                "I406",
                pos,
                message,
                "export the calendar with its time zones, or with a name such as `Europe/London`",
            );
        }
        zone
    }
}

/// By the IANA name, also behind a maker's prefix: `/example.org/2011/Europe/London`.
fn by_name(name: &str) -> Option<Zone> {
    let parts: Vec<&str> = name.trim_matches('/').split('/').collect();
    let mut tails = (0..parts.len()).map(|at| parts[at..].join("/"));
    let found = tails.find_map(|tail| TimeZone::get(&tail).ok());
    found.map(Zone::Known)
}

/// The changes that STANDARD and DAYLIGHT tell.
fn told(zone: &Component, effort: &Effort, log: &Log) -> Option<Zone> {
    let mut changes = Vec::new();
    let rules = zone
        .inner
        .iter()
        .filter(|c| matches!(c.name.as_str(), "STANDARD" | "DAYLIGHT"));
    for rule in rules {
        let offset = rule.line("TZOFFSETTO").and_then(|l| offset(&l.value))?;
        let start = local(&rule.line("DTSTART")?.value)?;
        let recurrence = Recurrence::of(rule, log)?;
        changes.extend(
            recurrence
                .first_times(start, limits::ZONE_CHANGES, effort, log)?
                .into_iter()
                .map(|at| (at, offset)),
        );
    }
    changes.sort_unstable();
    (!changes.is_empty()).then_some(Zone::Told(changes))
}

/// `+0100`, `-053015`: seconds.
fn offset(text: &str) -> Option<i32> {
    let (sign, digits) = match text.split_at_checked(1)? {
        ("-", rest) => (-1, rest),
        ("+", rest) => (1, rest),
        _ => return None,
    };
    let part = |from: usize| {
        digits
            .get(from..from + 2)
            .map_or(Some(0), |d| d.parse::<i32>().ok())
    };
    (digits.is_ascii() && digits.len() >= 4).then_some(())?;
    Some(sign * (part(0)? * 3600 + part(2)? * 60 + part(4)?))
}

#[cfg(test)]
mod tests {
    use super::super::component::components;
    use super::super::lines::lines;
    use super::*;
    use jiff::ToSpan;
    use jiff::civil::date;

    /// The description of New York's time in RFC 5545, section 3.6.5, under a name that nobody knows, against the database of zones: every
    /// seven hours of thirty years, but for the hours that clocks show twice or not at all.
    #[test]
    fn a_zone_told_by_a_calendar_is_the_one_that_is_known_by_name() {
        let text = include_str!("../../../../fixtures/import/events/america_new_york.ics");
        let log = Log::default();
        let calendars = components(0, lines(0, text, &log).unwrap(), &log).unwrap();
        let zones = Zones::of(&calendars, &Effort::default(), &log);
        let told = zones
            .find("custom_America/New_York", Pos::default(), &log)
            .unwrap();
        assert!(matches!(told, Zone::Told(_)));
        let known = TimeZone::get("America/New_York").unwrap();
        let mut wall = date(1990, 1, 1).at(0, 30, 0, 0);
        let mut compared = 0;
        while wall.year() < 2020 {
            if !known.to_ambiguous_zoned_datetime(wall).is_ambiguous() {
                let wanted = Zone::Known(known.clone()).moment(wall);
                assert_eq!(told.moment(wall), wanted, "{wall}");
                compared += 1;
            }
            wall = wall.checked_add(7.hours()).unwrap();
        }
        assert!(compared > 37_000);
    }
}
