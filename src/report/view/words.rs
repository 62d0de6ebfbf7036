//! Times, shares and lists in words, the same on the terminal and on paper.

use crate::site::{Calendar, PlaceId, Site};
use crate::units::{Clock, Seconds, Span};
use jiff::civil::Date;

/// A time as the clock on the wall shows it: `01:15` after midnight, not `25:15`.
pub(in crate::report) fn clock(calendar: &Calendar, moment: Clock) -> String {
    Clock(calendar.wall(moment).0.rem_euclid(86_400)).hour_minute()
}

/// `18:00-02:30`, as the clock on the wall shows it.
pub(in crate::report) fn clocks(calendar: &Calendar, span: Span) -> String {
    format!(
        "{}-{}",
        clock(calendar, span.from),
        clock(calendar, span.to)
    )
}

/// Days from the plan's date to the date on which this moment falls.
pub(in crate::report) fn day_of(calendar: &Calendar, moment: Clock) -> i64 {
    calendar.wall(moment).0.div_euclid(86_400)
}

/// `Tuesday 10 March 2026`.
pub(in crate::report) fn date(date: Date) -> String {
    date.strftime("%A %-d %B %Y").to_string()
}

/// `74.9 %`; a dash where there is nothing to be a share of.
pub(in crate::report) fn percent(share: f64) -> String {
    if share.is_finite() {
        format!("{:.1} %", share * 100.0)
    } else {
        "-".into()
    }
}

/// `45 s`, `2 min`, `1 min 20 s`: short times to the second.
pub(in crate::report) fn short(time: Seconds) -> String {
    match (time.0 / 60, time.0 % 60) {
        (0, s) => format!("{s} s"),
        (m, 0) => format!("{m} min"),
        (m, s) => format!("{m} min {s:02} s"),
    }
}

/// `1 room`, `3 rooms`.
pub(in crate::report) fn count(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

/// What people call a place, with its written id where that is something else: `Women's restroom (2-W)`.
pub(in crate::report) fn place(site: &Site, place: PlaceId) -> String {
    let place = &site.places[place.index()];
    match place.name.trim() {
        "" => place.id.clone(),
        name if name == place.id => place.id.clone(),
        name => format!("{name} ({})", place.id),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date as day;

    #[test]
    fn times_after_midnight_read_as_on_the_wall() {
        let calendar = Calendar::new(day(2026, 3, 10), None);
        assert_eq!(clock(&calendar, Clock::at(25, 15)), "01:15");
        assert_eq!(day_of(&calendar, Clock::at(25, 15)), 1);
        assert_eq!(day_of(&calendar, Clock::at(18, 0)), 0);
    }

    #[test]
    fn short_times_and_shares_and_dates_read_as_said() {
        assert_eq!(
            [short(Seconds(45)), short(Seconds(120)), short(Seconds(80))],
            ["45 s", "2 min", "1 min 20 s"]
        );
        assert_eq!([percent(0.7489), percent(f64::NAN)], ["74.9 %", "-"]);
        assert_eq!(date(day(2026, 3, 10)), "Tuesday 10 March 2026");
    }
}
