//! How long it takes to use a way from one of its landings to another.
//!
//! A use is from the landing entered to the landing left, however many lie between: the way's door is passed, and a lift
//! waited for, once. Stairs are measured along the slope, `steps × √(rise² + tread²)`, and walked at a speed for up or down.

use super::means::{Means, waiting, walking};
use crate::site::{Site, Way, WayKind};
use crate::units::{Metres, Seconds};

/// Milliseconds from landing `from` to landing `to`, without the door; `None` if it cannot be used so.
pub(super) fn ride(site: &Site, means: &Means, way: &Way, from: usize, to: usize) -> Option<u64> {
    match &way.kind {
        WayKind::Stairs { steps, rise, tread } => {
            let slope = rise.0.hypot(tread.0);
            let flights = from.min(to)..from.max(to);
            let climb = |flight: usize| {
                let length = f64::from(*steps.get(flight)?) * slope;
                let ends = if from < to {
                    [flight, flight + 1]
                } else {
                    [flight + 1, flight]
                };
                walking(Metres(length), means.on_stairs(goes_down(site, way, ends))?)
            };
            flights.map(climb).sum()
        }
        WayKind::Lift {
            wait,
            per_floor,
            boarding,
        } => {
            let floors = floor(site, way, from).abs_diff(floor(site, way, to));
            let travel = per_floor.0.saturating_mul(floors as i64);
            waiting(Seconds(
                wait.0.saturating_add(boarding.0).saturating_add(travel),
            ))
        }
        WayKind::Ramp { .. } | WayKind::Link { .. } | WayKind::Outdoor { .. } => {
            walking(level_length(way, from, to), means.level())
        }
    }
}

/// Metres walked on the level between two landings; none on stairs and in lifts.
pub(super) fn level_length(way: &Way, from: usize, to: usize) -> Metres {
    match way.kind {
        WayKind::Ramp { length } | WayKind::Link { length } | WayKind::Outdoor { length } => {
            Metres(length.0 * from.abs_diff(to) as f64)
        }
        WayKind::Stairs { .. } | WayKind::Lift { .. } => Metres(0.0),
    }
}

/// Whether a flight goes down. One between landings of equal height is taken as up, the slower.
fn goes_down(site: &Site, way: &Way, [from, to]: [usize; 2]) -> bool {
    let height = |landing| site.floors[floor(site, way, landing)].elevation;
    height(to) < height(from)
}

/// Index of a landing's floor in the site's list.
fn floor(site: &Site, way: &Way, landing: usize) -> usize {
    site.halls[way.landings[landing].hall.index()].floor.index()
}
