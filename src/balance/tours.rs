//! The least walking, filling and emptying of so many runs that together visit all of some places: a Held–Karp bound with fills and dumps.
//!
//! Runs are closed tours from start places. Contract all start places into one node and let every walk cost what a walker
//! whom nobody beats needs. Then `k` runs are a connected graph in
//! which every other place has two edges and the start has `2 k`: take one edge at the start out of each run, and a spanning tree is left. So the
//! cheapest spanning tree and the `k` cheapest further edges at the start, to different places, cost no more (Fisher 1994,
//! doi:10.1287/opre.42.4.626). Prices on the degree of each place, and of the start, keep this
//! true and are improved by subgradient steps (Held and Karp 1970, doi:10.1287/opre.18.6.1138, and 1971, doi:10.1007/BF01584070).
//!
//! An edge is walked straight on, or by way of a fill point, a waste point, or both, each with its detour and the time there. Prices on as many fills
//! and dumps as no plan avoids, and on the walks into and out of every set of [`super::family`], make the tree pay for carrying water in and waste out: a
//! Lagrangian relaxation (Geoffrion 1974, doi:10.1007/BFb0120690) of the rounded capacity inequalities. Any prices prove a bound, as long as those of
//! inequalities are not negative.
//!
//! All arithmetic is in whole thousandths of a second, so the bound is exact whatever the prices are.

use super::tree::{Prices, Tours, Tree, UNIT};
use crate::route::Stop;
use itertools::Itertools;

/// How subgradient steps get shorter: the target lies so far above the best bound, and where so many steps brought nothing better, the search goes on from the
/// best prices with steps shortened by a factor.
const ABOVE: f64 = 0.1;
const PATIENCE: u32 = 20;
const SHORTER: f64 = 0.75;
/// A direction keeps so much of the one before (Camerini, Fratta and Maffioli 1975, doi:10.1007/BFb0120697).
const KEPT: f64 = 0.3;

/// Seconds that exactly so many runs, each of which visits at least one place, take at least to visit them all, without the work there. When it
/// is time to stop, what the steps so far have shown: nothing before the first. Goes on from `prices`, and leaves the best ones there.
///
/// # Complexity
/// `steps × places²`.
pub(super) fn least_time(
    tours: &Tours,
    runs: usize,
    prices: &mut Prices,
    steps: u32,
    stop: Stop,
) -> i64 {
    let places = tours.distances.places();
    if places == 0 || runs == 0 {
        return 0;
    }
    if places <= runs {
        // Every place has a run of its own at best.
        let walks = tours.distances.to_start.iter().map(|s| i64::from(*s));
        return 2 * walks.sum::<i64>() + tours.each.total(tours.least);
    }
    let mut best = 0;
    let mut at = prices.clone();
    let (mut length, mut waited) = (1.0, 0);
    let mut direction: Option<Vec<f64>> = None;
    for _ in 0..steps {
        if stop.has_ended() {
            break;
        }
        let tree = Tree::cheapest(tours, &at, runs);
        if tree.cost > best {
            (best, waited) = (tree.cost, 0);
            prices.clone_from(&at);
        } else {
            waited += 1;
            if waited == PATIENCE {
                (length, waited, direction) = (length * SHORTER, 0, None);
                at.clone_from(prices);
                continue;
            }
        }
        let excess = tree.excess(tours, &at, runs);
        let square: f64 = excess.iter().map(|e| e * e).sum();
        if square <= 0.0 {
            break;
        }
        let target = best as f64 * (1.0 + ABOVE);
        let factor = length * (target - tree.cost as f64) / square;
        let kept = direction.take().unwrap_or_else(|| excess.clone());
        let mixed = excess.iter().zip(&kept);
        let mixed = mixed
            .map(|(new, old)| (1.0 - KEPT) * new + KEPT * old)
            .collect_vec();
        at.move_by(&mixed, factor);
        direction = Some(mixed);
    }
    // Rounded down: a bound may only err on the safe side.
    best.div_euclid(UNIT)
}

#[cfg(test)]
mod tests {
    use super::super::distances::Distances;
    use super::super::family::Family;
    use super::super::needs::{Holds, Need};
    use super::super::tree::Trips;
    use super::*;

    const NO_NEED: Need = Need {
        mopped: None,
        restroom: false,
        waste: 0,
    };

    /// Places along a line with the start and everything else at 0.
    fn on_a_line(at: &[i32], runs: usize, need: Need) -> i64 {
        let places = at.len();
        let walk = |a: usize, b: usize| (at[a] - at[b]).abs();
        let by_start =
            |from: Option<usize>, to: usize| at[to].abs() + from.map_or(0, |f| at[f].abs());
        let distances =
            Distances::new(places, walk, |a| at[a].abs()).with_detours(by_start, by_start);
        let holds = Holds {
            bucket: 100,
            rooms: 3,
            cart: 100,
        };
        let needs = vec![need; places];
        let family = Family::new(&distances, &needs, Some(holds));
        let tours = Tours {
            distances: &distances,
            family: &family,
            least: Trips {
                fill: holds.fills(&needs),
                dump: holds.dumps(&needs),
            },
            each: Trips { fill: 60, dump: 60 },
        };
        least_time(
            &tours,
            runs,
            &mut Prices::new(places, &family, tours.each),
            300,
            Stop::NEVER,
        )
    }

    #[test]
    fn a_hall_that_leads_nowhere_is_walked_twice() {
        // Places at 10, 20, ..., 100 s along a dead end that begins at the start: any run walks 200 s.
        let at = (1..=10).map(|i| i * 10).collect_vec();
        let bound = on_a_line(&at, 1, NO_NEED);
        assert!((195..=200).contains(&bound), "{bound}");
    }

    #[test]
    fn every_further_run_goes_there_and_back() {
        // The second run goes to the nearest place and back at least: 200 + 20 s.
        let at = (1..=10).map(|i| i * 10).collect_vec();
        let bound = on_a_line(&at, 2, NO_NEED);
        assert!((214..=220).contains(&bound), "{bound}");
    }

    #[test]
    fn the_bound_is_never_above_the_shortest_tours() {
        // Two places on either side of the start: 2 × 5 + 2 × 7, in one run or in two.
        assert!(on_a_line(&[-5, 7], 1, NO_NEED) <= 24);
        assert_eq!(on_a_line(&[-5, 7], 2, NO_NEED), 24);
        assert!(on_a_line(&[30], 1, NO_NEED) <= 60);
        assert_eq!(on_a_line(&[], 1, NO_NEED), 0);
    }

    #[test]
    fn water_is_carried_to_the_end_of_a_hall_as_often_as_buckets_ask() {
        // Six rooms 100 s from the only fill point, three to a bucket: there and back twice, two fills of 60 s; three rooms once.
        let mopped = Need {
            mopped: Some(5),
            ..NO_NEED
        };
        let bound = on_a_line(&[100; 6], 1, mopped);
        assert!((515..=520).contains(&bound), "{bound}");
        let bound = on_a_line(&[100; 3], 1, mopped);
        assert!((255..=260).contains(&bound), "{bound}");
    }

    #[test]
    fn waste_is_carried_out_as_often_as_the_cart_is_full() {
        // Five rooms with 50 of waste each, two to a cart of 100: three walks there and back, three emptyings.
        let full = Need {
            waste: 50,
            ..NO_NEED
        };
        let bound = on_a_line(&[40; 5], 1, full);
        assert!((415..=420).contains(&bound), "{bound}");
    }
}
