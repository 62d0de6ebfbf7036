//! A stretch of one day: `17:30-22:00`. An end at or before the start is on the next day: `22:00-02:00` is `22:00-26:00`.

use crate::units::{Clock, Span};

/// A day of wall-clock time.
const DAY: i64 = 86_400;

/// Why a text is not a stretch of a day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum WrongSpan {
    /// A part is not a time of day, or there are not two of them.
    NotTimes(String),
    /// It starts when it ends, or is longer than a day.
    NoLength,
}

/// Reads a stretch.
pub(crate) fn span(text: &str) -> Result<Span, WrongSpan> {
    let (from, to) = text
        .split_once('-')
        .ok_or_else(|| WrongSpan::NotTimes(text.trim().to_string()))?;
    let clock = |part: &str| {
        part.trim()
            .parse::<Clock>()
            .map_err(|e| WrongSpan::NotTimes(e.0.trim().to_string()))
    };
    let (from, mut to) = (clock(from)?, clock(to)?);
    if to < from && to.0 < DAY {
        to.0 += DAY;
    }
    if to <= from || to.0 - from.0 > DAY {
        return Err(WrongSpan::NoLength);
    }
    Ok(Span::new(from, to))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stretch_may_pass_midnight_either_way_of_writing() {
        let night = Ok(Span::new(Clock::at(22, 0), Clock::at(26, 0)));
        assert_eq!(span("22:00-02:00"), night);
        assert_eq!(span(" 22:00 - 26:00 "), night);
        assert_eq!(
            span("00:00-24:00"),
            Ok(Span::new(Clock::at(0, 0), Clock::at(24, 0)))
        );
    }

    #[test]
    fn nonsense_is_refused() {
        assert_eq!(span("17:00"), Err(WrongSpan::NotTimes("17:00".into())));
        assert_eq!(span("17:00-1x"), Err(WrongSpan::NotTimes("1x".into())));
        assert_eq!(span("17:00-17:00"), Err(WrongSpan::NoLength));
        assert_eq!(span("01:00-26:00"), Err(WrongSpan::NoLength));
        assert_eq!(span("30:00-29:00"), Err(WrongSpan::NoLength));
    }
}
