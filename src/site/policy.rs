//! The site's own rules: set-up, groups, exit pairs, evenness band, speeds, handling times; and its duties.

use super::{Hours, KindId, PlaceId, RoomId, SkillId, Weekdays};
use crate::units::Seconds;

/// Rules that hold for every run of the site.
#[derive(Clone, Debug)]
pub struct Policy {
    /// Getting ready at the start place, part of every run.
    pub set_up: Seconds,
    /// Putting away at the start place, part of every run.
    pub tear_down: Seconds,
    /// Shares are compared after rounding up to multiples of this fraction of available time.
    pub band: f64,
    /// Most overtime for anyone.
    pub overtime: Seconds,
    /// Kept free in every shift.
    pub reserve: Seconds,
    /// Rooms of which some must stay open.
    pub groups: Vec<Group>,
    /// Halls and stairs (as rooms) of which two are never wet at once.
    pub exit_pairs: Vec<[RoomId; 2]>,
    /// Kinds of room whose work goes round: each day it is wished for another half of the crew.
    pub rotate: Vec<KindId>,
    /// Changing and filling a bucket.
    pub fill: Seconds,
    /// Emptying a cart.
    pub dump: Seconds,
    /// Fetching a machine, and again for bringing it back.
    pub fetch: Seconds,
    /// How fast people get about.
    pub speeds: Speeds,
}

impl Default for Policy {
    fn default() -> Policy {
        Policy {
            set_up: Seconds::ZERO,
            tear_down: Seconds::ZERO,
            band: 0.002,
            overtime: Seconds::ZERO,
            reserve: Seconds::ZERO,
            groups: Vec::new(),
            exit_pairs: Vec::new(),
            rotate: Vec::new(),
            fill: Seconds(180),
            dump: Seconds(120),
            fetch: Seconds(120),
            speeds: Speeds::default(),
        }
    }
}

/// Walking speeds in metres per second.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Speeds {
    /// On foot, level.
    pub foot: f64,
    /// With a cart, level.
    pub cart: f64,
    /// Stairs up, along the slope.
    pub stairs_up: f64,
    /// Stairs down, along the slope.
    pub stairs_down: f64,
    /// Whether walking takes time; off only to work out cleaning time alone.
    pub walking: bool,
}

impl Default for Speeds {
    /// 1.07 m/s (3.5 ft/s): MUTCD 2009 walking speed for pedestrian clearance. Cart: 0.85 of it, an assumption. Stairs: down 0.5
    /// and up 0.35 of level speed, as used in evacuation models.
    fn default() -> Speeds {
        Speeds {
            foot: 1.07,
            cart: 1.07 * 0.85,
            stairs_up: 1.07 * 0.35,
            stairs_down: 1.07 * 0.5,
            walking: true,
        }
    }
}

/// Rooms of which some must stay open at every moment (rule 6).
#[derive(Clone, Debug)]
pub struct Group {
    /// What people call it.
    pub name: String,
    /// Its rooms.
    pub rooms: Vec<RoomId>,
    /// How many stay open.
    pub keep_open: u32,
}

/// A thing of the site, not of a room.
#[derive(Clone, Debug)]
pub struct Duty {
    /// What it is called, unique among duties.
    pub name: String,
    /// Where.
    pub place: PlaceId,
    /// How long, at pace 1.
    pub minutes: f64,
    /// When it may be done; `None` is always.
    pub window: Option<Hours>,
    /// On which days.
    pub days: Weekdays,
    /// Who may do it: all are needed.
    pub skills: Vec<SkillId>,
    /// Whether everybody else must be back first (lock up and alarm).
    pub last: bool,
}
