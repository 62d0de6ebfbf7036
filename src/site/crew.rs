//! Who is there: shifts, breaks, pace, what they may do and open, what they push.

use super::{AccessId, PlaceId, SkillId, Weekdays};
use crate::units::{Litres, Metres, Seconds, Span, SquareMetres};

/// A member of the crew.
#[derive(Clone, Debug)]
pub struct Worker {
    /// Name, unique in the crew.
    pub name: String,
    /// Wall-clock shift; its end may lie past 24:00.
    pub shift: Span,
    /// Days worked, by the day the shift starts on.
    pub days: Weekdays,
    /// Speed of work against the standard: 1.1 is a tenth faster. Walking is not affected.
    pub pace: f64,
    /// Where runs start and end.
    pub start: PlaceId,
    /// What they may do.
    pub skills: Vec<SkillId>,
    /// Which doors and rooms they may open.
    pub access: Vec<AccessId>,
    /// Whether they push a cart or go on foot only.
    pub moves: Moves,
    /// Whether they may use stairs when on foot.
    pub stairs: bool,
    /// Whether they may do heavy lifting.
    pub heavy: bool,
    /// Breaks, by their windows.
    pub breaks: Vec<Break>,
}

/// How a worker gets about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Moves {
    /// On foot only: no cart, bucket or machine work.
    Foot,
    /// With a cart whenever the run has cart, bucket or machine work.
    Cart(Cart),
}

/// A cart and its bucket.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cart {
    /// Waste it holds.
    pub waste: Litres,
    /// Floor that one fill of the bucket mops.
    pub bucket: SquareMetres,
    /// Rooms that one fill serves at most (EPA, *Using Microfiber Mops in Hospitals*, 2002: change every 2 to 3 rooms).
    pub bucket_rooms: u32,
    /// Clear width it needs.
    pub width: Metres,
}

/// A meal or rest break.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Break {
    /// What it is called.
    pub name: String,
    /// How long; taken whole.
    pub length: Seconds,
    /// Wall-clock window it lies wholly inside.
    pub window: Span,
    /// Where; `None` is the nearest break place, or the start place if there is none.
    pub place: Option<PlaceId>,
    /// Whether it is paid. Either way it is not available time.
    pub paid: bool,
}
