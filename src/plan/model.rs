//! A plan as it is meant: resolved ids, elapsed seconds.

use crate::site::{MachineId, PlaceId, RoomId, Site, WorkerId};
use crate::units::Span;
use crate::work::DueTask;
use jiff::civil::Date;

/// All the runs of a date, and what is left undone.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// The date planned for.
    pub date: Date,
    /// One for each worker present, in the site's order; a worker with nothing to do has a run without stops.
    pub runs: Vec<Run>,
    /// What is due and not done, with the reason.
    pub undone: Vec<Undone>,
}

/// One worker's stops in order for one shift.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// Whose.
    pub worker: WorkerId,
    /// In order of time. The first is set-up and the last is tear-down, both at the start place, even where they take no time;
    /// an idle worker has none.
    pub stops: Vec<PlannedStop>,
}

/// One uninterrupted piece of a run at one place.
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedStop {
    /// What happens.
    pub what: What,
    /// Where.
    pub place: PlaceId,
    /// From when to when, elapsed.
    pub span: Span,
}

/// Whether a run of these stops moves with the cart: some task needs one, or a bucket, the cart's waste or a machine is seen to.
pub fn takes_cart(site: &Site, stops: &[PlannedStop]) -> bool {
    let takes = |what: &What| match what {
        What::Fill | What::Dump | What::Fetch(_) | What::Return(_) => true,
        _ => what.tasks().iter().any(|task| task.needs_cart(site)),
    };
    stops.iter().any(|stop| takes(&stop.what))
}

/// What happens at a stop.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum What {
    /// Getting ready at the start place.
    SetUp,
    /// All of a room's work in one go.
    Clean(RoomId, Vec<DueTask>),
    /// First part: open steps, spraying, and the dry work while it dwells.
    OpenAndWet(RoomId, Vec<DueTask>),
    /// Second part: wiping what was sprayed, damp wiping, mopping. Lists the same sprayed tasks again, and the wiped and mopped ones.
    WipeAndMop(RoomId, Vec<DueTask>),
    /// Last part of a room that was closed: sign away, open again.
    Reopen(RoomId),
    /// A duty, by index in the site's list.
    Duty(usize),
    /// Filling or changing the bucket.
    Fill,
    /// Emptying the cart.
    Dump,
    /// Fetching a machine from its closet.
    Fetch(MachineId),
    /// Bringing a machine back.
    Return(MachineId),
    /// A break, by index in the worker's list.
    Break(usize),
    /// Putting away at the start place.
    TearDown,
}

impl What {
    /// The room worked in, if any.
    pub fn room(&self) -> Option<RoomId> {
        match self {
            What::Clean(room, _)
            | What::OpenAndWet(room, _)
            | What::WipeAndMop(room, _)
            | What::Reopen(room) => Some(*room),
            _ => None,
        }
    }

    /// The due tasks worked on, if any.
    pub fn tasks(&self) -> &[DueTask] {
        match self {
            What::Clean(_, tasks) | What::OpenAndWet(_, tasks) | What::WipeAndMop(_, tasks) => {
                tasks
            }
            _ => &[],
        }
    }
}

/// Something due that no run does.
#[derive(Clone, Debug, PartialEq)]
pub struct Undone {
    /// A room's task, or a duty by index.
    pub what: UndoneWork,
    /// Why not.
    pub reason: Reason,
}

/// What can be left undone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum UndoneWork {
    /// A task of a room.
    Task(DueTask),
    /// A duty, by index in the site's list.
    Duty(usize),
}

/// Why something is left undone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Reason {
    /// Nobody present may do it: the missing skill, clearance, machine or way of moving, in words.
    Nobody(String),
    /// Someone may, but it fits nobody's shift and the room's windows even alone.
    NoWindow(String),
    /// The night is past the moment by which it had to be done: what has to come after it has begun, in words.
    TooLate(String),
    /// There was not enough time beside work of the same or higher priority.
    NoTime,
}
