//! Three halls that meet in one point. Whoever walks there does a metre a second, so a walk is a difference or a sum.

use rand::{Rng, RngExt};
use std::fmt::Write;

const HALLS: [&str; 3] = ["A", "B", "C"];
const LENGTH: i64 = 60;

/// A hall, and metres from where they meet.
pub(crate) type Spot = (usize, i64);

/// Metres, and seconds, between two spots.
pub(crate) fn walk(from: Spot, to: Spot) -> i64 {
    if from.0 == to.0 {
        (from.1 - to.1).abs()
    } else {
        from.1 + to.1
    }
}

pub(crate) fn spot<R: Rng>(rng: &mut R) -> Spot {
    let hall = rng.random_range(0..HALLS.len());
    (hall, rng.random_range(1..LENGTH))
}

/// The beginning of a site file: the halls with these places.
pub(crate) fn yaml(places: &[(String, Spot)]) -> String {
    let mut text = String::from(
        "site: Star\ndate: 2026-03-10\nbuiltin_standard: false\nfloors: [{id: G}]\nhalls:\n",
    );
    for (hall, id) in HALLS.iter().enumerate() {
        let here = places.iter().filter(|(_, spot)| spot.0 == hall);
        let here: Vec<String> = here
            .map(|(place, spot)| format!("{{place: {place}, m: {}}}", spot.1))
            .collect();
        let here = here.join(", ");
        let _ = writeln!(
            text,
            "  - {{id: {id}, floor: G, line_m: [[0, 0], [{LENGTH}, 0]], places_at: [{here}]}}"
        );
    }
    text.push_str(
        "links: [{id: cross, landings: [\"A@start\", \"B@start\", \"C@start\"], length_m: 0}]\n",
    );
    text
}
