//! Random buildings from a seed.

use super::buildings::{ROUND_SPEEDS, floor, hall, lift, place, slow_door, spot, stairs, way};
use evenrun::site::{AccessId, Door, Side, Site, Spot, WayKind};
use evenrun::units::Metres;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// Up to four floors with up to three halls each; lifts, stairs, links; doors slow, narrow or locked. All lengths are whole
/// metres, except that doors across halls stand half-way between two metres.
pub(super) fn random_site(seed: u64) -> Site {
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
