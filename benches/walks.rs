//! How long walking times take to work out, by size of building. Sites come from a fixed seed.

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use evenrun::site::{
    Calendar, Floor, FloorId, Hall, HallId, Place, PlaceId, Side, Site, Spot, Way, WayKind,
};
use evenrun::units::{Clock, Metres, Seconds, Span};
use evenrun::walk::{Paths, Times, Walker};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use std::hint::black_box;

const SEED: u64 = 1;

/// Halls on each floor, in a row, joined end to end.
const HALLS: usize = 4;

/// A site of so many floors with so many rooms each; stairs at one end, a lift at the other.
fn site(floors: usize, rooms: usize) -> Site {
    let rng = &mut Pcg64Mcg::seed_from_u64(SEED);
    let length = rooms as f64 * 2.0;
    let mut built = Site::default();
    for floor in 0..floors {
        built.floors.push(Floor {
            id: floor.to_string(),
            elevation: Metres(floor as f64 * 3.6),
        });
        for hall in 0..HALLS {
            built.halls.push(Hall {
                id: format!("{floor}-{hall}"),
                floor: FloorId::from(floor),
                length: Metres(length),
                line: None,
                doors: vec![],
            });
        }
        for room in 0..rooms {
            let facing = if rng.random_bool(0.5) {
                Side::Left
            } else {
                Side::Right
            };
            let hall = floor * HALLS + rng.random_range(0..HALLS);
            let id = format!("{floor}{room:02}");
            let at = spot(hall, rng.random_range(0.0..length), facing);
            let place = Place {
                name: id.clone(),
                id,
                spot: at,
                door: None,
                break_place: false,
            };
            built.places.push(place);
        }
    }
    built.ways = ways(floors, length);
    built
}

fn ways(floors: usize, length: f64) -> Vec<Way> {
    let stairs = WayKind::Stairs {
        steps: vec![20; floors - 1],
        rise: Metres(0.18),
        tread: Metres(0.28),
    };
    let lift = WayKind::Lift {
        wait: Seconds(20),
        per_floor: Seconds(5),
        boarding: Seconds(6),
    };
    let landings = |hall: usize, along| {
        (0..floors)
            .map(|floor| spot(floor * HALLS + hall, along, Side::Ahead))
            .collect()
    };
    let way = |id: &str, kind, landings| Way {
        id: id.to_string(),
        kind,
        landings,
        door: None,
    };
    let mut ways = vec![
        way("stairs", stairs, landings(0, 0.0)),
        way("lift", lift, landings(HALLS - 1, length)),
    ];
    for first in (0..floors * HALLS).filter(|hall| hall % HALLS + 1 < HALLS) {
        let ends = vec![
            spot(first, length, Side::Ahead),
            spot(first + 1, 0.0, Side::Ahead),
        ];
        ways.push(way(
            &format!("corner {first}"),
            WayKind::Link {
                length: Metres(0.0),
            },
            ends,
        ));
    }
    ways
}

fn spot(hall: usize, along: f64, side: Side) -> Spot {
    Spot {
        hall: HallId::from(hall),
        along: Metres(along),
        side,
    }
}

fn walks(criterion: &mut Criterion) {
    let calendar = Calendar::new(jiff::civil::date(2026, 3, 10), None);
    let shift = Span::new(Clock::at(18, 0), Clock::at(26, 0));
    let walker = Walker {
        cart: None,
        stairs: true,
        access: vec![],
        shift,
    };
    let mut group = criterion.benchmark_group("walks");
    group.sample_size(10);
    for (floors, rooms) in [(2, 12), (3, 40), (10, 200)] {
        let site = site(floors, rooms);
        let scale = format!("{floors}x{rooms}");
        group.bench_with_input(
            BenchmarkId::new("all_pairs", &scale),
            &site,
            |bench, site| {
                bench.iter(|| black_box(Times::between_places(site, &walker, &calendar)));
            },
        );
        let paths = Paths::of(&site, &walker, &calendar);
        let [first, last] = [0, site.places.len() - 1].map(PlaceId::from);
        group.bench_function(BenchmarkId::new("one_path", &scale), |bench| {
            bench.iter(|| black_box(paths.between(first, last)));
        });
    }
    group.finish();
}

criterion_group!(benches, walks);
criterion_main!(benches);
