//! The scale bar, and the arrow to north where the site says where that is.

use super::sheet::UNIT;
use crate::report::words::Words;
use crate::units::{METRES_PER_FOOT, Metres};
use maud::{Markup, html};

/// A bar of a round length, about a sixth of the sheet's width, from this point to the right.
pub(super) fn bar(words: &Words, us_units: bool, wide: f64, (x, y): (f64, f64)) -> Markup {
    let metres = round_length(wide / 6.0, us_units);
    let end = x + metres * UNIT;
    let length = words.length(Metres(metres)).unwrap_or_default();
    html! {
        g.scale {
            path d=(format!("M{x:.1},{:.1} V{y:.1} H{end:.1} V{:.1}", y - 4.0, y - 4.0)) {}
            text.note x=(format!("{:.1}", end + 4.0)) y=(format!("{y:.1}")) font-size="9" { (length) }
        }
    }
}

/// 1, 2 or 5 times a power of ten of the measure used, as metres.
fn round_length(most_metres: f64, us_units: bool) -> f64 {
    let unit = if us_units { METRES_PER_FOOT } else { 1.0 };
    let most = (most_metres / unit).max(1.0);
    let power = 10f64.powf(most.log10().floor());
    let step = [5.0, 2.0, 1.0].into_iter().find(|s| s * power <= most);
    step.unwrap_or(1.0) * power * unit
}

/// An arrow that points north, with its letter; degrees are clockwise from the top of the sheet.
pub(super) fn north(words: &Words, degrees: f64, (x, y): (f64, f64)) -> Markup {
    let radians = degrees.to_radians();
    let letter = (x + radians.sin() * 19.0, y - radians.cos() * 19.0 + 3.5);
    html! {
        g.north {
            path d="M0,12 V-11 M-4,-4 L0,-12 L4,-4" transform=(format!("translate({x:.1} {y:.1}) rotate({degrees:.0})")) {}
            text.note x=(format!("{:.1}", letter.0)) y=(format!("{:.1}", letter.1)) font-size="10" text-anchor="middle" {
                (words.say("north"))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bars_have_round_lengths() {
        assert!((round_length(17.0, false) - 10.0).abs() < 1e-9);
        assert!((round_length(24.0, false) - 20.0).abs() < 1e-9);
        assert!((round_length(17.0, true) - 50.0 * METRES_PER_FOOT).abs() < 1e-9);
        assert!((round_length(0.2, false) - 1.0).abs() < 1e-9);
    }
}
