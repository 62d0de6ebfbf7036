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
//! and dumps as no plan avoids, and on the walks into and out of every set of a [`Family`], make the tree pay for carrying water in and waste out: a
//! Lagrangian relaxation (Geoffrion 1974, doi:10.1007/BFb0120690) of the rounded capacity inequalities. Any prices prove a bound, as long as those of
//! inequalities are not negative.
//!
//! All arithmetic is in whole thousandths of a second, so the bound is exact whatever the prices are.

use super::distances::Distances;
use super::family::Family;
use crate::route::Stop;
use itertools::Itertools;

/// Internal units per second.
const UNIT: i64 = 1000;

/// What runs are to visit, and what they must do besides.
pub(super) struct Tours<'a> {
    pub(super) distances: &'a Distances,
    pub(super) family: &'a Family,
    /// Fills and dumps for everything together, at least.
    pub(super) least: Trips,
    /// Seconds for one of each.
    pub(super) each: Trips,
}

/// Of fills and of dumps.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Trips {
    pub(super) fill: i64,
    pub(super) dump: i64,
}

impl Trips {
    /// Seconds for as many as `times` says.
    pub(super) fn total(self, times: Trips) -> i64 {
        self.fill * times.fill + self.dump * times.dump
    }
}

/// Prices of everything that trees do not keep to by themselves.
#[derive(Clone)]
pub(super) struct Prices {
    /// Of an edge at a place, of either sign.
    places: Vec<i64>,
    /// Of an edge at the start, of either sign.
    start: i64,
    /// Of a walk by way of a fill point and of a waste point, never negative.
    trips: Trips,
    /// Of walks into and out of each set for water and for waste, never negative.
    sets: Vec<Trips>,
}

impl Prices {
    /// Those of the time that fills and dumps take.
    pub(super) fn new(places: usize, family: &Family, each: Trips) -> Prices {
        Prices {
            places: vec![0; places],
            start: 0,
            trips: Trips {
                fill: each.fill * UNIT,
                dump: each.dump * UNIT,
            },
            sets: vec![Trips::default(); family.sets.len()],
        }
    }
}

/// How subgradient steps get shorter: the target lies so far above the best bound, and where so many steps brought nothing better, the search goes on from the
/// best prices with steps shortened by a factor.
const ABOVE: f64 = 0.1;
const PATIENCE: u32 = 20;
const SHORTER: f64 = 0.75;
/// A direction keeps so much of the one before (Camerini, Fratta and Maffioli 1975, doi:10.1007/BFb0120697).
const KEPT: f64 = 0.3;
/// The start's degree is far from right at first: it moves less.
const START: f64 = 0.3;

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

impl Prices {
    /// In the order of [`Tree::excess`].
    fn move_by(&mut self, direction: &[f64], factor: f64) {
        let mut changes = direction.iter().map(|d| (d * factor).round() as i64);
        let mut change = || changes.next().unwrap_or(0);
        self.start += change();
        self.places.iter_mut().for_each(|p| *p += change());
        for trips in std::iter::once(&mut self.trips).chain(&mut self.sets) {
            trips.fill = (trips.fill + change()).max(0);
            trips.dump = (trips.dump + change()).max(0);
        }
    }
}

/// By way of what an edge goes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Via {
    fill: bool,
    dump: bool,
}

struct Tree {
    /// Its cost less the prices of a set of runs: a lower bound.
    cost: i64,
    degree: Vec<i64>,
    at_start: i64,
    /// Walks by way of a fill point and of a waste point.
    trips: Trips,
    /// By set, how often its border is crossed, and twice the walks inside it by way of a fill or waste point.
    crossed: Vec<Trips>,
}

/// Prices as the edges of a tree feel them.
struct Felt<'a> {
    tours: &'a Tours<'a>,
    /// By place, its own price less those of all sets that it is in.
    places: Vec<i64>,
    start: i64,
    trips: Trips,
    /// By set, twice the price of it and of all those around it.
    around: Vec<Trips>,
}

impl<'a> Felt<'a> {
    fn new(tours: &'a Tours, prices: &Prices) -> Felt<'a> {
        let mut around: Vec<Trips> = Vec::with_capacity(prices.sets.len());
        for (set, price) in tours.family.sets.iter().zip(&prices.sets) {
            let outer = around
                .get(usize::from(set.around))
                .copied()
                .unwrap_or_default();
            around.push(Trips {
                fill: outer.fill + 2 * price.fill,
                dump: outer.dump + 2 * price.dump,
            });
        }
        let own = tours.family.own.iter().zip(&prices.places);
        let felt = |(set, price): (&u16, &i64)| {
            let sets = around[usize::from(*set)];
            price - i64::midpoint(sets.fill, sets.dump)
        };
        Felt {
            tours,
            places: own.map(felt).collect(),
            start: prices.start,
            trips: prices.trips,
            around,
        }
    }

    /// The cheapest way of walking an edge of this length and these detours inside a set, without the prices of its ends.
    #[inline]
    fn edge(&self, walk: i32, fill: u16, dump: u16, set: u16) -> (i64, Via) {
        let (each, sets) = (self.tours.each, self.around[usize::from(set)]);
        let (fill, dump) = (i64::from(fill), i64::from(dump));
        let straight = sets.fill + sets.dump;
        let filled = (fill + each.fill) * UNIT - self.trips.fill + sets.dump;
        let dumped = (dump + each.dump) * UNIT - self.trips.dump + sets.fill;
        let both =
            (fill.max(dump) + each.fill + each.dump) * UNIT - self.trips.fill - self.trips.dump;
        let ways = [
            (straight, Via::default()),
            (
                filled,
                Via {
                    fill: true,
                    dump: false,
                },
            ),
            (
                dumped,
                Via {
                    fill: false,
                    dump: true,
                },
            ),
            (
                both,
                Via {
                    fill: true,
                    dump: true,
                },
            ),
        ];
        let (cost, via) = ways
            .into_iter()
            .fold(ways[0], |best, way| if way.0 < best.0 { way } else { best });
        (i64::from(walk) * UNIT + cost, via)
    }

    fn at_start(&self, place: usize) -> (i64, Via) {
        let distances = self.tours.distances;
        let (fill, dump) = (
            distances.fill.to_start[place],
            distances.dump.to_start[place],
        );
        let (cost, via) = self.edge(distances.to_start[place], fill, dump, 0);
        (cost + self.places[place] + self.start, via)
    }
}

impl Tree {
    /// The cheapest spanning tree (Prim 1957) and the cheapest further edges at the start, one for each run, under prices.
    fn cheapest(tours: &Tours, prices: &Prices, runs: usize) -> Tree {
        let (distances, family) = (tours.distances, tours.family);
        let places = distances.places();
        let felt = Felt::new(tours, prices);
        let mut tree = Tree {
            cost: 0,
            degree: vec![0; places],
            at_start: 0,
            trips: Trips::default(),
            crossed: vec![Trips::default(); family.sets.len()],
        };
        // `None` is the start.
        let mut nearest = (0..places).map(|i| (felt.at_start(i), None)).collect_vec();
        let further = (0..places).k_smallest_by_key(runs, |i| (nearest[*i].0.0, *i));
        for place in further {
            tree.add(family, nearest[place].0, place, None);
        }
        let mut outside = (0..places).collect_vec();
        while let Some(at) = outside
            .iter()
            .position_min_by_key(|i| (nearest[**i].0.0, **i))
        {
            let next = outside.swap_remove(at);
            tree.add(family, nearest[next].0, next, nearest[next].1);
            let (walks, sets) = (distances.row(next), family.with(next));
            let (fills, dumps) = (distances.fill.row(next), distances.dump.row(next));
            let here = felt.places[next];
            for other in outside.iter().copied() {
                let (cost, via) = felt.edge(walks[other], fills[other], dumps[other], sets[other]);
                let cost = cost + here + felt.places[other];
                if cost < nearest[other].0.0 {
                    nearest[other] = ((cost, via), Some(next));
                }
            }
        }
        // What lies in a set lies in those around it.
        for set in (1..tree.crossed.len()).rev() {
            let (around, inside) = (usize::from(family.sets[set].around), tree.crossed[set]);
            tree.crossed[around].fill += inside.fill;
            tree.crossed[around].dump += inside.dump;
        }
        let sets = family.sets.iter().zip(&prices.sets);
        let sets = sets.map(|(set, price)| 2 * (set.fills * price.fill + set.dumps * price.dump));
        tree.cost += sets.sum::<i64>() + prices.trips.total(tours.least)
            - 2 * prices.places.iter().sum::<i64>()
            - 2 * runs as i64 * prices.start;
        tree
    }

    /// An edge between two places, or to the start. Crossings are counted at the smallest set of each end, and taken back where both ends are in one.
    fn add(
        &mut self,
        family: &Family,
        (cost, via): (i64, Via),
        place: usize,
        other: Option<usize>,
    ) {
        self.cost += cost;
        self.degree[place] += 1;
        self.trips.fill += i64::from(via.fill);
        self.trips.dump += i64::from(via.dump);
        let mut cross = |set: u16, fill: i64, dump: i64| {
            let crossed = &mut self.crossed[usize::from(set)];
            crossed.fill += fill;
            crossed.dump += dump;
        };
        cross(family.own[place], 1, 1);
        match other {
            None => self.at_start += 1,
            Some(other) => {
                self.degree[other] += 1;
                cross(family.own[other], 1, 1);
                let inside = |by_way: bool| if by_way { 0 } else { -2 };
                cross(
                    family.with(place)[other],
                    inside(via.fill),
                    inside(via.dump),
                );
            }
        }
    }

    /// By how much the tree has too many edges at the start and at each place, too few fills and dumps, and too few crossings of each set: in which
    /// direction prices rise. What has no price and no need of one is left alone.
    fn excess(&self, tours: &Tours, prices: &Prices, runs: usize) -> Vec<f64> {
        let start = START * (self.at_start - 2 * runs as i64) as f64;
        let places = self.degree.iter().map(|degree| (degree - 2) as f64);
        let short = |needed: i64, there: i64, price: i64| {
            let short = needed - there;
            if short < 0 && price == 0 {
                0.0
            } else {
                short as f64
            }
        };
        let both = |least: Trips, there: Trips, price: Trips| {
            [
                short(least.fill, there.fill, price.fill),
                short(least.dump, there.dump, price.dump),
            ]
        };
        let sets = tours
            .family
            .sets
            .iter()
            .zip(&self.crossed)
            .zip(&prices.sets);
        let sets = sets.skip(1).map(|((set, crossed), price)| {
            let least = Trips {
                fill: 2 * set.fills,
                dump: 2 * set.dumps,
            };
            both(least, *crossed, *price)
        });
        let all = std::iter::once(start).chain(places);
        let all = all.chain(both(tours.least, self.trips, prices.trips));
        // The first set is everything and needs nothing.
        all.chain([0.0, 0.0]).chain(sets.flatten()).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::super::needs::{Holds, Need};
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
