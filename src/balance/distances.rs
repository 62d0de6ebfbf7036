//! Walks between the jobs of a plan that no worker beats, with all start places as one.

use crate::route::Instance;
use itertools::Itertools;

/// Seconds between jobs and from each to the nearest start, the same there and back.
pub(super) struct Distances {
    between: Vec<i64>,
    pub(super) to_start: Vec<i64>,
}

impl Distances {
    /// Of so many places; between two of them by way of the start if that is shorter.
    pub(super) fn new(
        places: usize,
        between: impl Fn(usize, usize) -> i64,
        to_start: impl Fn(usize) -> i64,
    ) -> Distances {
        let to_start = (0..places).map(to_start).collect_vec();
        let walk = |ij: usize| {
            let (i, j) = (ij / places, ij % places);
            between(i, j).min(to_start[i] + to_start[j])
        };
        Distances {
            between: (0..places * places).map(walk).collect(),
            to_start,
        }
    }

    /// Of jobs; `way` gives what no worker beats. A run with work that needs a cart moves as a cart throughout, so to and from such work
    /// the fastest cart is what nobody beats.
    pub(super) fn of(
        instance: &Instance,
        jobs: &[u32],
        scope: &[u8],
        way: &impl Fn(u32, u32) -> i64,
    ) -> Distances {
        let workers = 0..instance.workers.len();
        let carts = instance.workers.iter().filter_map(|w| w.with_cart);
        let carts = carts
            .sorted()
            .dedup()
            .map(|t| &instance.walks[t])
            .collect_vec();
        let by_cart = |from: u32, to: u32| {
            let both = carts
                .iter()
                .map(|t| i64::from(t.walk(from, to).min(t.walk(to, from))));
            both.min()
                .map_or(way(from, to), |walk| walk.max(way(from, to)))
        };
        let needs_cart = |job: u32| {
            let able = |w: &usize| instance.jobs[job as usize].eligible[*w];
            let how = |w: usize| instance.scope(w, job, scope[job as usize]);
            let mut able = workers
                .clone()
                .filter(able)
                .map(how)
                .filter(|how| how.possible)
                .peekable();
            able.peek().is_some() && able.all(|how| how.cart)
        };
        let carted = jobs.iter().map(|job| needs_cart(*job)).collect_vec();
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
        Distances::new(
            jobs.len(),
            |i, j| walk(place(i), place(j), carted[i] || carted[j]),
            |i| {
                starts
                    .iter()
                    .map(|s| walk(place(i), *s, carted[i]))
                    .min()
                    .unwrap_or(0)
            },
        )
    }

    pub(super) fn places(&self) -> usize {
        self.to_start.len()
    }

    /// From one place to all.
    pub(super) fn row(&self, place: usize) -> &[i64] {
        let places = self.places();
        &self.between[place * places..(place + 1) * places]
    }
}
