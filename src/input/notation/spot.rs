//! A spot on a hall: `G-East@12` (metres), `G-East@12m`, `G-East@40ft`, `G-East@start`, `G-East@end`.

use crate::units::METRES_PER_FOOT;

/// A spot as written.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct WrittenSpot<'a> {
    /// The hall's id.
    pub(crate) hall: &'a str,
    /// Where along it.
    pub(crate) along: Along,
}

/// How far along a hall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Along {
    /// Its start.
    Start,
    /// Its end.
    End,
    /// Metres from its start.
    Metres(f64),
}

/// Reads a spot; `None` if it is none. The id of a hall may hold an `@` itself.
pub(crate) fn spot(text: &str) -> Option<WrittenSpot<'_>> {
    let (hall, along) = text.rsplit_once('@')?;
    let (hall, along) = (hall.trim(), along.trim());
    let along = match along.to_ascii_lowercase().as_str() {
        "start" => Along::Start,
        "end" => Along::End,
        distance => Along::Metres(metres(distance)?),
    };
    (!hall.is_empty()).then_some(WrittenSpot { hall, along })
}

fn metres(text: &str) -> Option<f64> {
    let (number, factor) = match (text.strip_suffix("ft"), text.strip_suffix('m')) {
        (Some(feet), _) => (feet, METRES_PER_FOOT),
        (_, Some(metres)) => (metres, 1.0),
        _ => (text, 1.0),
    };
    let number: f64 = number.trim().parse().ok()?;
    (number.is_finite() && number >= 0.0).then_some(number * factor)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spots_read_in_metres_and_feet() {
        let along = |text| spot(text).map(|s| s.along);
        assert_eq!(
            spot("G-East@start"),
            Some(WrittenSpot {
                hall: "G-East",
                along: Along::Start
            })
        );
        assert_eq!(along("a@b@end"), Some(Along::End));
        assert_eq!(along("h@12.5"), Some(Along::Metres(12.5)));
        assert_eq!(along("h@12 m"), Some(Along::Metres(12.0)));
        assert_eq!(along("h@10ft"), Some(Along::Metres(10.0 * 0.3048)));
        for wrong in ["h", "h@", "@3", "h@x", "h@-1", "h@inf", "h@nan"] {
            assert_eq!(spot(wrong), None, "{wrong}");
        }
    }
}
