//! Walks between the jobs of a plan that no worker beats, with all start places as one, and what they take more by way of a fill point or
//! a waste point.

use crate::route::{Instance, NO_WAY, Secs, WalkTable};
use itertools::Itertools;

/// Seconds between jobs and from each to the nearest start, the same there and back.
pub(super) struct Distances {
    between: Vec<Secs>,
    pub(super) to_start: Vec<Secs>,
    /// By way of a fill point, how much longer.
    pub(super) fill: Detours,
    /// By way of a waste point.
    pub(super) dump: Detours,
}

/// How many seconds more a walk takes by way of some point, at least.
#[derive(Default)]
pub(super) struct Detours {
    between: Vec<u16>,
    /// On the way from a start or to it.
    pub(super) to_start: Vec<u16>,
}

impl Detours {
    /// From one place to all.
    pub(super) fn row(&self, place: usize) -> &[u16] {
        let places = self.to_start.len();
        &self.between[place * places..(place + 1) * places]
    }
}

impl Distances {
    /// Of so many places; between two of them by way of the start if that is shorter.
    pub(super) fn new(
        places: usize,
        between: impl Fn(usize, usize) -> Secs,
        to_start: impl Fn(usize) -> Secs,
    ) -> Distances {
        let to_start = (0..places).map(to_start).collect_vec();
        let walk = |ij: usize| {
            let (i, j) = (ij / places, ij % places);
            between(i, j).min(to_start[i] + to_start[j])
        };
        Distances {
            between: (0..places * places).map(walk).collect(),
            to_start,
            fill: Detours::default(),
            dump: Detours::default(),
        }
        .with_detours(|_, _| NO_WAY, |_, _| NO_WAY)
    }

    /// With the walks between two places, or from a start (`None`), by way of a fill point and of a waste point.
    pub(super) fn with_detours(
        mut self,
        by_fill: impl Fn(Option<usize>, usize) -> Secs,
        by_dump: impl Fn(Option<usize>, usize) -> Secs,
    ) -> Distances {
        // What is cut off makes the bound lower, not wrong.
        let more = |by: Secs, walk: Secs| u16::try_from((by - walk).max(0)).unwrap_or(u16::MAX);
        let places = self.places();
        let detours = |by: &dyn Fn(Option<usize>, usize) -> Secs| {
            let walk = |ij: usize| {
                let (i, j) = (ij / places, ij % places);
                let pair = (Some(i.min(j)), i.max(j));
                more(by(pair.0, pair.1), self.between[ij])
            };
            Detours {
                between: (0..places * places).map(walk).collect(),
                to_start: (0..places)
                    .map(|j| more(by(None, j), self.to_start[j]))
                    .collect(),
            }
        };
        (self.fill, self.dump) = (detours(&by_fill), detours(&by_dump));
        self
    }

    /// Of jobs; `way` gives what no worker beats. A run with work that needs a cart moves as a cart throughout, so to and from such work
    /// the fastest cart is what nobody beats.
    pub(super) fn of(
        instance: &Instance,
        jobs: &[u32],
        scope: &[u8],
        way: &impl Fn(u32, u32) -> i64,
    ) -> Distances {
        let carts = instance.workers.iter().filter_map(|w| w.with_cart);
        let carts = carts
            .sorted()
            .dedup()
            .map(|t| &instance.walks[t])
            .collect_vec();
        let way = |from: u32, to: u32| way(from, to) as Secs;
        let by_cart = |from: u32, to: u32| {
            let both = carts.iter().map(|t| t.walk(from, to).min(t.walk(to, from)));
            both.min()
                .map_or(way(from, to), |walk| walk.max(way(from, to)))
        };
        let carted = jobs
            .iter()
            .map(|job| needs_cart(instance, *job, scope[*job as usize]))
            .collect_vec();
        let place = |i: usize| instance.jobs[jobs[i] as usize].place;
        let walk = |from: u32, to: u32, cart: bool| {
            if cart {
                by_cart(from, to)
            } else {
                way(from, to)
            }
        };
        let starts = instance
            .workers
            .iter()
            .map(|w| w.start)
            .sorted()
            .dedup()
            .collect_vec();
        // Only carts are filled and emptied.
        let via = |from: Option<usize>, to: usize, point: Point| {
            let to = place(to);
            let single = from.map(place);
            let froms = single
                .as_ref()
                .map_or(starts.as_slice(), std::slice::from_ref);
            let ways = froms.iter().cartesian_product(&carts);
            let there_and_back = ways.flat_map(|(from, table)| {
                [
                    by_way_of(table, point, *from, to),
                    by_way_of(table, point, to, *from),
                ]
            });
            there_and_back.min().unwrap_or(NO_WAY)
        };
        let to_start = |i: usize| {
            let walks = starts.iter().map(|s| walk(place(i), *s, carted[i]));
            walks.min().unwrap_or(0)
        };
        Distances::new(
            jobs.len(),
            |i, j| walk(place(i), place(j), carted[i] || carted[j]),
            to_start,
        )
        .with_detours(
            |from, to| via(from, to, WalkTable::fill_between),
            |from, to| via(from, to, WalkTable::dump_between),
        )
    }

    pub(super) fn places(&self) -> usize {
        self.to_start.len()
    }

    /// From one place to all.
    pub(super) fn row(&self, place: usize) -> &[Secs] {
        let places = self.places();
        &self.between[place * places..(place + 1) * places]
    }
}

/// Whether nobody can do a job without a cart.
fn needs_cart(instance: &Instance, job: u32, scope: u8) -> bool {
    let workers = 0..instance.workers.len();
    let able = workers.filter(|w| instance.jobs[job as usize].eligible[*w]);
    let ways = able.map(|w| instance.scope(w, job, scope));
    let mut possible = ways.filter(|how| how.possible).peekable();
    possible.peek().is_some() && possible.all(|how| how.cart)
}

/// The point of a kind with the shortest way between two places.
type Point = fn(&WalkTable, u32, u32) -> Option<u32>;

fn by_way_of(table: &WalkTable, point: Point, from: u32, to: u32) -> Secs {
    point(table, from, to).map_or(NO_WAY, |point| {
        table.walk(from, point) + table.walk(point, to)
    })
}
