//! Days of the week: `daily`, `mon-fri`, `sat,sun`, `mon-wed,fri`; full names work too, and a range may wrap over Sunday.

use crate::site::Weekdays;
use jiff::civil::Weekday;

const NAMES: [(&str, Weekday); 7] = [
    ("monday", Weekday::Monday),
    ("tuesday", Weekday::Tuesday),
    ("wednesday", Weekday::Wednesday),
    ("thursday", Weekday::Thursday),
    ("friday", Weekday::Friday),
    ("saturday", Weekday::Saturday),
    ("sunday", Weekday::Sunday),
];

/// Reads days; the error is the part that is not understood.
pub(crate) fn weekdays(text: &str) -> Result<Weekdays, String> {
    let mut all = Weekdays::default();
    for part in text.split(',').map(str::trim) {
        all = all.or(days(part).ok_or_else(|| part.to_string())?);
    }
    Ok(all)
}

fn days(part: &str) -> Option<Weekdays> {
    if part.eq_ignore_ascii_case("daily") {
        return Some(Weekdays::ALL);
    }
    let Some((from, to)) = part.split_once('-') else {
        return day(part).map(|d| Weekdays::of([d]));
    };
    let (from, to) = (day(from)?, day(to)?);
    let length = (to.to_monday_zero_offset() - from.to_monday_zero_offset()).rem_euclid(7);
    let names = (0..=length).filter_map(|i| {
        Weekday::from_monday_zero_offset((from.to_monday_zero_offset() + i) % 7).ok()
    });
    Some(Weekdays::of(names))
}

/// A day by its name or at least the first three letters of it.
fn day(text: &str) -> Option<Weekday> {
    let text = text.trim().to_lowercase();
    let named = NAMES
        .iter()
        .find(|(name, _)| text.len() >= 3 && name.starts_with(&text));
    named.map(|(_, day)| *day)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_read_in_lists_and_ranges() {
        assert_eq!(weekdays("mon-fri"), Ok(Weekdays::WORKING));
        assert_eq!(weekdays("daily"), Ok(Weekdays::ALL));
        assert_eq!(
            weekdays("Sat, sunday"),
            Ok(Weekdays::of([Weekday::Saturday, Weekday::Sunday]))
        );
        assert_eq!(
            weekdays("sat-mon"),
            Ok(Weekdays::of([
                Weekday::Saturday,
                Weekday::Sunday,
                Weekday::Monday
            ]))
        );
    }

    #[test]
    fn what_is_not_a_day_is_named() {
        for (text, wrong) in [
            ("mon,fry", "fry"),
            ("m", "m"),
            ("", ""),
            ("mon-", "mon-"),
            ("mon--fri", "mon--fri"),
        ] {
            assert_eq!(weekdays(text), Err(wrong.to_string()));
        }
    }
}
