//! Times of day and dates as the reader's place writes them: 24 hours or 12, the day or the month first.

use super::{Language, Words};
use crate::site::Calendar;
use crate::units::{Clock, Span};
use jiff::civil::Date;

/// A day in seconds.
const DAY: i64 = 86_400;

impl Words {
    /// A time as the clock on the wall shows it: `01:15` or `1:15 am` after midnight, not `25:15`.
    pub(in crate::report) fn clock(&self, calendar: &Calendar, moment: Clock) -> String {
        let wall = Clock(calendar.wall(moment).0.rem_euclid(DAY));
        if !self.us_units {
            return wall.hour_minute();
        }
        let (hour, minute) = (wall.0 / 3600, wall.0 % 3600 / 60);
        let half = match (self.language, hour < 12) {
            (Language::English, true) => "am",
            (Language::English, false) => "pm",
            (Language::Spanish, true) => "a. m.",
            (Language::Spanish, false) => "p. m.",
        };
        format!("{}:{minute:02}\u{a0}{half}", (hour + 11) % 12 + 1)
    }

    /// `18:00-02:30`; one time where both look the same.
    pub(in crate::report) fn clocks(&self, calendar: &Calendar, span: Span) -> String {
        let [from, to] = [span.from, span.to].map(|moment| self.clock(calendar, moment));
        if from == to && span.length().0 < DAY {
            from
        } else {
            format!("{from}-{to}")
        }
    }

    /// `Tuesday 10 March 2026`.
    pub(in crate::report) fn date(&self, date: Date) -> String {
        let (day, year) = (date.day(), date.year());
        let about = [
            ("weekday", date.weekday().to_monday_zero_offset().into()),
            ("month", date.month().into()),
        ];
        let [weekday, month] = ["weekday", "month"].map(|id| self.tell(id, &about));
        match (self.language, self.us_units) {
            (Language::English, false) => format!("{weekday} {day} {month} {year}"),
            (Language::English, true) => format!("{weekday}, {month} {day}, {year}"),
            (Language::Spanish, _) => format!("{weekday}, {day} de {month} de {year}"),
        }
    }
}

/// Days from the plan's date to the date on which this moment falls.
pub(in crate::report) fn day_of(calendar: &Calendar, moment: Clock) -> i64 {
    calendar.wall(moment).0.div_euclid(DAY)
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date as day;

    /// The form of dates and of the clock in English and Spanish: common practice, no source.
    #[test]
    fn times_and_dates_read_as_each_place_writes_them() {
        let calendar = Calendar::new(day(2026, 3, 10), None);
        let said = |language, us| {
            let words = Words::with_units(language, us);
            let late = words.clock(&calendar, Clock::at(25, 15));
            [late, words.date(day(2026, 3, 10))]
        };
        let [english, spanish] = Language::ALL;
        assert_eq!(said(english, false), ["01:15", "Tuesday 10 March 2026"]);
        assert_eq!(
            said(english, true),
            ["1:15\u{a0}am", "Tuesday, March 10, 2026"]
        );
        assert_eq!(
            said(spanish, false),
            ["01:15", "martes, 10 de marzo de 2026"]
        );
        let noon = Words::with_units(spanish, true).clock(&calendar, Clock::at(12, 5));
        assert_eq!(noon, "12:05\u{a0}p. m.");
        assert_eq!(day_of(&calendar, Clock::at(25, 15)), 1);
    }

    #[test]
    fn a_stretch_within_one_minute_is_one_time() {
        let calendar = Calendar::new(day(2026, 3, 10), None);
        let words = Words::terminal();
        let span = |from, to| Span::new(Clock(from), Clock(to));
        assert_eq!(words.clocks(&calendar, span(64_800, 64_830)), "18:00");
        assert_eq!(words.clocks(&calendar, span(64_800, 64_860)), "18:00-18:01");
    }
}
