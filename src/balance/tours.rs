//! The least walking of so many runs that together visit all of some places: a Held–Karp bound.
//!
//! Runs are closed tours from start places. Contract all start places into one node and let every walk cost what a walker
//! whom nobody beats needs; these times are a metric, so a tour that fills on the way is never shorter. Then `k` runs are a connected graph in
//! which every other place has two edges and the start has `2 k`: take one edge at the start out of each run, and a spanning tree is left. So the
//! cheapest spanning tree and the `k` cheapest further edges at the start, to different places, cost no more (Fisher 1994,
//! doi:10.1287/opre.42.4.626). Penalties on the degree of each place, and of the start, keep this
//! true and are improved by subgradient steps (Held and Karp 1970, doi:10.1287/opre.18.6.1138, and 1971, doi:10.1007/BF01584070).
//!
//! All arithmetic is in whole thousandths of a second, so the bound is exact whatever the penalties are.

use super::distances::Distances;
use crate::route::Stop;
use itertools::Itertools;

/// Subgradient steps: the bound hardly rises after these.
const STEPS: u32 = 120;

/// Internal units per second.
const UNIT: i64 = 1000;

/// Seconds that exactly so many runs, each of which visits at least one place, walk at least to visit them all. When it is time to stop, what the
/// steps so far have shown: nothing before the first.
///
/// # Complexity
/// `120 × places²`.
pub(super) fn least_walking(distances: &Distances, runs: usize, stop: Stop) -> i64 {
    let places = distances.places();
    if places == 0 || runs == 0 {
        return 0;
    }
    if places <= runs {
        // Every place has a run of its own at best.
        return 2 * distances.to_start.iter().sum::<i64>();
    }
    let mut penalty = vec![0i64; places];
    let mut at_start = 0;
    let mut best = 0;
    let mut length = f64::NAN;
    for round in 0..STEPS {
        if stop.has_ended() {
            break;
        }
        let tree = tree(distances, &penalty, at_start, runs);
        best = best.max(tree.cost);
        if length.is_nan() {
            length = tree.cost as f64 / (2 * places) as f64;
        }
        let scale = length * (1.0 - f64::from(round) / f64::from(STEPS));
        let change = |degree: i64, wanted: i64| ((degree - wanted) as f64 * scale).round() as i64;
        for (penalty, degree) in penalty.iter_mut().zip(&tree.degree) {
            *penalty += change(*degree, 2);
        }
        at_start += change(tree.at_start, 2 * runs as i64);
    }
    // Rounded down: a bound may only err on the safe side.
    best.div_euclid(UNIT)
}

struct Tree {
    /// Its cost less the penalties of a set of runs: a lower bound.
    cost: i64,
    degree: Vec<i64>,
    at_start: i64,
}

/// The cheapest spanning tree (Prim 1957) and the cheapest further edges at the start, one for each run, under penalties.
fn tree(distances: &Distances, penalty: &[i64], at_start: i64, runs: usize) -> Tree {
    let places = distances.places();
    let to_start = |i: usize| distances.to_start[i] * UNIT + penalty[i] + at_start;
    let mut degree = vec![0; places];
    // `None` is the start.
    let mut parent: Vec<Option<usize>> = vec![None; places];
    let mut distance = (0..places).map(to_start).collect_vec();
    let mut outside = (0..places).collect_vec();
    let (mut cost, mut starting) = (0, 0);
    while let Some(at) = outside.iter().position_min_by_key(|i| (distance[**i], **i)) {
        let next = outside.swap_remove(at);
        cost += distance[next];
        degree[next] += 1;
        match parent[next] {
            Some(other) => degree[other] += 1,
            None => starting += 1,
        }
        let row = distances.row(next);
        for other in &outside {
            let edge = row[*other] * UNIT + penalty[next] + penalty[*other];
            if edge < distance[*other] {
                (distance[*other], parent[*other]) = (edge, Some(next));
            }
        }
    }
    for further in (0..places).k_smallest_by_key(runs, |i| (to_start(*i), *i)) {
        cost += to_start(further);
        degree[further] += 1;
    }
    Tree {
        cost: cost - 2 * penalty.iter().sum::<i64>() - 2 * runs as i64 * at_start,
        degree,
        at_start: starting + runs as i64,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn on_a_line(at: &[i64], runs: usize) -> i64 {
        let places = 0..at.len();
        let distances = Distances::new(at.len(), |a, b| (at[a] - at[b]).abs(), |a| at[a].abs());
        assert_eq!(places.len(), distances.places());
        least_walking(&distances, runs, Stop::NEVER)
    }

    #[test]
    fn a_hall_that_leads_nowhere_is_walked_twice() {
        // Places at 10, 20, ..., 100 s along a dead end that begins at the start: any run walks 200 s.
        let at = (1..=10).map(|i| i * 10).collect_vec();
        let bound = on_a_line(&at, 1);
        assert!((190..=200).contains(&bound), "{bound}");
    }

    #[test]
    fn every_further_run_goes_there_and_back() {
        // The second run goes to the nearest place and back at least: 200 + 20 s.
        let at = (1..=10).map(|i| i * 10).collect_vec();
        let bound = on_a_line(&at, 2);
        assert!((210..=220).contains(&bound), "{bound}");
    }

    #[test]
    fn the_bound_is_never_above_the_shortest_tours() {
        // Two places on either side of the start: 2 × 5 + 2 × 7, in one run or in two.
        assert!(on_a_line(&[-5, 7], 1) <= 24);
        assert_eq!(on_a_line(&[-5, 7], 2), 24);
        assert!(on_a_line(&[30], 1) <= 60);
        assert_eq!(on_a_line(&[], 1), 0);
    }
}
