//! An answer, measured and checked from the file alone.

use super::solomon::{Routing, tenths};
use evenrun::route::Found;

pub(crate) struct Answer {
    /// Over all routes, in tenths.
    pub(crate) distance: i64,
    pub(crate) vehicles: usize,
}

/// Measures an answer.
///
/// # Errors
/// Says what the answer breaks: a customer not visited once, a window, a vehicle's capacity.
pub(crate) fn measure(routing: &Routing, found: &Found) -> Result<Answer, String> {
    let mut visits = vec![0; routing.points.len()];
    let mut answer = Answer {
        distance: 0,
        vehicles: 0,
    };
    for run in found.runs.iter().filter(|r| !r.visits.is_empty()) {
        answer.vehicles += 1;
        let (mut here, mut load) = (0, 0);
        let mut time = tenths(routing.points[0].ready);
        let customers = run.visits.iter().map(|v| v.job as usize + 1);
        for next in customers.chain([0]) {
            let (point, walk) = (&routing.points[next], routing.distance(here, next));
            visits[next] += 1;
            load += point.demand;
            answer.distance += i64::from(walk);
            time = (time + walk).max(tenths(point.ready));
            if time > tenths(point.due) || load > routing.capacity {
                return Err(format!("{}: a window or a load at {next}", routing.name));
            }
            time += tenths(point.service);
            here = next;
        }
    }
    match visits.iter().skip(1).position(|n| *n != 1) {
        Some(missed) => Err(format!("{}: customer {}", routing.name, missed + 1)),
        None => Ok(answer),
    }
}
