//! An answer, measured and checked from the points alone.

use super::tsplib::Cities;
use evenrun::route::Found;

/// The longest tour.
///
/// # Errors
/// Names a city that is not visited once.
pub(crate) fn longest(cities: &Cities, found: &Found) -> Result<f64, String> {
    let mut visited = vec![0; cities.points.len()];
    let mut longest: f64 = 0.0;
    for run in &found.runs {
        let stops = run.visits.iter().map(|v| v.job as usize + 1);
        let (mut here, mut length) = (0, 0.0);
        for next in stops.chain([0]) {
            length += cities.distance(here, next);
            visited[next] += 1;
            here = next;
        }
        longest = longest.max(length);
    }
    match visited.iter().skip(1).position(|n| *n != 1) {
        Some(missed) => Err(format!("city {} is not visited once", missed + 2)),
        None => Ok(longest),
    }
}
