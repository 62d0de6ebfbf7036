//! Durations, shares, lengths, areas and speeds in the reader's measures and with their decimal sign.

use super::{Language, Words};
use crate::units::{METRES_PER_FOOT, Metres, SQUARE_METRES_PER_SQUARE_FOOT, Seconds, SquareMetres};

/// `45 s`, `2 min`, `1 min 20 s`: short times to the second, from ten minutes on to the nearest minute. The same in every language.
pub(in crate::report) fn short(time: Seconds) -> String {
    match (time.0 / 60, time.0 % 60) {
        (10.., _) => time.to_string(),
        (0, s) => format!("{s} s"),
        (m, 0) => format!("{m} min"),
        (m, s) => format!("{m} min {s:02} s"),
    }
}

impl Words {
    /// A number with so many decimals.
    pub(in crate::report) fn number(&self, number: f64, decimals: usize) -> String {
        let plain = format!("{number:.decimals$}");
        // Where people write `5:30 p. m.` they write decimals with a point too.
        if self.language == Language::Spanish && !self.us_units {
            plain.replace('.', ",")
        } else {
            plain
        }
    }

    /// `74.9 %`; a dash where there is nothing to be a share of.
    pub(in crate::report) fn percent(&self, share: f64) -> String {
        if share.is_finite() {
            format!("{} %", self.number(share * 100.0, 1))
        } else {
            "-".into()
        }
    }

    /// Whole minutes, to the nearest.
    pub(in crate::report) fn minutes(&self, time: Seconds) -> String {
        self.number(time.as_minutes(), 0)
    }

    /// `18 m` or `59 ft`, whole; `None` for what rounds to nothing.
    pub(in crate::report) fn length(&self, length: Metres) -> Option<String> {
        let (length, unit) = if self.us_units {
            (length.0 / METRES_PER_FOOT, "ft")
        } else {
            (length.0, "m")
        };
        let whole = length.round() as i64;
        (whole > 0).then(|| format!("{whole} {unit}"))
    }

    /// `18 m²` or `194 sq ft`.
    pub(in crate::report) fn area(&self, area: SquareMetres) -> String {
        if self.us_units {
            format!("{:.0} sq ft", area.0 / SQUARE_METRES_PER_SQUARE_FOOT)
        } else {
            format!("{:.0} m²", area.0)
        }
    }

    /// `1.07 m/s` or `3.51 ft/s`.
    pub(in crate::report) fn speed(&self, metres_per_second: f64) -> String {
        if self.us_units {
            let feet = metres_per_second / METRES_PER_FOOT;
            format!("{} ft/s", self.number(feet, 2))
        } else {
            format!("{} m/s", self.number(metres_per_second, 2))
        }
    }

    /// What there is one or several of: `1 room`, `3 rooms`, by a message that counts.
    pub(in crate::report) fn count(&self, id: &str, number: usize) -> String {
        self.tell(id, &[("count", number.into())])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn short_times_and_shares_read_as_said() {
        let words = Words::terminal();
        let short = [45, 120, 80, 4019].map(|s| short(Seconds(s)));
        assert_eq!(short, ["45 s", "2 min", "1 min 20 s", "1 h 07"]);
        let shares = [0.7489, f64::NAN].map(|s| words.percent(s));
        assert_eq!(shares, ["74.9 %", "-"]);
    }

    /// A foot is 0.3048 m by definition (international yard and pound agreement, 1959).
    #[test]
    fn us_sites_read_in_feet_and_spanish_ones_with_a_comma() {
        let us = Words::with_units(Language::English, true);
        assert_eq!(us.length(Metres(18.0)).as_deref(), Some("59 ft"));
        assert_eq!(us.area(SquareMetres(18.0)), "194 sq ft");
        assert_eq!(us.speed(1.07), "3.51 ft/s");
        let spanish = Words::with_units(Language::Spanish, false);
        assert_eq!(spanish.percent(0.749), "74,9 %");
        assert_eq!(spanish.length(Metres(0.3)), None);
        assert_eq!(
            Words::with_units(Language::Spanish, true).percent(0.749),
            "74.9 %"
        );
    }
}
