//! What there was before the search: a night that is under way, and a plan that people know.
//!
//! What is done or under way is not part of the problem any more. It shows only in the state in which each worker goes on: where,
//! since when, with what on the cart and in the bucket. A room that is begun keeps its remaining stops in its worker's run.

use super::instance::{Secs, Worker};
use super::label::{Label, Pending, Water};
use super::order::Visit;

/// Both; nothing, for a plan from scratch.
#[derive(Clone, Debug, Default)]
pub struct Before {
    /// By worker; empty if nobody has begun.
    pub begun: Vec<Option<Begun>>,
    /// Limits that what is done or under way holds, and from when to when: closures that are over, floors that dry.
    pub holds: Vec<(u16, Secs, Secs)>,
    /// The plan that people know, if change counts.
    pub known: Option<Known>,
}

impl Before {
    /// Whether people know a plan that is to change little.
    #[inline]
    pub(super) fn is_known(&self) -> bool {
        self.known.is_some()
    }

    /// In what state a worker goes on; `None` for one who begins.
    #[inline]
    pub fn begun(&self, worker: usize) -> Option<&Begun> {
        self.begun.get(worker).and_then(Option::as_ref)
    }

    /// Where a worker sets out from.
    #[inline]
    pub(super) fn sets_out(&self, worker: usize, who: &Worker) -> u32 {
        self.begun(worker).map_or(who.start, |b| b.place)
    }

    /// Whether a job is begun: its worker finishes it.
    pub(super) fn is_open(&self, job: u32) -> bool {
        let mut visits = self.begun.iter().flatten().flat_map(|b| &b.visits);
        visits.any(|v| v.job == job)
    }

    /// When a worker began a job that is still to be finished.
    pub(super) fn opened(&self, worker: usize, job: u32) -> Option<Secs> {
        let open = &self.begun(worker)?.open;
        open.iter().find(|o| o.job == job).map(|o| o.start)
    }

    /// Change that the order of a run alone makes, in points.
    pub(super) fn change(&self, worker: usize, visits: &[Visit]) -> i32 {
        let Some(known) = &self.known else {
            return 0;
        };
        let others = |v: &&Visit| {
            let was = &known.jobs[v.job as usize];
            v.part == 0
                && was
                    .as_ref()
                    .is_some_and(|w| usize::from(w.worker) != worker)
        };
        let touched = known.orders[worker] != visits;
        OTHER_WORKER * visits.iter().filter(others).count() as i32 + TOUCHED * i32::from(touched)
    }

    /// Change that the start of a stop makes, in points. A stop of somebody else's has changed in full already.
    #[inline]
    pub(super) fn moved(&self, worker: usize, visit: Visit, start: Secs) -> i32 {
        let Some(known) = &self.known else {
            return 0;
        };
        let Some(was) = &known.jobs[visit.job as usize] else {
            return 0;
        };
        let before = was.starts.get(usize::from(visit.part));
        let far = |before: &Secs| (start - before).abs() > known.tolerance;
        MOVED * i32::from(usize::from(was.worker) == worker && before.is_some_and(far))
    }
}

/// Points of change: a job that changes its worker, a stop whose time moves, a run that is not as it was.
const OTHER_WORKER: i32 = 10;
const MOVED: i32 = 1;
const TOUCHED: i32 = 5;

/// The plan that people know.
#[derive(Clone, Debug)]
pub struct Known {
    /// By job; `None` where it was nobody's, or somebody's who is gone.
    pub jobs: Vec<Option<Was>>,
    /// By worker, the order of stops.
    pub orders: Vec<Vec<Visit>>,
    /// A stop that starts within so much of before has not moved.
    pub tolerance: Secs,
    /// What a point of change costs in the search, in milliseconds of an averagely loaded worker.
    pub price: i64,
    /// Whether change counts before evenness.
    pub first: bool,
}

/// How a job was planned.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Was {
    /// By whom.
    pub worker: u16,
    /// How many of its tasks were to be done.
    pub scope: u8,
    /// When each part was to start.
    pub starts: Vec<Secs>,
}

/// The state in which a worker goes on. The worker's `from` is the moment, and `set_up` and breaks taken are behind them.
#[derive(Clone, Debug, Default)]
pub struct Begun {
    /// Where.
    pub place: u32,
    /// Whether the run moves with a cart already.
    pub with_cart: bool,
    /// What is on the cart.
    pub waste: i32,
    /// What the bucket still mops: floor, and rooms.
    pub water: (i32, u8),
    /// Whether its water was used: in a restroom, or elsewhere.
    pub used: Option<bool>,
    /// Machines held, by bit.
    pub machines: u32,
    /// Machines held or brought back already: a unit is one worker's for the whole night.
    pub fetched: u32,
    /// Rooms begun and not finished.
    pub open: Vec<Open>,
    /// The stops that finish them, in their order before.
    pub visits: Vec<Visit>,
}

/// A job begun and not finished.
#[derive(Clone, Copy, Debug)]
pub struct Open {
    /// Which.
    pub job: u32,
    /// When its first part began.
    pub start: Secs,
    /// When its latest part ended or ends.
    pub end: Secs,
}

impl Begun {
    /// The label that a run goes on from at a moment.
    pub(super) fn label(&self, time: Secs) -> Label {
        let mut label = Label {
            time,
            waste: self.waste,
            area: self.water.0,
            rooms: self.water.1,
            water: match self.used {
                None => Water::Unused,
                Some(true) => Water::Restroom,
                Some(false) => Water::Elsewhere,
            },
            ..Label::default()
        };
        for open in &self.open {
            // More rooms are never open at once in a plan of this program; a run with more cannot be timed and is refused there.
            label.open(Pending {
                job: open.job,
                start: open.start,
                end: open.end,
            });
        }
        label
    }
}
