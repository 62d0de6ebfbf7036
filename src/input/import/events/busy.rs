//! When rooms are in use: events with their recurrences and exceptions (RFC 5545), and availability (RFC 7953), as times on the site's wall.

use super::component::Component;
use super::lines::Line;
use super::recur::{Effort, Recurrence};
use super::time::{When, duration, first_moment, later, moments, seconds};
use super::zone::{Zone, Zones};
use crate::input::limits::EVENT_TIMES;
use crate::input::log::{Log, Pos};
use jiff::Timestamp;
use jiff::civil::{Date, DateTime};
use jiff::tz::TimeZone;
use std::collections::BTreeSet;

/// A room in use.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Busy {
    /// Where, as the calendar says it.
    pub(super) location: String,
    pub(super) from: DateTime,
    pub(super) to: DateTime,
    pub(super) pos: Pos,
}

/// What is looked for in calendars.
pub(super) struct Reader<'a> {
    pub(super) zones: &'a Zones,
    /// The zone of the site; without one, times are taken as they stand on the wall.
    pub(super) home: Option<&'a TimeZone>,
    pub(super) from: Date,
    /// Exclusive.
    pub(super) until: Date,
    pub(super) log: &'a Log,
    /// How much of recurrences was looked at.
    pub(super) effort: &'a Effort,
}

/// What was found.
#[derive(Debug, Default)]
pub(super) struct Found {
    pub(super) busy: Vec<Busy>,
    /// Events that take no room: cancelled, or marked as free time.
    pub(super) free: usize,
}

impl Reader<'_> {
    /// Everything in these calendars; `None` if the log says what is wrong.
    pub(super) fn read(&self, calendars: &[Component]) -> Option<Found> {
        let mut found = Found::default();
        // Events and availability may also stand outside of a calendar, as in the examples of the standards.
        let parts = || {
            calendars.iter().flat_map(|c| {
                if c.name == "VCALENDAR" {
                    c.inner.iter()
                } else {
                    std::slice::from_ref(c).iter()
                }
            })
        };
        let overridden = self.overridden(parts())?;
        for part in parts() {
            match part.name.as_str() {
                "VEVENT" => self.event(part, &overridden, &mut found)?,
                "VAVAILABILITY" => self.availability(part, &mut found)?,
                _ => {}
            }
            if found.busy.len() > EVENT_TIMES {
                let message = format!("more than {EVENT_TIMES} events within the days asked for");
                self.log
                    .error("I407", part.pos, message, "ask for fewer days");
                return None;
            }
        }
        Some(found)
    }

    /// Single times of recurring events that other events stand in for: of which event, and when.
    fn overridden<'c>(
        &self,
        parts: impl Iterator<Item = &'c Component>,
    ) -> Option<BTreeSet<(String, DateTime)>> {
        let mut all = BTreeSet::new();
        for part in parts.filter(|p| p.name == "VEVENT") {
            let Some(line) = part.line("RECURRENCE-ID") else {
                continue;
            };
            if line.param("RANGE").is_some() {
                let message = "a change of this and all later times of an event is taken as a change of this one alone";
                self.log.warning(
                    "I907",
                    line.pos,
                    message.to_string(),
                    "look at its later times",
                );
            }
            let at = moments(line, self.zones, self.log)?;
            all.extend(
                at.iter()
                    .filter_map(|w| Some((uid(part), w.at(self.home)?))),
            );
        }
        Some(all)
    }

    fn event(
        &self,
        event: &Component,
        overridden: &BTreeSet<(String, DateTime)>,
        found: &mut Found,
    ) -> Option<()> {
        let says = |name: &str, word: &str| {
            event
                .line(name)
                .is_some_and(|l| l.value.eq_ignore_ascii_case(word))
        };
        let location = event.line("LOCATION").map(Line::text).unwrap_or_default();
        if says("STATUS", "CANCELLED") || says("TRANSP", "TRANSPARENT") {
            found.free += 1;
            return Some(());
        }
        let length = self.length(event)?;
        let is_single = event.line("RECURRENCE-ID").is_some();
        let uid = uid(event);
        for start in self.starts(event)? {
            let Some(at) = start.at(self.home) else {
                continue;
            };
            if !is_single && overridden.contains(&(uid.clone(), at)) {
                continue;
            }
            self.put(&location, &start, length, event.pos, found);
        }
        Some(())
    }

    /// The times an event begins within the horizon, exceptions left out; `None` if the log says what is wrong.
    fn starts(&self, event: &Component) -> Option<Vec<When>> {
        let Some(line) = event.line("DTSTART") else {
            return Some(Vec::new());
        };
        let first = first_moment(line, self.zones, self.log)?;
        let recurrence = Recurrence::of(event, self.log)?;
        // A zone may be a day away; and days are compared below.
        let until = self.until.to_datetime(jiff::civil::Time::midnight());
        let until = later(until, 2 * 86_400).unwrap_or(until);
        let zone = first.zone.clone();
        let until_wall = move |utc: DateTime| on_wall_of(utc, zone.as_ref());
        let mut walls = if recurrence.is_empty() {
            vec![first.wall]
        } else {
            recurrence.times(first.wall, until, &until_wall, self.effort, self.log)?
        };
        walls.sort_unstable();
        walls.dedup();
        let mut starts: Vec<When> = walls.into_iter().map(|wall| first.with(wall)).collect();
        for line in event.all("RDATE") {
            starts.extend(moments(line, self.zones, self.log)?);
        }
        let mut left_out = Vec::new();
        for line in event.all("EXDATE") {
            left_out.extend(moments(line, self.zones, self.log)?);
        }
        let moments: BTreeSet<_> = left_out.iter().map(|out| out.at(self.home)).collect();
        let days = left_out.iter().filter(|out| out.is_day);
        let days: BTreeSet<Date> = days.map(|out| out.wall.date()).collect();
        let is_out = |start: &When| {
            days.contains(&start.wall.date()) || moments.contains(&start.at(self.home))
        };
        starts.retain(|start| !is_out(start));
        Some(starts)
    }

    /// How long an event takes, in seconds on the wall; `None` if the log says what is wrong.
    fn length(&self, event: &Component) -> Option<i64> {
        let Some(line) = event.line("DTSTART") else {
            return Some(0);
        };
        let start = first_moment(line, self.zones, self.log)?;
        let seconds_of = |end: DateTime| seconds(end) - start.at(self.home).map_or(0, seconds);
        let length = if let Some(line) = event.line("DTEND") {
            let end = first_moment(line, self.zones, self.log)?;
            end.at(self.home).map_or(0, seconds_of)
        } else if let Some(line) = event.line("DURATION") {
            let end = duration(&line.value).and_then(|span| start.wall.checked_add(span).ok());
            let Some(end) = end else {
                let message = format!(
                    "`{}` is no duration, or leads beyond all calendars",
                    line.value
                );
                self.log.error(
                    "I404",
                    line.pos,
                    message,
                    "durations are written like `PT1H30M`",
                );
                return None;
            };
            seconds(end) - seconds(start.wall)
        } else if start.is_day {
            86_400
        } else {
            0
        };
        if length < 0 {
            self.log.error(
                "I404",
                line.pos,
                "an event that ends before it begins".to_string(),
                "",
            );
            return None;
        }
        Some(length)
    }

    fn put(&self, location: &str, start: &When, length: i64, pos: Pos, found: &mut Found) {
        let Some(from) = start.at(self.home) else {
            return;
        };
        // The end is told on the wall of its own zone, so that a day of 23 hours is a day.
        let to = later(start.wall, length).and_then(|end| start.with(end).at(self.home));
        let Some(to) = to.filter(|to| *to > from) else {
            return;
        };
        if to.date() >= self.from && from.date() < self.until {
            found.busy.push(Busy {
                location: location.to_string(),
                from,
                to,
                pos,
            });
        }
    }

    /// Within an availability, every time that is not available is in use.
    fn availability(&self, component: &Component, found: &mut Found) -> Option<()> {
        let bound = |name: &str| match component.line(name) {
            Some(line) => Some(
                moments(line, self.zones, self.log)?
                    .first()
                    .and_then(|w| w.at(self.home)),
            ),
            None => Some(None),
        };
        let first = self.from.to_datetime(jiff::civil::Time::midnight());
        let last = self.until.to_datetime(jiff::civil::Time::midnight());
        let from = bound("DTSTART")?.map_or(first, |from| from.max(first));
        let to = bound("DTEND")?.map_or(last, |to| to.min(last));
        let outer = component.line("LOCATION").map(Line::text);
        let mut by_place: std::collections::BTreeMap<String, Vec<(DateTime, DateTime)>> =
            std::collections::BTreeMap::new();
        if let Some(place) = &outer {
            by_place.entry(place.clone()).or_default();
        }
        for part in component.inner.iter().filter(|c| c.name == "AVAILABLE") {
            let place = part
                .line("LOCATION")
                .map(Line::text)
                .or_else(|| outer.clone())
                .unwrap_or_default();
            let mut own = Found::default();
            self.event(part, &BTreeSet::new(), &mut own)?;
            by_place
                .entry(place)
                .or_default()
                .extend(own.busy.iter().map(|b| (b.from, b.to)));
        }
        for (location, mut available) in by_place {
            available.sort_unstable();
            let mut at = from;
            for (begins, ends) in available.into_iter().chain([(to, to)]) {
                if at < begins.min(to) {
                    found.busy.push(Busy {
                        location: location.clone(),
                        from: at,
                        to: begins.min(to),
                        pos: component.pos,
                    });
                }
                at = at.max(ends);
            }
        }
        Some(())
    }
}

fn uid(event: &Component) -> String {
    event
        .line("UID")
        .map(|l| l.value.clone())
        .unwrap_or_default()
}

/// Universal time on the wall of a zone.
fn on_wall_of(utc: DateTime, zone: Option<&Zone>) -> DateTime {
    let moment = utc.to_zoned_datetime(TimeZone::UTC).map(|z| z.timestamp());
    match (zone, moment) {
        (Some(Zone::Known(zone)), Ok(moment)) => moment.to_zoned_datetime(zone.clone()).datetime(),
        (Some(told @ Zone::Told(_)), Ok(moment)) => {
            // The offset that holds about then is that of the wall itself.
            let there = told
                .moment(utc)
                .map_or(0, |t| moment_seconds(t) - moment_seconds(moment));
            later(utc, -there).unwrap_or(utc)
        }
        _ => utc,
    }
}

fn moment_seconds(moment: Timestamp) -> i64 {
    moment.as_second()
}
