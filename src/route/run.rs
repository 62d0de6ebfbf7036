//! One worker's order with its times: what the search knows of a run without timing it again.

use super::instance::{Instance, Secs};
use super::order::Visit;
use super::plain::Stop;
use super::prices::OrderCosts;
use super::spare::Spare;
use super::swept::Swept;
use super::timing::{Ending, Timed};

/// One worker's order, timed.
#[derive(Debug, Default)]
pub(super) struct Run {
    pub(super) visits: Vec<Visit>,
    /// Where the stops are; the worker's start place before the first and after the last.
    pub(super) path: Vec<u32>,
    pub(super) costs: OrderCosts,
    pub(super) ending: Ending,
    pub(super) price: i64,
    pub(super) machines: u32,
    pub(super) with_cart: bool,
    /// For plain instances only: the stops and the end, and what is picked up in all.
    pub(super) stops: Vec<Stop>,
    pub(super) waste: i64,
    /// When the worker is free before each stop and after the last.
    pub(super) free: Vec<Secs>,
    /// When each stop may begin at the latest with everything after it as it is; and the end.
    pub(super) latest: Vec<Secs>,
    /// When each stop begins; and when the tear-down does.
    pub(super) starts: Vec<Secs>,
    /// Waited idly before each stop and all those before it; before the end, too.
    pub(super) waited: Vec<Secs>,
    /// Whether water in the bucket before each stop, and before the end, was used before and is used again.
    pub(super) water_kept: Vec<bool>,
    /// What the bucket could serve besides, two for each gap: before what is done there, and after it.
    pub(super) spare: Vec<Spare>,
    /// Time spent filling, emptying, on machines and on breaks in the gap before each stop; and before the end.
    pub(super) gap_work: Vec<Secs>,
    /// When each job of the run is done, from its first part to its last.
    pub(super) spans: Vec<(u32, Secs, Secs)>,
    /// Limits it holds, and when.
    pub(super) holds: Vec<(u16, Secs, Secs)>,
    /// The run spelled out.
    pub(super) events: Vec<Timed>,
    /// How its times were found.
    pub(super) swept: Swept,
}

impl Run {
    /// Makes it the run of a worker who does nothing.
    pub(super) fn clear(&mut self, instance: &Instance, worker: usize) {
        self.clear_plain(instance, worker);
        let out = (instance.before).sets_out(worker, &instance.workers[worker]);
        let worker = &instance.workers[worker];
        let ready = worker.from + worker.set_up;
        self.visits.clear();
        self.spans.clear();
        self.holds.clear();
        self.events.clear();
        (self.costs, self.ending, self.price) = Default::default();
        (self.machines, self.with_cart) = Default::default();
        refill(&mut self.path, [out, worker.start]);
        refill(&mut self.free, [ready]);
        refill(&mut self.latest, [worker.latest - worker.tear_down]);
        refill(&mut self.starts, [ready]);
        refill(&mut self.waited, [0]);
        refill(&mut self.water_kept, [false]);
        refill(&mut self.spare, [Spare::default(); 2]);
        let breaks = worker.breaks.iter().map(|b| b.length).sum();
        refill(&mut self.gap_work, [breaks]);
    }
}

/// Takes new contents, keeping the room that was there.
pub(super) fn refill<T>(old: &mut Vec<T>, new: impl IntoIterator<Item = T>) {
    old.clear();
    old.extend(new);
}

impl Clone for Run {
    fn clone(&self) -> Run {
        let mut copy = Run::default();
        copy.clone_from(self);
        copy
    }

    /// Keeps the room that was there: the search copies runs all the time.
    fn clone_from(&mut self, other: &Run) {
        let Run {
            visits,
            path,
            costs,
            ending,
            price,
            machines,
            with_cart,
            stops,
            waste,
            free,
            latest,
            starts,
            waited,
            water_kept,
            spare,
            gap_work,
            spans,
            holds,
            events,
            swept: _,
        } = self;
        visits.clone_from(&other.visits);
        stops.clone_from(&other.stops);
        path.clone_from(&other.path);
        (*costs, *ending, *price) = (other.costs, other.ending, other.price);
        (*machines, *with_cart, *waste) = (other.machines, other.with_cart, other.waste);
        free.clone_from(&other.free);
        latest.clone_from(&other.latest);
        starts.clone_from(&other.starts);
        waited.clone_from(&other.waited);
        water_kept.clone_from(&other.water_kept);
        spare.clone_from(&other.spare);
        gap_work.clone_from(&other.gap_work);
        spans.clone_from(&other.spans);
        holds.clone_from(&other.holds);
        events.clone_from(&other.events);
    }
}
