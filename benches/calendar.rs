//! How near to its bound the heaviest day of a calendar of periodic work comes, and how long that takes: `cargo bench --bench calendar`.
//!
//! Made-up tasks of ten owners: half of them once in the month on some of its days, half of them every week.

use evenrun::balance::calendar::{Month, Piece, Track, least_heaviest, spread};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use std::time::Instant;

const OWNERS: usize = 10;

fn month(tasks: usize, weeks: usize, seed: u64) -> Month {
    let rng = &mut Pcg64Mcg::seed_from_u64(seed);
    let days = weeks * 5;
    let mut pieces: Vec<Piece> = Vec::new();
    for task in 0..tasks {
        let (seconds, owner) = (rng.random_range(60..1_800), rng.random_range(0..OWNERS));
        let piece = |days: Vec<usize>| Piece {
            seconds,
            owner,
            start: days[0],
            days,
            gap: (3, 7),
            ..Piece::default()
        };
        if task % 2 == 0 {
            pieces.push(piece((rng.random_range(0..days / 2)..days).collect()));
            continue;
        }
        for week in 0..weeks {
            let before = (week > 0).then(|| pieces.len() - 1);
            pieces.push(Piece {
                before,
                ..piece((week * 5..week * 5 + 5).collect())
            });
        }
    }
    let track = |available: i64, rng: &mut Pcg64Mcg| Track {
        available: vec![available; days],
        base: (0..days).map(|_| rng.random_range(0..2_000)).collect(),
    };
    let owners: Vec<Track> = (0..OWNERS).map(|_| track(25_200, rng)).collect();
    let base = (0..days).map(|d| owners.iter().map(|o| o.base[d]).sum());
    Month {
        position: (0..days as i64).collect(),
        all: Track {
            available: vec![25_200 * OWNERS as i64; days],
            base: base.collect(),
        },
        owners,
        pieces,
    }
}

#[expect(clippy::print_stdout, reason = "a bench prints its results")]
fn main() {
    for (tasks, weeks) in [(200, 4), (2_000, 4), (2_000, 17), (10_000, 4)] {
        for seed in 1..=3 {
            let month = month(tasks, weeks, seed);
            let began = Instant::now();
            let placed = spread(&month, seed);
            let seconds = began.elapsed().as_secs_f64();
            let gap = |owner: Option<usize>| {
                let track = owner.map_or(&month.all, |o| &month.owners[o]);
                let own = month.pieces.iter();
                let own = own.filter(|p| owner.is_none_or(|o| p.owner == o));
                month.heaviest(&placed, owner) / least_heaviest(track, own) - 1.0
            };
            let worst = (0..OWNERS).map(|o| gap(Some(o))).fold(0.0, f64::max);
            println!(
                "bench=calendar tasks={tasks} turns={} days={} seed={seed} seconds={seconds:.2} gap_all_percent={:.3} gap_worst_owner_percent={:.3} irregular={}",
                month.pieces.len(),
                weeks * 5,
                gap(None) * 100.0,
                worst * 100.0,
                month.irregular(&placed).len()
            );
        }
    }
}
