//! A walking graph built another way than the program's: a node for every metre of hall, for every floor a lift stands at,
//! for every landing behind a door of stairs. Shortest paths on it are another library's business.

use evenrun::site::{Door, Site, Spot, WayKind};
use evenrun::walk::Walker;

/// A node of the other graph.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum At {
    Place(usize),
    Metre(usize, i64),
    /// On stairs or a link, behind its door, at a landing.
    Flight(usize, usize),
    /// In a lift, at a floor.
    Cab(usize, usize),
}

fn opens(door: &Door, walker: &Walker) -> bool {
    let wide = walker
        .cart
        .is_none_or(|cart| door.width.is_none_or(|clear| clear >= cart));
    wide && door.needs.iter().all(|key| walker.access.contains(key))
}

fn door_millis(door: Option<&Door>, walker: &Walker) -> Option<u64> {
    door.map_or(Some(0), |door| {
        opens(door, walker).then(|| door.extra.0 as u64 * 1000)
    })
}

fn metre(spot: Spot) -> At {
    At::Metre(spot.hall.index(), spot.along.0 as i64)
}

fn metre_millis(walker: &Walker) -> u64 {
    if walker.cart.is_some() { 1250 } else { 1000 }
}

/// Where one can get to in one go, and its milliseconds.
pub(super) fn next(site: &Site, walker: &Walker, at: At) -> Vec<(At, u64)> {
    match at {
        At::Place(index) => {
            let place = &site.places[index];
            let out = door_millis(place.door.as_ref(), walker);
            out.map(|millis| (metre(place.spot), millis))
                .into_iter()
                .collect()
        }
        At::Metre(hall, along) => {
            let mut on = next_metres(site, walker, hall, along);
            let places = site
                .places
                .iter()
                .enumerate()
                .filter(|(_, p)| metre(p.spot) == at);
            on.extend(places.filter_map(|(index, place)| {
                Some((At::Place(index), door_millis(place.door.as_ref(), walker)?))
            }));
            on.extend(ways_in(site, walker, at));
            on
        }
        At::Flight(way, landing) => next_flights(site, walker, way, landing),
        At::Cab(way, floor) => next_floors(site, way, floor),
    }
}

fn next_metres(site: &Site, walker: &Walker, hall: usize, along: i64) -> Vec<(At, u64)> {
    let length = site.halls[hall].length.0 as i64;
    let mut on = Vec::new();
    for other in [along - 1, along + 1] {
        let middle = (along + other) as f64 / 2.0;
        let doors = site.halls[hall]
            .doors
            .iter()
            .filter(|(at, _)| (at.0 - middle).abs() < 0.1);
        let passing: Option<u64> = doors.map(|(_, door)| door_millis(Some(door), walker)).sum();
        if let (Some(doors), true) = (passing, (0..=length).contains(&other)) {
            on.push((At::Metre(hall, other), metre_millis(walker) + doors));
        }
    }
    on
}

fn ways_in(site: &Site, walker: &Walker, at: At) -> Vec<(At, u64)> {
    let mut on = Vec::new();
    for (index, way) in site.ways.iter().enumerate() {
        let Some(door) = door_millis(way.door.as_ref(), walker) else {
            continue;
        };
        for (landing, spot) in way
            .landings
            .iter()
            .enumerate()
            .filter(|(_, s)| metre(**s) == at)
        {
            if let WayKind::Lift { wait, boarding, .. } = way.kind {
                let floor = site.halls[spot.hall.index()].floor.index();
                on.push((
                    At::Cab(index, floor),
                    door + (wait.0 + boarding.0) as u64 * 1000,
                ));
            } else {
                on.push((At::Flight(index, landing), door));
            }
        }
    }
    on
}

fn next_flights(site: &Site, walker: &Walker, way: usize, landing: usize) -> Vec<(At, u64)> {
    let landings = &site.ways[way].landings;
    let mut on = vec![(metre(landings[landing]), 0)];
    for other in [landing.wrapping_sub(1), landing + 1] {
        if other >= landings.len() {
            continue;
        }
        let millis = match &site.ways[way].kind {
            // A step of 0.3 m: 750 ms up at 0.4 m/s, 600 ms down at 0.5 m/s. On one floor it counts as up.
            WayKind::Stairs { steps, .. } if walker.stairs && walker.cart.is_none() => {
                let height = |i: usize| site.halls[landings[i].hall.index()].floor;
                let step = if height(other) < height(landing) {
                    600
                } else {
                    750
                };
                u64::from(steps[landing.min(other)]) * step
            }
            WayKind::Link { length } => length.0 as u64 * metre_millis(walker),
            _ => continue,
        };
        on.push((At::Flight(way, other), millis));
    }
    on
}

fn next_floors(site: &Site, way: usize, floor: usize) -> Vec<(At, u64)> {
    let WayKind::Lift { per_floor, .. } = site.ways[way].kind else {
        return Vec::new();
    };
    let here = |spot: &&Spot| site.halls[spot.hall.index()].floor.index() == floor;
    let mut on: Vec<_> = site.ways[way]
        .landings
        .iter()
        .filter(here)
        .map(|spot| (metre(*spot), 0))
        .collect();
    let others = [floor.wrapping_sub(1), floor + 1]
        .into_iter()
        .filter(|f| *f < site.floors.len());
    on.extend(others.map(|other| (At::Cab(way, other), per_floor.0 as u64 * 1000)));
    on
}
