//! The walking times of a whole crew: one [`Times`] for all whom the site treats alike.

use super::{Times, Walker};
use crate::site::{Calendar, PlaceId, Site, WorkerId};
use std::sync::Arc;

/// Walking times for every worker asked for, on foot and with their cart.
#[derive(Clone, Debug)]
pub struct Walks {
    times: Vec<Arc<Times>>,
    /// By worker: which times hold on foot and with the cart.
    of_worker: Vec<Option<[usize; 2]>>,
}

impl Walks {
    /// Works out the walks of `workers`. Those who walk alike share one table: a shift or a key that no door asks for makes
    /// no difference.
    pub fn of(site: &Site, calendar: &Calendar, workers: &[WorkerId]) -> Walks {
        let mut walkers: Vec<Walker> = Vec::new();
        let mut of_worker = vec![None; site.crew.len()];
        for worker in workers {
            let index = [false, true].map(|with_cart| {
                let walker = Walker::of(site, *worker, with_cart, calendar);
                walkers
                    .iter()
                    .position(|w| *w == walker)
                    .unwrap_or_else(|| {
                        walkers.push(walker);
                        walkers.len() - 1
                    })
            });
            of_worker[worker.index()] = Some(index);
        }
        let mut times: Vec<Arc<Times>> = Vec::new();
        let of_walker: Vec<usize> = Times::of_walkers(site, &walkers, calendar)
            .into_iter()
            .map(|table| index_of(&mut times, table))
            .collect();
        for index in of_worker.iter_mut().flatten().flatten() {
            *index = of_walker[*index];
        }
        Walks { times, of_worker }
    }

    /// All the distinct tables.
    pub fn tables(&self) -> &[Arc<Times>] {
        &self.times
    }

    /// Index of the table that holds for a worker; `None` for a worker who was not asked for.
    pub fn index(&self, worker: WorkerId, with_cart: bool) -> Option<usize> {
        self.of_worker[worker.index()].map(|pair| pair[usize::from(with_cart)])
    }

    /// The table that holds for a worker; `None` for a worker who was not asked for.
    pub fn times(&self, worker: WorkerId, with_cart: bool) -> Option<&Times> {
        self.index(worker, with_cart).map(|i| &*self.times[i])
    }

    /// Whether a worker can get from one place to another and back.
    pub fn reaches(&self, worker: WorkerId, with_cart: bool, from: PlaceId, to: PlaceId) -> bool {
        self.times(worker, with_cart)
            .is_some_and(|t| t.get(from, to).is_some() && t.get(to, from).is_some())
    }
}

/// Where the table is among those known, to which it is added if it is new.
fn index_of(known: &mut Vec<Arc<Times>>, table: Arc<Times>) -> usize {
    let found = known.iter().position(|other| Arc::ptr_eq(other, &table));
    found.unwrap_or_else(|| {
        known.push(table);
        known.len() - 1
    })
}
