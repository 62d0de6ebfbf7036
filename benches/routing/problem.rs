//! A routing instance in the engine's terms: vehicles are workers, customers are jobs of one stop, demand is waste that the cart
//! carries home. A time unit is a tenth of the file's.

use super::solomon::{Point, Routing, tenths};
use evenrun::route::{Before, Goal, Instance, Job, Part, Scope, WalkTable, Worker};

pub(crate) fn instance(routing: &Routing) -> Instance {
    let places = routing.points.len();
    let distances = (0..places)
        .flat_map(|from| (0..places).map(move |to| routing.distance(from, to)))
        .collect();
    let customers = || routing.points.iter().skip(1);
    Instance {
        goal: Goal::Shortest,
        walks: vec![WalkTable::new(places, distances, &[], &[])],
        workers: vec![vehicle(routing); routing.vehicles],
        jobs: customers()
            .enumerate()
            .map(|(index, point)| job(index, point, routing.vehicles))
            .collect(),
        scopes: vec![customers().map(scopes).collect()],
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

fn vehicle(routing: &Routing) -> Worker {
    let depot = &routing.points[0];
    let (from, to) = (tenths(depot.ready), tenths(depot.due));
    Worker {
        on_foot: 0,
        with_cart: None,
        profile: 0,
        start: 0,
        from,
        to,
        latest: to,
        latest_unless_last: to,
        set_up: 0,
        tear_down: 0,
        available: (to - from).max(1),
        breaks: Vec::new(),
        bucket: 0,
        bucket_rooms: 0,
        cart: routing.capacity,
    }
}

fn job(index: usize, point: &Point, vehicles: usize) -> Job {
    // Windows hold the whole stop; the file's hold its start.
    let shut = tenths(point.due) + tenths(point.service);
    Job::simple(index as u32 + 1, (tenths(point.ready), shut), vehicles)
}

fn scopes(point: &Point) -> Vec<Scope> {
    let length = tenths(point.service);
    let part = Part {
        length,
        waste: point.demand,
        ..Part::default()
    };
    vec![
        Scope::default(),
        Scope {
            parts: vec![part],
            closed: length,
            possible: true,
            ..Scope::default()
        },
    ]
}
