//! Min-max tours in the engine's terms: cities are jobs that take no time, walking is all there is, and everyone has the same
//! time available, so that the highest share is the longest tour.

use super::tsplib::Cities;
use evenrun::route::{Before, FOREVER, Goal, Instance, Job, Part, Scope, Secs, WalkTable, Worker};

/// Whole units per unit of distance.
pub(crate) const SCALE: f64 = 10_000.0;

/// Everyone's time: with bands of a millionth, one unit is one band.
const AVAILABLE: Secs = 1_000_000;

pub(crate) fn instance(cities: &Cities, workers: usize) -> Instance {
    let places = cities.points.len();
    let between = |from: usize, to: usize| (SCALE * cities.distance(from, to)).round() as Secs;
    let distances = (0..places)
        .flat_map(|from| (0..places).map(move |to| between(from, to)))
        .collect();
    let visit = Scope {
        parts: vec![Part::default()],
        possible: true,
        ..Scope::default()
    };
    Instance {
        goal: Goal::Even,
        walks: vec![WalkTable::new(places, distances, &[], &[])],
        workers: vec![worker(); workers],
        jobs: (1..places)
            .map(|city| Job::simple(city as u32, (-FOREVER, FOREVER), workers))
            .collect(),
        scopes: vec![vec![vec![Scope::default(), visit]; places - 1]],
        limits: Vec::new(),
        machines: Vec::new(),
        fill: 0,
        dump: 0,
        fetch: 0,
        waste_home: true,
        band_ppm: 1,
        before: Before::default(),
    }
}

fn worker() -> Worker {
    Worker {
        on_foot: 0,
        with_cart: None,
        profile: 0,
        start: 0,
        from: 0,
        to: FOREVER,
        latest: FOREVER,
        latest_unless_last: FOREVER,
        set_up: 0,
        tear_down: 0,
        available: AVAILABLE,
        breaks: Vec::new(),
        bucket: 0,
        bucket_rooms: 0,
        cart: 0,
    }
}
