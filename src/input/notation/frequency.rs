//! How often a task is due: `daily`, `mon,thu`, `3 per week`, `weekly`, `every 2 weeks`, `monthly`, `termly`.

use super::weekdays;
use crate::site::Frequency;

/// Most weeks between two turns: two years. Anything longer belongs in somebody's diary.
const MOST_WEEKS: u32 = 104;

/// Reads a frequency; `None` if it is none.
pub(crate) fn frequency(text: &str) -> Option<Frequency> {
    let text = text.trim().to_lowercase();
    let words: Vec<&str> = text.split_whitespace().collect();
    match words.as_slice() {
        ["daily"] => Some(Frequency::Daily),
        ["weekly"] => Some(Frequency::PerWeek(1)),
        ["monthly"] => Some(Frequency::Monthly),
        ["termly"] => Some(Frequency::Termly),
        [times, "per", "week"] => number(times, 7).map(Frequency::PerWeek),
        ["every", weeks, "weeks" | "week"] => number(weeks, MOST_WEEKS).map(Frequency::EveryWeeks),
        _ => weekdays(&text).ok().map(Frequency::On),
    }
}

fn number(text: &str, most: u32) -> Option<u32> {
    text.parse().ok().filter(|n| (1..=most).contains(n))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::site::Weekdays;

    #[test]
    fn frequencies_read() {
        assert_eq!(frequency("Daily"), Some(Frequency::Daily));
        assert_eq!(frequency("3 per week"), Some(Frequency::PerWeek(3)));
        assert_eq!(frequency("every 2 weeks"), Some(Frequency::EveryWeeks(2)));
        assert_eq!(frequency("mon-fri"), Some(Frequency::On(Weekdays::WORKING)));
        for wrong in [
            "",
            "0 per week",
            "8 per week",
            "every 0 weeks",
            "hourly",
            "3 per day",
            "-1 per week",
        ] {
            assert_eq!(frequency(wrong), None, "{wrong}");
        }
    }
}
