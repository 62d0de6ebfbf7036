//! How light the heaviest day can be at all.
//!
//! ```text
//! minimise z
//! subject to  Σd x[p][d] = 1                                          for every piece p, over the days it may fall on
//!             base[d] + Σp seconds[p] x[p][d] <= z available[d]       for every day d
//!             x >= 0
//! ```
//!
//! Spacing is left out, so the bound holds for any. The solver (clarabel) is asked only for the dual prices `u[d]` of the days. For
//! *any* prices that are not negative
//!
//! ```text
//! z >= ( Σd u[d] base[d] + Σp seconds[p] min_d u[d] ) / Σd u[d] available[d]
//! ```
//!
//! and this is worked out in whole numbers, so a wrong or inexact solver makes the bound weaker, never false. Pieces that may fall on the
//! same days are one row.

use super::{Piece, Track};
use good_lp::solvers::DualValues;
use good_lp::{
    ProblemVariables, Solution, SolutionWithDual, SolverModel, clarabel, constraint, variable,
};
use std::collections::BTreeMap;

/// Prices are cut to so many parts, which is far finer than any share that matters.
const PARTS: f64 = 1e6;

/// No placing of these pieces has a heaviest day with a lower share.
///
/// # Complexity
/// One linear program with a variable for each day of each distinct set of days.
pub fn least_heaviest<'a>(track: &Track, pieces: impl Iterator<Item = &'a Piece>) -> f64 {
    let mut sets: BTreeMap<&[usize], i64> = BTreeMap::new();
    let mut longest = 0.0_f64;
    let share = |seconds: i64, day: usize| seconds as f64 / track.available[day].max(1) as f64;
    for piece in pieces {
        *sets.entry(&piece.days).or_default() += piece.seconds;
        let alone = piece
            .days
            .iter()
            .map(|d| share(track.base[*d] + piece.seconds, *d));
        longest = longest.max(alone.fold(f64::INFINITY, f64::min));
    }
    for (day, base) in track.base.iter().enumerate().filter(|(_, base)| **base > 0) {
        longest = longest.max(share(*base, day));
    }
    let longest = if longest.is_finite() { longest } else { 0.0 };
    let flat = vec![1; track.base.len()];
    let priced = duals(track, &sets).unwrap_or_else(|| flat.clone());
    let proven = [flat, priced].map(|prices| proven(track, &sets, &prices));
    // One part in a billion less than computed, which is more than the divisions can be off.
    proven.into_iter().fold(longest, f64::max) * (1.0 - 1e-9)
}

/// The bound that prices prove, in whole numbers but for the last division.
fn proven(track: &Track, sets: &BTreeMap<&[usize], i64>, prices: &[i64]) -> f64 {
    let sum = |seconds: &[i64]| -> i128 {
        let pairs = seconds.iter().zip(prices);
        pairs.map(|(s, p)| i128::from(*s) * i128::from(*p)).sum()
    };
    let cheapest = |(days, seconds): (&&[usize], &i64)| {
        let least = days.iter().map(|d| prices[*d]).min().unwrap_or(0);
        i128::from(*seconds) * i128::from(least)
    };
    let above = sum(&track.base) + sets.iter().map(cheapest).sum::<i128>();
    above as f64 / sum(&track.available).max(1) as f64
}

/// The solver's prices of the days as whole numbers.
fn duals(track: &Track, sets: &BTreeMap<&[usize], i64>) -> Option<Vec<i64>> {
    let days = track.base.len();
    let open = |day: &usize| track.available[*day] > 0;
    let mut variables = ProblemVariables::new();
    let z = variables.add(variable().min(0));
    let x: Vec<_> = sets
        .keys()
        .map(|set| variables.add_vector(variable().min(0), set.len()))
        .collect();
    let mut load: Vec<good_lp::Expression> = vec![good_lp::Expression::default(); days];
    let mut model = variables.minimise(z).using(clarabel);
    for ((set, seconds), row) in sets.iter().zip(&x) {
        let all: good_lp::Expression = row.iter().copied().sum();
        model.add_constraint(constraint!(all == 1));
        for (day, part) in set.iter().zip(row) {
            // In shares rather than seconds: well scaled for the solver.
            load[*day] += *seconds as f64 / track.available[*day].max(1) as f64 * *part;
        }
    }
    let rows: Vec<_> = load
        .into_iter()
        .enumerate()
        .filter(|(day, _)| open(day))
        .map(|(day, load)| {
            let base = track.base[day] as f64 / track.available[day] as f64;
            (day, model.add_constraint(constraint!(load + base <= z)))
        })
        .collect();
    let mut solution = model.solve().ok()?;
    let _ = solution.value(z);
    let duals = solution.compute_dual();
    let mut prices = vec![0.0; days];
    for (day, row) in rows {
        prices[day] = duals.dual(row).abs() / track.available[day] as f64;
    }
    let highest = prices.iter().copied().fold(0.0, f64::max);
    if !highest.is_finite() || highest <= 0.0 {
        return None;
    }
    let cut = |price: f64| (price / highest * PARTS).round().clamp(0.0, PARTS) as i64;
    Some(prices.into_iter().map(cut).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn piece(seconds: i64, days: &[usize]) -> Piece {
        Piece {
            seconds,
            days: days.to_vec(),
            ..Piece::default()
        }
    }

    /// By hand: 300 on day 0 or 1, 100 on day 0 only, nothing else: 200 each at best, of 1,000.
    #[test]
    fn the_bound_of_two_days_is_what_it_is_by_hand() {
        let track = Track {
            available: vec![1000, 1000],
            base: vec![0, 0],
        };
        let pieces = [piece(150, &[0, 1]), piece(150, &[0, 1]), piece(100, &[0])];
        let bound = least_heaviest(&track, pieces.iter());
        assert!((bound - 0.2).abs() < 1e-6, "{bound}");
    }

    /// A piece that is all there is cannot be cut; and work that falls on a day anyhow stays there.
    #[test]
    fn a_long_piece_and_a_heavy_day_stay_whole() {
        let track = Track {
            available: vec![1000, 1000],
            base: vec![0, 700],
        };
        let bound = least_heaviest(&track, [piece(600, &[0, 1])].iter());
        assert!((bound - 0.7).abs() < 1e-6, "{bound}");
        let light = Track {
            base: vec![0, 0],
            ..track
        };
        let bound = least_heaviest(&light, [piece(600, &[0, 1])].iter());
        assert!((bound - 0.6).abs() < 1e-6, "{bound}");
    }
}
