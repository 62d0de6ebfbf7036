//! Weekly patterns, dated exceptions, and what they mean on one date in seconds since its midnight.

use crate::units::{Clock, Seconds, Span};
use jiff::ToSpan;
use jiff::civil::{Date, Weekday};
use jiff::tz::TimeZone;
use std::collections::BTreeMap;

/// A set of days of the week.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Weekdays(u8);

impl Weekdays {
    /// Every day.
    pub const ALL: Weekdays = Weekdays(0b111_1111);
    /// Monday to Friday.
    pub const WORKING: Weekdays = Weekdays(0b001_1111);

    /// Only the days named.
    pub fn of(days: impl IntoIterator<Item = Weekday>) -> Weekdays {
        Weekdays(
            days.into_iter()
                .fold(0, |set, day| set | (1 << day.to_monday_zero_offset())),
        )
    }

    /// Whether `day` is in the set.
    pub fn contains(self, day: Weekday) -> bool {
        self.0 & (1 << day.to_monday_zero_offset()) != 0
    }

    /// Days in either set.
    #[must_use]
    pub fn or(self, other: Weekdays) -> Weekdays {
        Weekdays(self.0 | other.0)
    }

    /// The days, Monday first.
    pub fn iter(self) -> impl Iterator<Item = Weekday> {
        (0..7)
            .filter(move |i| self.0 & (1 << i) != 0)
            .filter_map(|i| Weekday::from_monday_zero_offset(i).ok())
    }
}

/// Wall-clock hours of one day; `to` may lie past 24:00.
pub type DayHours = Span;

/// When something is open: hours for each weekday, and dates that differ.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Hours {
    /// Wall-clock hours, each for a set of weekdays.
    pub weekly: Vec<(Weekdays, DayHours)>,
    /// Dates on which other hours hold instead; an empty list means closed all day.
    pub dated: BTreeMap<Date, Vec<DayHours>>,
}

impl Hours {
    fn on(&self, date: Date) -> Vec<DayHours> {
        if let Some(hours) = self.dated.get(&date) {
            return hours.clone();
        }
        let today = self
            .weekly
            .iter()
            .filter(|(days, _)| days.contains(date.weekday()));
        today.map(|(_, hours)| *hours).collect()
    }
}

/// One date of a site: turns wall-clock hours into elapsed seconds since that date's local midnight.
#[derive(Clone, Debug)]
pub struct Calendar {
    date: Date,
    zone: TimeZone,
    /// Whether clocks stay as they are for [`AROUND`] days before and after.
    steady: bool,
}

/// Days on either side of the date in which nearly all hours lie that matter on it.
const AROUND: i64 = 3;

impl Calendar {
    /// The calendar of `date`. An unknown zone name counts as none; [`crate::input`] refuses it earlier.
    pub fn new(date: Date, time_zone: Option<&str>) -> Calendar {
        let zone = time_zone
            .and_then(|name| TimeZone::get(name).ok())
            .unwrap_or(TimeZone::UTC);
        let steady = is_steady(date, &zone);
        Calendar { date, zone, steady }
    }

    /// The plan's date.
    pub fn date(&self) -> Date {
        self.date
    }

    /// A wall-clock time on the plan's date (hours may run past 24) as elapsed time.
    pub fn elapsed(&self, wall: Clock) -> Clock {
        self.elapsed_on(self.date, wall)
    }

    /// A stretch of wall-clock time on the plan's date as elapsed time.
    pub fn elapsed_span(&self, wall: Span) -> Span {
        Span::new(self.elapsed(wall.from), self.elapsed(wall.to))
    }

    /// What a clock on the wall shows at an elapsed time, as seconds since the same midnight: hours past 24 are the next day's.
    pub fn wall(&self, moment: Clock) -> Clock {
        let Some(midnight) = self.midnight() else {
            return moment;
        };
        let Ok(then) = midnight.checked_add(moment.0.seconds()) else {
            return moment;
        };
        let days = (then.date() - self.date).get_days();
        let time = then.time();
        let seconds = i64::from(time.hour()) * 3600
            + i64::from(time.minute()) * 60
            + i64::from(time.second());
        Clock(i64::from(days) * 86_400 + seconds)
    }

    /// Merged, sorted windows that touch the plan's date or the day after, as elapsed time. Hours of the day before
    /// that run past midnight are included.
    pub fn windows(&self, hours: &Hours) -> Vec<Span> {
        let mut spans = Vec::new();
        for offset in -1..=1 {
            let Ok(day) = self.date.checked_add(offset.days()) else {
                continue;
            };
            spans.extend(
                hours
                    .on(day)
                    .iter()
                    .map(|h| Span::new(self.elapsed_on(day, h.from), self.elapsed_on(day, h.to))),
            );
        }
        merge(spans)
    }

    fn midnight(&self) -> Option<jiff::ZonedDateTime> {
        self.date.to_zoned_datetime(self.zone.clone()).ok()
    }

    fn elapsed_on(&self, day: Date, wall: Clock) -> Clock {
        let (extra_days, time) = (wall.0.div_euclid(86_400), wall.0.rem_euclid(86_400));
        let plain = Clock((i64::from((day - self.date).get_days()) + extra_days) * 86_400 + time);
        if self.steady && plain.0.abs() < AROUND * 86_400 {
            return plain;
        }
        let at = || {
            let day = day.checked_add(extra_days.days()).ok()?;
            let moment = day
                .to_datetime(jiff::civil::Time::midnight())
                .checked_add(time.seconds())
                .ok()?;
            let zoned = moment.to_zoned_datetime(self.zone.clone()).ok()?;
            Some(Clock(
                zoned.timestamp().as_second() - self.midnight()?.timestamp().as_second(),
            ))
        };
        at().unwrap_or(plain)
    }
}

/// Whether no clock is changed for [`AROUND`] days before a date and after.
fn is_steady(date: Date, zone: &TimeZone) -> bool {
    let moment = |days: i64| {
        let day = date.checked_add(days.days()).ok()?;
        Some(day.to_zoned_datetime(zone.clone()).ok()?.timestamp())
    };
    let (Some(from), Some(to)) = (moment(-AROUND - 1), moment(AROUND + 1)) else {
        return false;
    };
    let next = zone.following(from).next();
    next.is_none_or(|change| change.timestamp() > to)
}

/// Sorts windows and joins those that touch; drops empty ones.
fn merge(mut spans: Vec<Span>) -> Vec<Span> {
    spans.retain(|s| s.length() > Seconds::ZERO);
    spans.sort();
    let mut merged: Vec<Span> = Vec::with_capacity(spans.len());
    for span in spans {
        match merged.last_mut() {
            Some(last) if span.from <= last.to => last.to = last.to.max(span.to),
            _ => merged.push(span),
        }
    }
    merged
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn nightly(from: i64, to: i64) -> Hours {
        Hours {
            weekly: vec![(
                Weekdays::ALL,
                Span::new(Clock::at(from, 0), Clock::at(to, 0)),
            )],
            dated: BTreeMap::new(),
        }
    }

    #[test]
    fn windows_past_midnight_join_the_next_days() {
        let calendar = Calendar::new(date(2026, 3, 10), None);
        let windows = calendar.windows(&nightly(22, 26));
        assert_eq!(windows[0], Span::new(Clock::at(-2, 0), Clock::at(2, 0)));
        assert_eq!(windows[1], Span::new(Clock::at(22, 0), Clock::at(26, 0)));
    }

    #[test]
    fn a_dated_exception_replaces_the_weekly_hours() {
        let mut hours = nightly(18, 22);
        hours.dated.insert(date(2026, 3, 10), vec![]);
        let windows = Calendar::new(date(2026, 3, 10), None).windows(&hours);
        assert!(
            windows
                .iter()
                .all(|w| !w.meets(Span::new(Clock::at(0, 0), Clock::at(24, 0))))
        );
    }

    /// What jiff makes of each moment, in a year in which clocks change in one zone and not in the other.
    #[test]
    fn elapsed_times_are_those_of_the_zone_on_every_day() {
        for name in ["Europe/London", "Asia/Tokyo"] {
            let zone = TimeZone::get(name).unwrap();
            let seconds = |day: Date, hour: i64| {
                let wall = day.to_datetime(jiff::civil::Time::midnight());
                let wall = wall.checked_add(hour.hours()).unwrap();
                wall.to_zoned_datetime(zone.clone())
                    .unwrap()
                    .timestamp()
                    .as_second()
            };
            for offset in 0..365 {
                let day = date(2026, 1, 1).checked_add(offset.days()).unwrap();
                let calendar = Calendar::new(day, Some(name));
                for hour in [-100, -30, -1, 0, 5, 23, 27, 50, 71, 100] {
                    let expected = seconds(day, hour) - seconds(day, 0);
                    assert_eq!(
                        calendar.elapsed(Clock::at(hour, 0)),
                        Clock(expected),
                        "{name} {day} {hour}"
                    );
                }
            }
        }
    }

    #[test]
    fn the_night_clocks_go_back_is_an_hour_longer() {
        // Europe/London, 25 October 2026: 02:00 summer time becomes 01:00.
        let calendar = Calendar::new(date(2026, 10, 24), Some("Europe/London"));
        assert_eq!(calendar.elapsed(Clock::at(30, 0)), Clock::at(31, 0));
        assert_eq!(calendar.wall(Clock::at(31, 0)), Clock::at(30, 0));
    }
}
