//! The standard: the tasks of each kind of room, with their minutes, frequency and priority.

use super::{Fixture, MachineId, SkillId, Weekdays};
use crate::units::Seconds;

/// A kind of room and what it needs.
#[derive(Clone, Debug, Default)]
pub struct RoomKind {
    /// Its written id, such as `restroom`.
    pub id: String,
    /// Whether water used here is used nowhere else (rule 8).
    pub restroom: bool,
    /// Whether it is closed to its users while it is cleaned (rule 5), and how long reopening takes.
    pub reopen: Option<Seconds>,
    /// Its tasks in the order they are done.
    pub tasks: Vec<Task>,
}

/// How much a piece of work matters. Lower sorts first and is kept longest.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Priority {
    /// Hygiene and safety: restrooms, touch points, waste, spills.
    Health,
    /// What users expect of every night.
    #[default]
    Expected,
    /// What only the eye misses.
    Appearance,
}

impl Priority {
    /// From most to least important.
    pub const ALL: [Priority; 3] = [Priority::Health, Priority::Expected, Priority::Appearance];

    /// The word used in files.
    pub fn word(self) -> &'static str {
        match self {
            Priority::Health => "health",
            Priority::Expected => "expected",
            Priority::Appearance => "appearance",
        }
    }
}

/// What a task's minutes are multiplied by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Rate {
    /// Once per visit.
    #[default]
    Visit,
    /// Per square metre of floor.
    SquareMetre,
    /// Per fixture of one kind.
    Per(Fixture),
    /// Per occupant.
    Occupant,
}

/// How a task is done, which decides its place in the order of rule 7.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Method {
    /// Before anything else: announce, close, inspect, flush.
    Open,
    /// Spray, leave wet for at least the dwell time, wipe. The task's minutes are for spraying; `wipe_minutes` for wiping.
    Spray {
        /// How long the surface stays wet at least; the product's label decides.
        dwell: Seconds,
    },
    /// Dry work: bins, restocking, dusting, sweeping, vacuuming; may be done during a dwell.
    #[default]
    Dry,
    /// Damp wiping without a dwell time, after the dry work.
    Wipe,
    /// Wet mopping, last, out through the door.
    Mop {
        /// How long the floor takes to dry.
        drying: Seconds,
    },
}

impl Method {
    /// Place in the order within a room: open, spray, dry, wipe, mop.
    pub fn step(self) -> u8 {
        match self {
            Method::Open => 0,
            Method::Spray { .. } => 1,
            Method::Dry => 2,
            Method::Wipe => 3,
            Method::Mop { .. } => 4,
        }
    }
}

/// How often a task is due.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Frequency {
    /// Every day the crew works.
    #[default]
    Daily,
    /// On these days of the week.
    On(Weekdays),
    /// So many times a week, on days chosen evenly.
    PerWeek(u32),
    /// Once every so many weeks, on a day chosen evenly.
    EveryWeeks(u32),
    /// Once a month, on a day chosen evenly.
    Monthly,
    /// Once a term, taken as every 17 weeks (three terms a year; assumption), on a day chosen evenly.
    Termly,
}

/// One thing done in a room.
#[derive(Clone, Debug, Default)]
pub struct Task {
    /// What it is called; unique within its kind.
    pub name: String,
    /// Minutes per unit of `rate`, at pace 1.
    pub minutes: f64,
    /// Minutes per unit of `rate` for the wiping of a sprayed surface; 0 unless the method is spray.
    pub wipe_minutes: f64,
    /// What the minutes are multiplied by.
    pub rate: Rate,
    /// How it is done.
    pub method: Method,
    /// How often.
    pub frequency: Frequency,
    /// How much it matters.
    pub priority: Priority,
    /// Who may do it: all are needed.
    pub skills: Vec<SkillId>,
    /// The machine it is done with.
    pub machine: Option<MachineId>,
    /// Whether it needs a cart; tasks with waste, water or a machine do anyway.
    pub cart: bool,
    /// Whether it is heavy lifting.
    pub heavy: bool,
    /// Litres of waste per unit of `waste_rate`.
    pub waste_litres: f64,
    /// What the waste is multiplied by.
    pub waste_rate: Rate,
    /// What is used, for the card's kit list.
    pub supplies: Vec<String>,
    /// Where the figures come from, or `assumption`.
    pub source: String,
}
