//! How work that waits is raised: one place for the rule.
//!
//! What waited comes a step up, from appearance to expected: tonight is not yet another night on which only the eye would miss it. What
//! has waited longer than its frequency allows comes before everything but health. Health itself is never pushed aside by waiting.

use crate::site::{Called, Frequency, Priority};

/// How many days work may wait before it becomes priority. Assumptions: about half of the time between two turns.
pub fn patience(frequency: &Frequency) -> i32 {
    match frequency {
        Frequency::Daily => 1,
        Frequency::On(_) | Frequency::PerWeek(2..) => 2,
        Frequency::PerWeek(_) | Frequency::EveryWeeks(0..=1) => 4,
        Frequency::EveryWeeks(2..) => 7,
        Frequency::Monthly => 14,
        Frequency::Termly => 28,
    }
}

/// What a task of a frequency is worth that has been due for so many days.
pub(super) fn raised(frequency: &Frequency, days: i32) -> Called {
    Called {
        priority: (days > 0).then_some(Priority::Expected),
        overdue: days > patience(frequency),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn waiting_raises_work_and_waiting_too_long_makes_it_priority() {
        let weekly = Frequency::EveryWeeks(1);
        assert_eq!(raised(&weekly, 0), Called::default());
        let expected = Some(Priority::Expected);
        for (days, overdue) in [(1, false), (4, false), (5, true)] {
            let called = Called {
                priority: expected,
                overdue,
            };
            assert_eq!(raised(&weekly, days), called, "{days} days");
        }
        assert!(!raised(&Frequency::Daily, 1).overdue && raised(&Frequency::Daily, 2).overdue);
    }

    #[test]
    fn what_comes_round_seldom_may_wait_for_longer() {
        let seldom = [
            (Frequency::PerWeek(3), 2),
            (Frequency::PerWeek(1), 4),
            (Frequency::EveryWeeks(2), 7),
            (Frequency::Monthly, 14),
            (Frequency::Termly, 28),
        ];
        for (frequency, days) in seldom {
            let overdue = |days| raised(&frequency, days).overdue;
            assert!(!overdue(days) && overdue(days + 1), "{frequency:?}");
        }
    }
}
