//! Random buildings: every walking time agrees with another library's Dijkstra (crate `pathfinding`) on a graph built
//! here in another way, metre by metre and storey by storey; and what must hold for any building holds.

use super::buildings::{
    ROUND_SPEEDS, calendar, floor, hall, lift, on_foot, place, slow_door, spot, stairs, way,
    with_cart,
};
use evenrun::site::{AccessId, Door, PlaceId, Side, Site, Spot, WayKind};
use evenrun::units::Metres;
use evenrun::walk::{Leg, Paths, Times, Walker};
use pathfinding::prelude::dijkstra_all;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

const SITES: u64 = 60;

/// Up to four floors with up to three halls each; lifts, stairs, links; doors slow, narrow or locked. All lengths are whole
/// metres, except that doors across halls stand half-way between two metres.
fn random_site(seed: u64) -> Site {
    let rng = &mut Pcg64Mcg::seed_from_u64(seed);
    let floors = rng.random_range(1..=4_usize);
    let mut site = Site::default();
    site.policy.speeds = ROUND_SPEEDS;
    for level in 0..floors {
        site.floors
            .push(floor(&level.to_string(), level as f64 * 3.6));
        for index in 0..rng.random_range(1..=3) {
            let mut hall = hall(
                &format!("{level}-{index}"),
                level,
                f64::from(rng.random_range(5..=40)),
            );
            if rng.random_bool(0.3) {
                let along = f64::from(rng.random_range(0..hall.length.0 as u32)) + 0.5;
                hall.doors.push((Metres(along), random_door(rng)));
            }
            site.halls.push(hall);
        }
    }
    for index in 0..rng.random_range(2..=15) {
        let mut place = place(&format!("p{index}"), random_spot(rng, &site, None));
        place.door = rng.random_bool(0.5).then(|| random_door(rng));
        site.places.push(place);
    }
    for index in 0..rng.random_range(1..=5) {
        let kind = random_kind(rng, floors);
        let anywhere = matches!(kind, WayKind::Link { .. });
        let landings =
            (0..floors.max(2)).map(|i| random_spot(rng, &site, (!anywhere).then_some(i % floors)));
        let landings = landings.collect();
        let mut way = way(&format!("w{index}"), kind, landings);
        way.door = rng.random_bool(0.3).then(|| random_door(rng));
        site.ways.push(way);
    }
    site
}

fn random_door(rng: &mut Pcg64Mcg) -> Door {
    let needs = if rng.random_bool(0.2) {
        vec![AccessId(rng.random_range(0..2))]
    } else {
        vec![]
    };
    let width = rng
        .random_bool(0.4)
        .then(|| Metres(rng.random_range(0.6..1.0)));
    Door {
        needs,
        width,
        ..slow_door(rng.random_range(0..8))
    }
}

fn random_spot(rng: &mut Pcg64Mcg, site: &Site, floor: Option<usize>) -> Spot {
    let wanted = |hall: &usize| floor.is_none_or(|f| site.halls[*hall].floor.index() == f);
    let halls: Vec<usize> = (0..site.halls.len()).filter(wanted).collect();
    let hall = halls[rng.random_range(0..halls.len())];
    spot(
        hall,
        f64::from(rng.random_range(0..=site.halls[hall].length.0 as u32)),
        Side::Ahead,
    )
}

fn random_kind(rng: &mut Pcg64Mcg, floors: usize) -> WayKind {
    match rng.random_range(0..3) {
        0 => stairs(
            (0..floors.max(2) - 1)
                .map(|_| rng.random_range(8..=24))
                .collect(),
        ),
        1 => lift(
            rng.random_range(0..40),
            rng.random_range(1..8),
            rng.random_range(0..10),
        ),
        _ => WayKind::Link {
            length: Metres(f64::from(rng.random_range(1..20))),
        },
    }
}

/// A node of the other graph.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
enum At {
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
fn next(site: &Site, walker: &Walker, at: At) -> Vec<(At, u64)> {
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

fn walkers() -> Vec<Walker> {
    let keys = [vec![], vec![AccessId(0)], vec![AccessId(0), AccessId(1)]];
    let with = |access: &Vec<AccessId>| {
        let foot = Walker {
            access: access.clone(),
            ..on_foot()
        };
        let no_stairs = Walker {
            stairs: false,
            ..foot.clone()
        };
        [
            foot,
            no_stairs,
            Walker {
                access: access.clone(),
                ..with_cart()
            },
        ]
    };
    keys.iter().flat_map(with).collect()
}

#[test]
fn times_agree_with_another_librarys_shortest_paths() {
    let (mut reached, mut unreached) = (0, 0);
    for seed in 0..SITES {
        let site = random_site(seed);
        for walker in walkers() {
            let times = Times::between_places(&site, &walker, &calendar());
            for from in 0..site.places.len() {
                let all = dijkstra_all(&At::Place(from), |at| next(&site, &walker, *at));
                for to in (0..site.places.len()).filter(|to| *to != from) {
                    let expected = all
                        .get(&At::Place(to))
                        .map(|(_, ms)| ms.div_ceil(1000) as i64);
                    let found = times
                        .get(PlaceId::from(from), PlaceId::from(to))
                        .map(|t| t.0);
                    assert_eq!(found, expected, "site {seed}, {walker:?}, {from} to {to}");
                    *(if found.is_some() {
                        &mut reached
                    } else {
                        &mut unreached
                    }) += 1;
                }
            }
        }
    }
    assert!(
        reached > 10_000 && unreached > 1_000,
        "{reached} reached, {unreached} not"
    );
}

#[test]
fn paths_take_the_times_and_hang_together() {
    for seed in 0..SITES / 3 {
        let site = random_site(seed);
        for walker in walkers() {
            let times = Times::between_places(&site, &walker, &calendar());
            let paths = Paths::of(&site, &walker, &calendar());
            for from in (0..site.places.len()).map(PlaceId::from) {
                for to in (0..site.places.len()).map(PlaceId::from) {
                    let path = paths.between(from, to);
                    assert_eq!(path.as_ref().map(|p| p.time), times.get(from, to));
                    let Some(path) = path.filter(|_| from != to) else {
                        continue;
                    };
                    let ends = [from, to].map(|place| site.places[place.index()].spot);
                    assert!(
                        same(walked(&site, ends[0], &path.legs), ends[1]),
                        "site {seed}"
                    );
                }
            }
        }
    }
}

/// Follows legs from a spot, each beginning where the last one ended.
fn walked(site: &Site, start: Spot, legs: &[Leg]) -> Spot {
    let mut here = start;
    for leg in legs {
        let (begin, end) = match leg {
            Leg::Hall { hall, from, to } => {
                let at = |along: &Metres| spot(hall.index(), along.0, Side::Ahead);
                (at(from), at(to))
            }
            Leg::Way { way, from, to } => (
                site.ways[*way].landings[*from],
                site.ways[*way].landings[*to],
            ),
        };
        assert!(same(here, begin), "{here:?}, then {begin:?}");
        here = end;
    }
    here
}

fn same(a: Spot, b: Spot) -> bool {
    (a.hall, a.along) == (b.hall, b.along)
}

#[test]
fn a_cart_never_beats_walking_on_foot_with_the_same_keys() {
    let mut slower = 0;
    for seed in 0..SITES {
        let site = random_site(seed);
        for cart in [
            with_cart(),
            Walker {
                access: vec![AccessId(0)],
                ..with_cart()
            },
        ] {
            let of = |walker: &Walker| Times::between_places(&site, walker, &calendar());
            let cart_times = of(&cart);
            for stairs in [false, true] {
                let foot_times = of(&Walker {
                    cart: None,
                    stairs,
                    ..cart.clone()
                });
                for from in (0..site.places.len()).map(PlaceId::from) {
                    // No way is the largest number, so this holds for what cannot be reached too.
                    let pairs = cart_times.row(from).iter().zip(foot_times.row(from));
                    assert!(
                        pairs.clone().all(|(cart, foot)| cart >= foot),
                        "site {seed}"
                    );
                    slower += pairs.filter(|(cart, foot)| cart > foot).count();
                }
            }
        }
    }
    assert!(
        slower > 1_000,
        "only {slower} walks were slower with a cart"
    );
}

#[test]
fn a_detour_is_never_quicker() {
    for seed in 0..SITES {
        let site = random_site(seed);
        let times = Times::between_places(&site, &on_foot(), &calendar());
        let places = || (0..site.places.len()).map(PlaceId::from);
        for (from, by) in places().flat_map(|from| places().map(move |by| (from, by))) {
            let Some(first) = times.get(from, by) else {
                continue;
            };
            for to in places() {
                let Some(second) = times.get(by, to) else {
                    continue;
                };
                let direct = times.get(from, to);
                assert!(
                    direct.is_some_and(|direct| direct <= first + second),
                    "site {seed}"
                );
            }
        }
    }
}
