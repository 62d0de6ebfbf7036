//! Quantities that must not be mixed up: whole seconds, times of the night, metres, square metres, litres.
//!
//! Inside the program everything is metric and every time is a whole second. US units are turned into
//! these at the border, in [`crate::input`], and nowhere else.

use serde::{Deserialize, Serialize};
use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Neg, Sub};

/// Metres in one foot (exact, international foot).
pub const METRES_PER_FOOT: f64 = 0.3048;
/// Square metres in one square foot (exact).
pub const SQUARE_METRES_PER_SQUARE_FOOT: f64 = METRES_PER_FOOT * METRES_PER_FOOT;
/// Litres in one US gallon (exact).
pub const LITRES_PER_GALLON: f64 = 3.785_411_784;

/// A length of time in whole seconds; may be negative only as a difference.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(transparent)]
pub struct Seconds(pub i64);

impl Seconds {
    /// No time at all.
    pub const ZERO: Seconds = Seconds(0);

    /// This many whole minutes.
    pub const fn minutes(minutes: i64) -> Seconds {
        Seconds(minutes * 60)
    }

    /// In minutes, for people.
    pub fn as_minutes(self) -> f64 {
        self.0 as f64 / 60.0
    }

    /// The time that `minutes` of planned work take at `pace` (1.0 is the standard's own pace, 1.1 is a tenth faster):
    /// `ceil(60 × minutes / pace)`.
    ///
    /// A millionth of a second is forgiven, so that a site written in square feet gets the same answer as in metres.
    pub fn of_work(minutes: f64, pace: f64) -> Seconds {
        Seconds((60.0 * minutes / pace - 1e-6).ceil().max(0.0) as i64)
    }
}

impl fmt::Display for Seconds {
    /// Hours and minutes, rounded to the nearest minute: `7 h 05`, `12 min`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let minutes = (self.0.unsigned_abs() + 30) / 60;
        let sign = if self.0 < 0 && minutes > 0 { "-" } else { "" };
        match (minutes / 60, minutes % 60) {
            (0, m) => write!(f, "{sign}{m} min"),
            (h, m) => write!(f, "{sign}{h} h {m:02}"),
        }
    }
}

impl Add for Seconds {
    type Output = Seconds;
    fn add(self, other: Seconds) -> Seconds {
        Seconds(self.0 + other.0)
    }
}

impl Sub for Seconds {
    type Output = Seconds;
    fn sub(self, other: Seconds) -> Seconds {
        Seconds(self.0 - other.0)
    }
}

impl Neg for Seconds {
    type Output = Seconds;
    fn neg(self) -> Seconds {
        Seconds(-self.0)
    }
}

impl Mul<i64> for Seconds {
    type Output = Seconds;
    fn mul(self, times: i64) -> Seconds {
        Seconds(self.0 * times)
    }
}

impl AddAssign for Seconds {
    fn add_assign(&mut self, other: Seconds) {
        self.0 += other.0;
    }
}

impl Sum for Seconds {
    fn sum<I: Iterator<Item = Seconds>>(times: I) -> Seconds {
        Seconds(times.map(|t| t.0).sum())
    }
}

/// A moment: elapsed seconds since local midnight at the start of the plan's date. Past 86,400 it is the next day.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(transparent)]
pub struct Clock(pub i64);

impl Clock {
    /// The moment `hour:minute:00`; hours may run past 24.
    pub const fn at(hour: i64, minute: i64) -> Clock {
        Clock(hour * 3600 + minute * 60)
    }

    /// `18:05`, rounded down to the minute; hours run on past 24.
    pub fn hour_minute(self) -> String {
        format!(
            "{:02}:{:02}",
            self.0.div_euclid(3600),
            self.0.rem_euclid(3600) / 60
        )
    }
}

impl fmt::Display for Clock {
    /// `HH:MM:SS`; hours run on past 24, so that times of one night sort and subtract.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (h, rest) = (self.0.div_euclid(3600), self.0.rem_euclid(3600));
        write!(f, "{h:02}:{:02}:{:02}", rest / 60, rest % 60)
    }
}

/// Why a text is not a time of day.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{0}` is not a time like `18:05` or `18:05:30`")]
pub struct NotAClock(pub String);

impl std::str::FromStr for Clock {
    type Err = NotAClock;

    /// Reads `18:05` or `18:05:30`; hours from 0 to 47.
    fn from_str(text: &str) -> Result<Clock, NotAClock> {
        let wrong = || NotAClock(text.to_string());
        let mut parts = text.trim().split(':');
        let mut next = |most: i64| -> Option<i64> {
            let part = parts.next()?;
            let digits = (1..=2).contains(&part.len()) && part.bytes().all(|b| b.is_ascii_digit());
            part.parse().ok().filter(|n| digits && *n <= most)
        };
        let hour = next(47).ok_or_else(wrong)?;
        let minute = next(59).ok_or_else(wrong)?;
        let second = if text.matches(':').count() == 2 {
            next(59).ok_or_else(wrong)?
        } else {
            0
        };
        if text.matches(':').count() > 2 {
            return Err(wrong());
        }
        Ok(Clock(hour * 3600 + minute * 60 + second))
    }
}

impl Add<Seconds> for Clock {
    type Output = Clock;
    fn add(self, time: Seconds) -> Clock {
        Clock(self.0 + time.0)
    }
}

impl Sub<Seconds> for Clock {
    type Output = Clock;
    fn sub(self, time: Seconds) -> Clock {
        Clock(self.0 - time.0)
    }
}

impl Sub for Clock {
    type Output = Seconds;
    fn sub(self, earlier: Clock) -> Seconds {
        Seconds(self.0 - earlier.0)
    }
}

/// A half-open stretch of time, `from` included, `to` not.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
pub struct Span {
    /// First moment inside.
    pub from: Clock,
    /// First moment after.
    pub to: Clock,
}

impl Span {
    /// From one moment to another; empty if they are the wrong way round.
    pub const fn new(from: Clock, to: Clock) -> Span {
        Span { from, to }
    }

    /// How long it is; never negative.
    pub fn length(self) -> Seconds {
        Seconds((self.to.0 - self.from.0).max(0))
    }

    /// Whether nothing lies inside.
    pub fn is_empty(self) -> bool {
        self.to <= self.from
    }

    /// Whether all of `other` lies inside.
    pub fn holds(self, other: Span) -> bool {
        self.from <= other.from && other.to <= self.to
    }

    /// Whether some moment lies in both.
    pub fn meets(self, other: Span) -> bool {
        self.from < other.to && other.from < self.to && !self.is_empty() && !other.is_empty()
    }

    /// The moments in both.
    #[must_use]
    pub fn common(self, other: Span) -> Span {
        Span {
            from: self.from.max(other.from),
            to: self.to.min(other.to),
        }
    }
}

impl fmt::Display for Span {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}-{}", self.from.hour_minute(), self.to.hour_minute())
    }
}

macro_rules! measure {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(pub f64);
    };
}

measure!(
    /// A length in metres.
    Metres
);
measure!(
    /// An area in square metres.
    SquareMetres
);
measure!(
    /// A volume in litres.
    Litres
);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn work_seconds_are_rounded_up_once() {
        assert_eq!(Seconds::of_work(5.0, 1.0), Seconds(300));
        assert_eq!(Seconds::of_work(1.0, 0.9), Seconds(67));
        assert_eq!(Seconds::of_work(0.0, 1.0), Seconds(0));
    }

    #[test]
    fn clocks_read_and_print_and_run_past_midnight() {
        assert_eq!("18:05".parse(), Ok(Clock::at(18, 5)));
        assert_eq!("25:10:30".parse::<Clock>().unwrap().to_string(), "25:10:30");
        for wrong in [
            "", "18", "18:60", "48:00", "a:b", "1:2:3:4", "-1:00", "18:5:x",
        ] {
            assert!(wrong.parse::<Clock>().is_err(), "{wrong}");
        }
    }

    #[test]
    fn spans_are_half_open() {
        let a = Span::new(Clock(0), Clock(10));
        assert!(!a.meets(Span::new(Clock(10), Clock(20))));
        assert!(a.meets(Span::new(Clock(9), Clock(20))));
        assert!(a.holds(a) && !a.holds(Span::new(Clock(5), Clock(11))));
    }

    #[test]
    fn durations_read_like_a_person_says_them() {
        assert_eq!(Seconds(25_500).to_string(), "7 h 05");
        assert_eq!(Seconds(700).to_string(), "12 min");
        assert_eq!(Seconds(i64::MIN).to_string(), "-2562047788015215 h 30");
    }
}
