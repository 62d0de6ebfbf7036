//! When rooms may be cleaned: two fifths of them in windows of at most three hours.

use rand::RngExt;
use rand::seq::IndexedRandom;
use rand_pcg::Pcg64Mcg;

/// One window in the classes and office hours of an evening.
const SHORT: [&str; 8] = [
    "daily 16:00-18:30",
    "daily 16:30-19:30",
    "daily 17:30-20:30",
    "daily 18:00-21:00",
    "daily 19:00-21:30",
    "daily 20:00-23:00",
    "daily 20:45-23:15",
    "daily 21:30-24:30",
];
/// Between two classes, and after the second.
const TWO: [&str; 4] = [
    "daily 16:15-17:45 20:30-22:30",
    "daily 17:30-18:45 21:00-24:00",
    "daily 16:30-18:00 19:30-20:45",
    "daily 18:00-19:15 22:00-24:30",
];
/// From when the building empties.
const LONG: [&str; 4] = [
    "daily 16:00-24:30",
    "daily 17:00-24:30",
    "daily 18:00-24:30",
    "daily 19:00-24:00",
];

/// A window or two of at most three hours. A plain one is single.
pub(super) fn short(plain: bool, rng: &mut Pcg64Mcg) -> &'static str {
    if !plain && rng.random_bool(0.3) {
        TWO.choose(rng).unwrap_or(&TWO[0])
    } else {
        SHORT.choose(rng).unwrap_or(&SHORT[0])
    }
}

/// Most of the evening.
pub(super) fn long(rng: &mut Pcg64Mcg) -> &'static str {
    LONG.choose(rng).unwrap_or(&LONG[0])
}
