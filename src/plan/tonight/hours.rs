//! Hours of one date with a stretch taken out.

use crate::site::{Calendar, Hours};
use crate::units::{Clock, Span};
use jiff::ToSpan;
use std::collections::BTreeMap;

/// What "always" means around one date: as far as any plan of that date reaches.
const ALWAYS: Span = Span::new(Clock::at(-24, 0), Clock::at(72, 0));

/// The same hours around a date, but not from and to two moments of it.
pub(super) fn without(hours: Option<&Hours>, calendar: &Calendar, shut: Span) -> Hours {
    let windows = hours.map_or_else(|| vec![ALWAYS], |h| calendar.windows(h));
    let pieces = windows.iter().flat_map(|w| {
        let (before, after) = (w.to.min(shut.from), w.from.max(shut.to));
        [Span::new(w.from, before), Span::new(after, w.to)]
    });
    let wall = |s: Span| Span::new(calendar.wall(s.from), calendar.wall(s.to));
    let pieces = pieces.filter(|s| !s.is_empty()).map(wall).collect();
    // Hours of the days around are in these pieces already.
    let around = [-1, 1].map(|days| calendar.date().checked_add(days.days()));
    let mut dated: BTreeMap<_, _> = around
        .into_iter()
        .flatten()
        .map(|d| (d, Vec::new()))
        .collect();
    dated.insert(calendar.date(), pieces);
    Hours {
        weekly: Vec::new(),
        dated,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::site::Weekdays;
    use jiff::civil::date;

    #[test]
    fn a_stretch_is_taken_out_of_the_hours_of_the_night() {
        let calendar = Calendar::new(date(2026, 3, 10), None);
        let open = Hours {
            weekly: vec![(Weekdays::ALL, Span::new(Clock::at(18, 0), Clock::at(26, 0)))],
            dated: BTreeMap::new(),
        };
        let shut = Span::new(Clock::at(19, 0), Clock::at(20, 30));
        let windows = calendar.windows(&without(Some(&open), &calendar, shut));
        // Two hours of the night before run on to two in the morning; those of the night after begin a day later.
        let expected = [
            (-6, 0, 2, 0),
            (18, 0, 19, 0),
            (20, 30, 26, 0),
            (42, 0, 50, 0),
        ];
        let expected = expected.map(|(h, m, g, n)| Span::new(Clock::at(h, m), Clock::at(g, n)));
        assert_eq!(windows, expected);
        let whole = calendar.windows(&without(None, &calendar, shut));
        assert_eq!(whole.len(), 2);
        assert!(whole.iter().all(|w| !w.meets(shut)));
    }
}
