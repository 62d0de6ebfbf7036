//! The means of one walker: how fast on the level and on stairs, and which doors open at what cost.

use super::Walker;
use crate::site::{Calendar, DayHours, Door, Hours, Site, Speeds, Weekdays};
use crate::units::{Metres, Seconds};
use std::collections::BTreeMap;

/// Costs from here on (30 years) are no way: they come from no real building, and sums of them might overflow.
const TOO_LONG: u64 = 1_000_000_000_000;

/// Milliseconds for a length at a speed in metres per second, to the nearest; `None` if that is no walk.
pub(super) fn walking(length: Metres, speed: f64) -> Option<u64> {
    let millis = (1000.0 * length.0 / speed).round();
    (speed > 0.0 && (0.0..TOO_LONG as f64).contains(&millis)).then_some(millis as u64)
}

/// Milliseconds of a time spent at a door or a lift.
pub(super) fn waiting(time: Seconds) -> Option<u64> {
    let millis = u64::try_from(time.0.max(0)).ok()?.checked_mul(1000)?;
    (millis < TOO_LONG).then_some(millis)
}

/// A walker on one date of a site.
pub(super) struct Means<'a> {
    speeds: Speeds,
    walker: &'a Walker,
    calendar: &'a Calendar,
}

impl<'a> Means<'a> {
    /// At this site, on the calendar's date.
    pub(super) fn of(site: &Site, walker: &'a Walker, calendar: &'a Calendar) -> Means<'a> {
        Means {
            speeds: site.policy.speeds,
            walker,
            calendar,
        }
    }

    /// Metres per second along halls, ramps and links.
    pub(super) fn level(&self) -> f64 {
        if self.walker.cart.is_some() {
            self.speeds.cart
        } else {
            self.speeds.foot
        }
    }

    /// Metres per second along the slope of stairs; `None` if this walker takes none.
    pub(super) fn on_stairs(&self, down: bool) -> Option<f64> {
        let takes_stairs = self.walker.stairs && self.walker.cart.is_none();
        takes_stairs.then_some(if down {
            self.speeds.stairs_down
        } else {
            self.speeds.stairs_up
        })
    }

    /// Milliseconds to pass a door one way; `None` if it is too narrow, locked or shut for this walker.
    /// No door is an open doorway: it costs nothing and stops nobody.
    pub(super) fn pass(&self, door: Option<&Door>) -> Option<u64> {
        let Some(door) = door else { return Some(0) };
        let opens = self.fits(door) && self.unlocks(door) && self.finds_open(door);
        opens.then(|| waiting(door.extra))?
    }

    fn fits(&self, door: &Door) -> bool {
        match (self.walker.cart, door.width) {
            (Some(cart), Some(clear)) => cart <= clear,
            _ => true,
        }
    }

    fn unlocks(&self, door: &Door) -> bool {
        door.needs
            .iter()
            .all(|key| self.walker.access.contains(key))
    }

    /// Hours bind only those without a key: who unlocks a door that needs one holds it.
    fn finds_open(&self, door: &Door) -> bool {
        match door.hours {
            Some(hours) if door.needs.is_empty() => self.shift_lies_in(hours),
            _ => true,
        }
    }

    fn shift_lies_in(&self, hours: DayHours) -> bool {
        let every_day = Hours {
            weekly: vec![(Weekdays::ALL, hours)],
            dated: BTreeMap::new(),
        };
        let windows = self.calendar.windows(&every_day);
        windows.iter().any(|window| window.holds(self.walker.shift))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::site::AccessId;
    use crate::units::{Clock, Span};
    use jiff::civil::date;

    fn passes(door: &Door, walker: &Walker) -> Option<u64> {
        let calendar = Calendar::new(date(2026, 3, 10), None);
        Means::of(&Site::default(), walker, &calendar).pass(Some(door))
    }

    fn evening() -> Walker {
        let shift = Span::new(Clock::at(18, 0), Clock::at(26, 0));
        Walker {
            cart: None,
            stairs: true,
            access: vec![AccessId(1)],
            shift,
        }
    }

    #[test]
    fn a_door_must_be_as_wide_as_the_cart() {
        let door = Door {
            width: Some(Metres(0.81)),
            extra: Seconds(4),
            ..Door::default()
        };
        assert_eq!(passes(&door, &evening()), Some(4000));
        assert_eq!(
            passes(
                &door,
                &Walker {
                    cart: Some(Metres(0.81)),
                    ..evening()
                }
            ),
            Some(4000)
        );
        assert_eq!(
            passes(
                &door,
                &Walker {
                    cart: Some(Metres(0.82)),
                    ..evening()
                }
            ),
            None
        );
    }

    #[test]
    fn every_key_is_needed() {
        let door = |needs| Door {
            needs,
            ..Door::default()
        };
        assert_eq!(passes(&door(vec![AccessId(1)]), &evening()), Some(0));
        assert_eq!(
            passes(&door(vec![AccessId(1), AccessId(2)]), &evening()),
            None
        );
    }

    #[test]
    fn hours_must_cover_the_whole_shift_unless_a_key_is_held() {
        let until = |hour| Some(Span::new(Clock::at(7, 0), Clock::at(hour, 0)));
        let door = |hour, needs| Door {
            hours: until(hour),
            needs,
            ..Door::default()
        };
        assert_eq!(passes(&door(25, vec![]), &evening()), None);
        assert_eq!(passes(&door(26, vec![]), &evening()), Some(0));
        assert_eq!(passes(&door(25, vec![AccessId(1)]), &evening()), Some(0));
        assert_eq!(passes(&door(26, vec![AccessId(2)]), &evening()), None);
    }

    #[test]
    fn a_door_open_round_the_clock_is_open_past_midnight() {
        let all_day = Some(Span::new(Clock::at(0, 0), Clock::at(24, 0)));
        assert_eq!(
            passes(
                &Door {
                    hours: all_day,
                    ..Door::default()
                },
                &evening()
            ),
            Some(0)
        );
    }
}
