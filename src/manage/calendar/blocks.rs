//! The blocks of days that turns of a task fall into, always cut at the same places.

use crate::site::Frequency;
use crate::work::{WEEKS_OF_A_TERM, week_number};
use jiff::civil::Date;

/// Which block a date belongs to, for a frequency; `None` for what is not periodic.
pub(super) fn block_of(frequency: &Frequency, date: Date) -> Option<u64> {
    match frequency {
        Frequency::Daily | Frequency::On(_) => None,
        Frequency::PerWeek(_) => Some(week_number(date)),
        Frequency::EveryWeeks(weeks) => Some(week_number(date) / u64::from(*weeks).max(1)),
        Frequency::Termly => Some(week_number(date) / u64::from(WEEKS_OF_A_TERM)),
        Frequency::Monthly => Some(date.year() as u64 * 12 + date.month() as u64),
    }
}

/// The usual number of working days from one turn to the next, with so many working days in a week.
pub(super) fn interval(frequency: &Frequency, working_days: f64) -> f64 {
    match frequency {
        Frequency::Daily | Frequency::On(_) => 1.0,
        Frequency::PerWeek(times) => working_days / f64::from(*times).clamp(1.0, working_days),
        Frequency::EveryWeeks(weeks) => working_days * f64::from(*weeks).max(1.0),
        // A mean month of a year of 365.25 days.
        Frequency::Monthly => working_days * 365.25 / 12.0 / 7.0,
        Frequency::Termly => working_days * f64::from(WEEKS_OF_A_TERM),
    }
}

/// At least and at most so many working days between two turns.
pub(super) fn gap(interval: f64, tolerance: f64) -> (i64, i64) {
    let least = (interval * (1.0 - tolerance) + 1e-9).floor() as i64;
    let most = (interval * (1.0 + tolerance) - 1e-9).ceil() as i64;
    (least.max(1), most.max(1))
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn blocks_are_weeks_stretches_of_weeks_and_months() {
        let monday = date(2026, 3, 9);
        let same = |f: &Frequency, a, b| block_of(f, a) == block_of(f, b);
        let weekly = Frequency::PerWeek(1);
        assert!(same(&weekly, monday, date(2026, 3, 15)));
        assert!(!same(&weekly, monday, date(2026, 3, 16)));
        let monthly = Frequency::Monthly;
        assert!(same(&monthly, date(2026, 3, 1), date(2026, 3, 31)));
        assert!(!same(&monthly, date(2026, 3, 31), date(2026, 4, 1)));
        assert_eq!(block_of(&Frequency::Daily, monday), None);
    }

    #[test]
    fn a_weekly_task_may_slip_by_two_working_days_at_thirty_percent() {
        assert_eq!(gap(interval(&Frequency::PerWeek(1), 5.0), 0.3), (3, 7));
        assert_eq!(gap(interval(&Frequency::PerWeek(5), 5.0), 0.3), (1, 2));
        assert_eq!(gap(interval(&Frequency::EveryWeeks(2), 5.0), 0.3), (7, 13));
    }
}
