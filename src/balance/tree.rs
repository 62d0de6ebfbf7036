//! The cheapest tree under prices, with the cheapest further edges at the start: what [`super::tours`] asks for again and again.

use super::distances::Distances;
use super::family::Family;
use itertools::Itertools;

/// Internal units per second.
pub(super) const UNIT: i64 = 1000;

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

    /// In the order of [`Tree::excess`].
    pub(super) fn move_by(&mut self, direction: &[f64], factor: f64) {
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

/// The start's degree is far from right at first: it moves less.
const START: f64 = 0.3;

/// By way of what an edge goes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Via {
    fill: bool,
    dump: bool,
}

pub(super) struct Tree {
    /// Its cost less the prices of a set of runs: a lower bound.
    pub(super) cost: i64,
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
    pub(super) fn cheapest(tours: &Tours, prices: &Prices, runs: usize) -> Tree {
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
    pub(super) fn excess(&self, tours: &Tours, prices: &Prices, runs: usize) -> Vec<f64> {
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
