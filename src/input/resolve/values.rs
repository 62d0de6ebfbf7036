//! Figures in range and in metric units, and texts of a sane length.

use crate::input::at::At;
use crate::input::limits::NAME_CHARACTERS;
use crate::input::log::{Log, Pos};
use crate::units::{LITRES_PER_GALLON, METRES_PER_FOOT, SQUARE_METRES_PER_SQUARE_FOOT, Seconds};

/// A quantity that may be given under a metric or a US key.
pub(crate) struct Measure {
    metric: &'static str,
    us: &'static str,
    /// Metric units in one US unit.
    factor: f64,
    /// Least value, in metric units.
    least: f64,
    /// Greatest value, in metric units.
    most: f64,
}

impl Measure {
    /// A length in metres or feet.
    pub(crate) const fn length(
        metric: &'static str,
        us: &'static str,
        least: f64,
        most: f64,
    ) -> Measure {
        Measure {
            metric,
            us,
            factor: METRES_PER_FOOT,
            least,
            most,
        }
    }

    /// A small length in metres or inches.
    pub(crate) const fn width(
        metric: &'static str,
        us: &'static str,
        least: f64,
        most: f64,
    ) -> Measure {
        Measure {
            metric,
            us,
            factor: METRES_PER_FOOT / 12.0,
            least,
            most,
        }
    }

    /// An area in square metres or square feet.
    pub(crate) const fn area(
        metric: &'static str,
        us: &'static str,
        least: f64,
        most: f64,
    ) -> Measure {
        Measure {
            metric,
            us,
            factor: SQUARE_METRES_PER_SQUARE_FOOT,
            least,
            most,
        }
    }

    /// A volume in litres or gallons.
    pub(crate) const fn volume(
        metric: &'static str,
        us: &'static str,
        least: f64,
        most: f64,
    ) -> Measure {
        Measure {
            metric,
            us,
            factor: LITRES_PER_GALLON,
            least,
            most,
        }
    }

    /// The value in metric units, if it is given under either key; in range even if what was given was not.
    pub(crate) fn read(
        &self,
        log: &Log,
        metric: Option<&At<f64>>,
        us: Option<&At<f64>>,
    ) -> Option<f64> {
        if let (Some(_), Some(us)) = (metric, us) {
            let message = format!("`{}` and `{}` are both given", self.metric, self.us);
            log.error("E205", us.pos, message, "keep the one you measured");
        }
        let in_metric = metric.map(|m| within(log, self.metric, m, self.least, self.most));
        in_metric.or_else(|| {
            us.map(|us| {
                within(
                    log,
                    self.us,
                    us,
                    self.least / self.factor,
                    self.most / self.factor,
                ) * self.factor
            })
        })
    }

    /// The value, which must be given: at `pos` it is missed.
    pub(crate) fn required(
        &self,
        log: &Log,
        metric: Option<&At<f64>>,
        us: Option<&At<f64>>,
        pos: Pos,
    ) -> f64 {
        self.read(log, metric, us).unwrap_or_else(|| {
            let message = format!("`{}` is missing here", self.metric);
            log.error(
                "E202",
                pos,
                message,
                format!("add `{}` or `{}`", self.metric, self.us),
            );
            self.least
        })
    }
}

/// The value, in range even if what was given was not.
pub(crate) fn within(log: &Log, name: &str, given: &At<f64>, least: f64, most: f64) -> f64 {
    if given.sound && !(least..=most).contains(&given.value) {
        let message = format!("`{name}` is {}, which is out of range", given.value);
        log.error(
            "E207",
            given.pos,
            message,
            format!("from {} to {}", short(least), short(most)),
        );
    }
    given.value.clamp(least, most)
}

/// A count in range, or its default.
pub(crate) fn count(
    log: &Log,
    name: &str,
    given: Option<&At<u32>>,
    range: std::ops::RangeInclusive<u32>,
    default: u32,
) -> u32 {
    let Some(given) = given else { return default };
    if given.sound && !range.contains(&given.value) {
        let message = format!("`{name}` is {}, which is out of range", given.value);
        log.error(
            "E207",
            given.pos,
            message,
            format!("from {} to {}", range.start(), range.end()),
        );
    }
    given.value.clamp(*range.start(), *range.end())
}

/// Minutes of work or handling, in minutes.
pub(crate) fn minutes(log: &Log, name: &str, given: &At<f64>) -> f64 {
    /// A day: nothing that is planned for one takes longer.
    const MOST: f64 = 1440.0;
    within(log, name, given, 0.0, MOST)
}

/// Minutes as whole seconds, rounded up.
pub(crate) fn minutes_as_seconds(log: &Log, name: &str, given: &At<f64>) -> Seconds {
    Seconds::of_work(minutes(log, name, given), 1.0)
}

/// Seconds to pass something, rounded up.
pub(crate) fn seconds(log: &Log, name: &str, given: Option<&At<f64>>, default: f64) -> Seconds {
    /// An hour: nobody waits longer for a lift or at a door.
    const MOST: f64 = 3600.0;
    let given = given.map_or(default, |given| within(log, name, given, 0.0, MOST));
    Seconds(given.ceil() as i64)
}

/// A text that can be printed: not empty, not too long, on one line.
pub(crate) fn text(log: &Log, what: &str, given: &At<String>) -> String {
    let wrong = |why: &str| log.error("E206", given.pos, format!("the {what} {why}"), "");
    if given.sound {
        if given.value.trim().is_empty() {
            wrong("is empty");
        } else if given.value.chars().count() > NAME_CHARACTERS {
            wrong(&format!("is longer than {NAME_CHARACTERS} characters"));
        } else if given.value.chars().any(char::is_control) {
            wrong("holds a line break or another control character");
        }
    }
    given.value.trim().to_string()
}

/// A name to be shown, or the id if there is none.
pub(crate) fn name_or_id(log: &Log, name: Option<&At<String>>, id: &At<String>) -> String {
    name.map_or_else(
        || id.value.trim().to_string(),
        |name| text(log, "name", name),
    )
}

/// Texts for the cards.
pub(crate) fn texts(log: &Log, what: &str, given: &[At<String>]) -> Vec<String> {
    given.iter().map(|t| text(log, what, t)).collect()
}

fn short(value: f64) -> String {
    if value.fract() == 0.0 {
        format!("{value:.0}")
    } else {
        format!("{value:.2}")
    }
}
