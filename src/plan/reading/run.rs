//! One run as it is read: how long each of its stops has to be, and how long its walks take.
//!
//! Every part is rounded up to whole seconds by itself: each task (a sprayed one as two halves), each walk.

use crate::plan::{PlannedStop, Run, What, takes_cart};
use crate::site::{Calendar, Cart, Method, Moves, PlaceId, Site, Worker, WorkerId};
use crate::units::{Seconds, Span};
use crate::walk::Times;
use crate::work::DueTask;
use std::sync::Arc;

/// Litres or square metres that are forgiven when amounts are compared with capacities.
pub(in crate::plan) const TOLERANCE: f64 = 1e-9;

/// A run with all that follows from its worker and its site.
#[derive(Clone)]
pub(in crate::plan) struct ReadRun<'a> {
    /// Where.
    pub(in crate::plan) site: &'a Site,
    /// Whose run, by id.
    pub(in crate::plan) id: WorkerId,
    /// Whose run.
    pub(in crate::plan) worker: &'a Worker,
    /// Its stops, in the order written.
    pub(in crate::plan) stops: &'a [PlannedStop],
    /// The shift, elapsed.
    pub(in crate::plan) shift: Span,
    /// The windows of the worker's breaks, elapsed.
    pub(in crate::plan) break_windows: Vec<Span>,
    /// Whether it is one for a cart.
    with_cart: bool,
    /// The cart pushed on this run; none on foot.
    pub(in crate::plan) cart: Option<Cart>,
    times: Arc<Times>,
}

/// Trips made in the middle of a stop, to a fill or waste point and back.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(in crate::plan) struct Trips {
    /// How many.
    pub(in crate::plan) count: i64,
    /// Walking there and back, each time.
    pub(in crate::plan) walk: Seconds,
    /// Filling or emptying, each time.
    pub(in crate::plan) handling: Seconds,
}

impl Trips {
    /// What they take together.
    pub(in crate::plan) fn total(self) -> Seconds {
        (self.walk + self.handling) * self.count
    }
}

/// How many loads of `capacity` it takes to hold `amount`; at least one.
pub(in crate::plan) fn loads(amount: f64, capacity: f64) -> i64 {
    if capacity <= 0.0 {
        return 1;
    }
    ((amount - TOLERANCE) / capacity).ceil().max(1.0) as i64
}

impl<'a> ReadRun<'a> {
    pub(super) fn new(
        site: &'a Site,
        run: &'a Run,
        calendar: &Calendar,
        times: Arc<Times>,
    ) -> Self {
        let worker = &site.crew[run.worker.index()];
        let with_cart = takes_cart(site, &run.stops);
        ReadRun {
            site,
            id: run.worker,
            worker,
            stops: &run.stops,
            shift: calendar.elapsed_span(worker.shift),
            break_windows: worker
                .breaks
                .iter()
                .map(|b| calendar.elapsed_span(b.window))
                .collect(),
            with_cart,
            cart: cart_of(worker).filter(|_| with_cart),
            times,
        }
    }

    /// The same worker with other stops; `None` if that would change the way of moving.
    pub(in crate::plan) fn with_stops<'b>(
        &'b self,
        stops: &'b [PlannedStop],
    ) -> Option<ReadRun<'b>> {
        let same_way = takes_cart(self.site, stops) == self.with_cart;
        same_way.then(|| self.showing(stops))
    }

    /// The same worker, moving in the same way, with other stops.
    pub(in crate::plan) fn showing<'b>(&'b self, stops: &'b [PlannedStop]) -> ReadRun<'b> {
        ReadRun {
            stops,
            ..self.clone()
        }
    }

    /// The shortest walk; `None` if there is no way.
    pub(in crate::plan) fn walk(&self, from: PlaceId, to: PlaceId) -> Option<Seconds> {
        self.times.get(from, to)
    }

    /// There and back; `None` if either is impossible.
    pub(in crate::plan) fn round_trip(&self, from: PlaceId, to: PlaceId) -> Option<Seconds> {
        Some(self.walk(from, to)? + self.walk(to, from)?)
    }

    /// What so many minutes of work at pace 1 take this worker.
    pub(in crate::plan) fn work(&self, minutes: f64) -> Seconds {
        Seconds::of_work(minutes, self.worker.pace)
    }

    /// What a task takes at a stop: a sprayed one is sprayed at the first and wiped at the second, or both at a single one.
    pub(in crate::plan) fn task_time(&self, what: &What, task: DueTask) -> Seconds {
        let whole = self.work(task.minutes(self.site));
        let sprayed = matches!(task.task(self.site).method, Method::Spray { .. });
        match what {
            What::Clean(..) if sprayed => whole + self.work(task.wipe_minutes(self.site)),
            What::WipeAndMop(..) if sprayed => self.work(task.wipe_minutes(self.site)),
            _ => whole,
        }
    }

    /// The cleaning, reopening or duty at a stop, without trips.
    pub(in crate::plan) fn work_time(&self, stop: &PlannedStop) -> Seconds {
        match &stop.what {
            What::Reopen(room) => {
                let kind = &self.site.kinds[self.site.rooms[room.index()].kind.index()];
                kind.reopen
                    .map_or(Seconds::ZERO, |time| self.work(time.as_minutes()))
            }
            What::Duty(duty) => self.work(self.site.duties[*duty].minutes),
            what => what.tasks().iter().map(|t| self.task_time(what, *t)).sum(),
        }
    }

    /// The mopping at a stop, without trips.
    pub(in crate::plan) fn mop_time(&self, stop: &PlannedStop) -> Seconds {
        let mops = stop.what.tasks().iter().filter(|t| t.is_mopping(self.site));
        mops.map(|t| self.task_time(&stop.what, *t)).sum()
    }

    /// How long a stop of work has to be, trips included; `None` if a trip it needs is impossible.
    pub(in crate::plan) fn length(&self, stop: &PlannedStop) -> Option<Seconds> {
        let trips = self.fill_trips(stop)?.total() + self.dump_trips(stop)?.total();
        Some(self.work_time(stop) + trips)
    }

    /// Square metres mopped at a stop: all of its room, or none.
    pub(in crate::plan) fn mopped(&self, stop: &PlannedStop) -> Option<f64> {
        let mops = stop.what.tasks().iter().any(|t| t.is_mopping(self.site));
        stop.what
            .room()
            .filter(|_| mops)
            .map(|room| self.site.rooms[room.index()].area.0)
    }

    /// Litres of waste collected at a stop; a sprayed task's at its first.
    pub(in crate::plan) fn waste(&self, stop: &PlannedStop) -> f64 {
        let second = matches!(stop.what, What::WipeAndMop(..));
        let sprayed = |t: &DueTask| matches!(t.task(self.site).method, Method::Spray { .. });
        let here = stop.what.tasks().iter().filter(|t| !(second && sprayed(t)));
        here.map(|t| t.waste_litres(self.site)).sum()
    }

    /// Trips for fresh water in the middle of a stop; `None` if needed and impossible.
    pub(in crate::plan) fn fill_trips(&self, stop: &PlannedStop) -> Option<Trips> {
        let (Some(area), Some(cart)) = (self.mopped(stop), self.cart) else {
            return Some(Trips::default());
        };
        let count = loads(area, cart.bucket.0) - 1;
        self.trips(
            stop.place,
            count,
            self.site.fill_points(),
            self.site.policy.fill,
        )
    }

    /// Trips to empty the cart in the middle of a stop; `None` if needed and impossible.
    pub(in crate::plan) fn dump_trips(&self, stop: &PlannedStop) -> Option<Trips> {
        let (waste, Some(cart)) = (self.waste(stop), self.cart) else {
            return Some(Trips::default());
        };
        let count = loads(waste, cart.waste.0) - 1;
        self.trips(
            stop.place,
            count,
            self.site.waste_points(),
            self.site.policy.dump,
        )
    }

    fn trips(
        &self,
        from: PlaceId,
        count: i64,
        points: impl Iterator<Item = PlaceId>,
        handling: Seconds,
    ) -> Option<Trips> {
        if count == 0 {
            return Some(Trips::default());
        }
        let walk = points
            .filter_map(|point| self.round_trip(from, point))
            .min()?;
        Some(Trips {
            count,
            walk,
            handling,
        })
    }
}

fn cart_of(worker: &Worker) -> Option<Cart> {
    match worker.moves {
        Moves::Cart(cart) => Some(cart),
        Moves::Foot => None,
    }
}
