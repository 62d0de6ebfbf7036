//! Random buildings: every walking time agrees with another library's Dijkstra (crate `pathfinding`) on a graph built
//! in another way, metre by metre and storey by storey; and what must hold for any building holds.

use super::buildings::{calendar, on_foot, spot, with_cart};
use super::metre_graph::{At, next};
use super::random_site::random_site;
use evenrun::site::{AccessId, PlaceId, Side, Site, Spot};
use evenrun::units::Metres;
use evenrun::walk::{Leg, Paths, Times, Walker};
use pathfinding::prelude::dijkstra_all;

const SITES: u64 = 60;

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
