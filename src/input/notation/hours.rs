//! Opening hours: `mon-fri 17:30-22:00; sat,sun 08:00-12:00 13:00-16:00; 2026-03-10 closed; 2026-03-11 19:00-21:00`.
//!
//! Items are separated by `;`: days of the week or a date, then stretches or `closed`. Without days, every day is meant.

use super::{WrongSpan, span, weekdays};
use crate::site::{Hours, Weekdays};
use jiff::civil::Date;

/// Why a text is not opening hours.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum WrongHours {
    /// Not understood: the part.
    Part(String),
    /// A date that does not exist.
    Date(String),
}

/// What an item is about.
enum When {
    Weekly(Weekdays),
    Dated(Date),
}

/// Reads opening hours.
pub(crate) fn hours(text: &str) -> Result<Hours, WrongHours> {
    let mut all = Hours::default();
    for item in text.split(';').map(str::trim).filter(|i| !i.is_empty()) {
        add(item, &mut all)?;
    }
    if all.weekly.is_empty() && all.dated.is_empty() {
        return Err(WrongHours::Part(text.trim().to_string()));
    }
    Ok(all)
}

fn add(item: &str, all: &mut Hours) -> Result<(), WrongHours> {
    // Stretches start at the first word that looks like a time; everything before is days.
    let is_time = |w: &str| w.contains(':') || w.eq_ignore_ascii_case("closed");
    let start = item
        .split_whitespace()
        .find(|w| is_time(w))
        .and_then(|w| item.find(w));
    let (when, stretches) = item.split_at(start.unwrap_or(item.len()));
    let when = read_when(when.trim())?;
    let closed = stretches.trim().eq_ignore_ascii_case("closed");
    let mut spans = Vec::new();
    for word in stretches
        .split(|c: char| c.is_whitespace() || c == ',')
        .filter(|w| !w.is_empty() && !closed)
    {
        spans.push(span(word).map_err(|wrong| match wrong {
            WrongSpan::NotTimes(part) => WrongHours::Part(part),
            WrongSpan::NoLength => WrongHours::Part(word.to_string()),
        })?);
    }
    if spans.is_empty() && !closed {
        return Err(WrongHours::Part(item.to_string()));
    }
    match when {
        When::Weekly(days) => all.weekly.extend(spans.into_iter().map(|s| (days, s))),
        When::Dated(date) => all.dated.entry(date).or_default().extend(spans),
    }
    Ok(())
}

fn read_when(text: &str) -> Result<When, WrongHours> {
    if text.is_empty() {
        return Ok(When::Weekly(Weekdays::ALL));
    }
    if text.starts_with(|c: char| c.is_ascii_digit()) {
        return text
            .parse()
            .map(When::Dated)
            .map_err(|_| WrongHours::Date(text.to_string()));
    }
    weekdays(text).map(When::Weekly).map_err(WrongHours::Part)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Clock, Span};
    use jiff::civil::date;

    fn at(from: i64, to: i64) -> Span {
        Span::new(Clock::at(from, 0), Clock::at(to, 0))
    }

    #[test]
    fn weekly_and_dated_hours_read() {
        let read = hours("mon-fri 17:00-22:00; sat, sun 08:00-12:00 13:00-16:00; 2026-03-10 closed; 2026-03-11 19:00-21:00").unwrap();
        assert_eq!(read.weekly.len(), 3);
        assert_eq!(read.weekly[0], (Weekdays::WORKING, at(17, 22)));
        assert_eq!(read.weekly[2].1, at(13, 16));
        assert_eq!(read.dated[&date(2026, 3, 10)], []);
        assert_eq!(read.dated[&date(2026, 3, 11)], [at(19, 21)]);
        assert_eq!(
            hours("18:00-26:00").unwrap().weekly,
            [(Weekdays::ALL, at(18, 26))]
        );
    }

    #[test]
    fn what_is_not_hours_is_named() {
        let part = |p: &str| Err(WrongHours::Part(p.to_string()));
        assert_eq!(hours("mon-fri"), part("mon-fri"));
        assert_eq!(hours("fry 10:00-12:00"), part("fry"));
        assert_eq!(hours("mon 10:00-1200"), part("1200"));
        assert_eq!(hours(""), part(""));
        assert_eq!(hours(";;"), part(";;"));
        assert_eq!(
            hours("2026-02-30 10:00-12:00"),
            Err(WrongHours::Date("2026-02-30".into()))
        );
    }
}
