//! The least walking of any set of runs that together visit all of some places: a Held–Karp bound.
//!
//! Runs are closed tours from start places. Contract all start places into one node and let every walk cost what a walker
//! whom nobody beats needs; these times are a metric, so a tour that visits a place twice or fills on the way is never
//! shorter. Then the runs are a connected graph in which every other place has two edges: a spanning tree and one further
//! edge at the start for every run. Penalties on the degree of each place keep this
//! true and are improved by subgradient steps (Held and Karp 1970, doi:10.1287/opre.18.6.1138, and 1971, doi:10.1007/BF01584070).
//!
//! All arithmetic is in whole thousandths of a second, so the bound is exact whatever the penalties are.

use itertools::Itertools;

/// Subgradient steps: the bound hardly rises after these.
const STEPS: u32 = 120;

/// Internal units per second.
const UNIT: i64 = 1000;

/// Seconds that runs visiting all of `places` places, and starting and ending at the start, walk at least.
///
/// `walk(a, b)` is the walking time in seconds between two of them, `to_start(a)` between one and the nearest start, each with
/// the same time in both directions.
///
/// # Complexity
/// `120 × places²`.
pub(super) fn least_walking(
    places: usize,
    walk: impl Fn(usize, usize) -> i64,
    to_start: impl Fn(usize) -> i64,
) -> i64 {
    if places == 0 {
        return 0;
    }
    let start = (0..places).map(|i| to_start(i) * UNIT).collect_vec();
    if places == 1 {
        return 2 * start[0] / UNIT;
    }
    let between = (0..places * places)
        .map(|ij| walk(ij / places, ij % places) * UNIT)
        .collect_vec();
    let mut penalty = vec![0i64; places];
    let mut best = 0;
    let mut step = f64::NAN;
    for round in 0..STEPS {
        let tree = one_tree(places, &between, &start, &penalty);
        best = best.max(tree.cost);
        if step.is_nan() {
            step = tree.cost as f64 / (2 * places) as f64;
        }
        let scale = step * (1.0 - f64::from(round) / f64::from(STEPS));
        for (penalty, degree) in penalty.iter_mut().zip(&tree.degree) {
            *penalty += (f64::from(degree - 2) * scale).round() as i64;
        }
    }
    // Rounded down: a bound may only err on the safe side.
    best.div_euclid(UNIT)
}

struct OneTree {
    /// Its cost less twice the penalties: a lower bound.
    cost: i64,
    degree: Vec<i32>,
}

/// The cheapest spanning tree (Prim 1957) and the cheapest further edge at the start, under penalties.
fn one_tree(places: usize, between: &[i64], start: &[i64], penalty: &[i64]) -> OneTree {
    let to_start = |i: usize| start[i] + penalty[i];
    let mut degree = vec![0; places];
    // `None` is the start.
    let mut parent: Vec<Option<usize>> = vec![None; places];
    let mut distance = (0..places).map(to_start).collect_vec();
    let mut outside = (0..places).collect_vec();
    let mut cost = 0;
    while let Some(at) = outside.iter().position_min_by_key(|i| (distance[**i], **i)) {
        let next = outside.swap_remove(at);
        cost += distance[next];
        degree[next] += 1;
        if let Some(other) = parent[next] {
            degree[other] += 1;
        }
        for other in &outside {
            let edge = between[next * places + other] + penalty[next] + penalty[*other];
            if edge < distance[*other] {
                (distance[*other], parent[*other]) = (edge, Some(next));
            }
        }
    }
    // One more edge at the start closes the only run; a run to a single place walks its edge twice, so edges may repeat.
    // More runs add more such edges: where they are a gain (penalties can make them one), every place may have one.
    let closing = (0..places).min_by_key(|i| (to_start(*i), *i)).unwrap_or(0);
    cost += to_start(closing);
    degree[closing] += 1;
    let mut gains = 0;
    for place in (0..places).filter(|i| *i != closing && to_start(*i) < 0) {
        gains += to_start(place);
        degree[place] += 1;
    }
    OneTree {
        cost: cost + gains - 2 * penalty.iter().sum::<i64>(),
        degree,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hall_that_leads_nowhere_is_walked_twice() {
        // Places at 10, 20, ..., 100 s along a dead end that begins at the start: any run walks 200 s.
        let at = |i: usize| (i as i64 + 1) * 10;
        let bound = least_walking(10, |a, b| (at(a) - at(b)).abs(), at);
        assert!((190..=200).contains(&bound), "{bound}");
    }

    #[test]
    fn the_bound_is_never_above_the_shortest_tours() {
        // Two places on either side of the start: 2 × 5 + 2 × 7, in one run or in two.
        let at = [-5i64, 7];
        assert!(least_walking(2, |a, b| (at[a] - at[b]).abs(), |a| at[a].abs()) <= 24);
        assert_eq!(least_walking(1, |_, _| 0, |_| 30), 60);
        assert_eq!(least_walking(0, |_, _| 0, |_| 0), 0);
    }
}
