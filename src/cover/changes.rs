//! What changed tonight, as the lead knows it.

use crate::site::{Calendar, RoomId, Site, WorkerId};
use crate::units::{Clock, Seconds, Span};

/// Everything that changed, with times elapsed since midnight of the plan's date.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Changes {
    /// Who does not come at all.
    pub absent: Vec<WorkerId>,
    /// Who leaves, and when.
    pub leaves: Vec<(WorkerId, Clock)>,
    /// Who comes later, and when.
    pub late: Vec<(WorkerId, Clock)>,
    /// Who comes though not on duty, or comes after all.
    pub extra: Vec<WorkerId>,
    /// Most overtime for anyone.
    pub overtime: Option<Seconds>,
    /// Rooms that cannot be cleaned for a while.
    pub closed: Vec<(RoomId, Span)>,
    /// Tasks asked for besides, with their minutes if these are not the standard's.
    pub added: Vec<(RoomId, String, Option<f64>)>,
    /// The moment at which all this is known; what has begun by then stays. Left out, it is the first moment at which somebody
    /// leaves; if nobody does, the night has not begun.
    pub now: Option<Clock>,
    /// Rooms done by now, if it is not those that the plan says.
    pub done: Option<Vec<RoomId>>,
}

impl Changes {
    /// Whoever leaves before their shift begins does not come at all.
    pub(super) fn never_come(mut self, site: &Site, calendar: &Calendar) -> Changes {
        let begins = |w: &WorkerId| calendar.elapsed_span(site.crew[w.index()].shift).from;
        let (never, leaves) = (self.leaves.iter().copied()).partition(|(w, at)| *at <= begins(w));
        self.now = self.now();
        self.leaves = leaves;
        let never: Vec<(WorkerId, Clock)> = never;
        self.absent.extend(never.iter().map(|(w, _)| *w));
        self
    }

    /// What has begun by this moment stays as it is.
    pub fn now(&self) -> Option<Clock> {
        self.now
            .or_else(|| self.leaves.iter().map(|(_, at)| *at).min())
    }

    /// The same for one worker: nothing more happened to those who have left.
    pub fn moment(&self, worker: WorkerId) -> Option<Clock> {
        let now = self.now()?;
        let left = self.leaves.iter().filter(|(w, _)| *w == worker);
        Some(left.map(|(_, at)| *at).fold(now, Clock::min))
    }

    /// Whether somebody has left by now.
    pub fn has_left(&self, worker: WorkerId) -> bool {
        let by = |now: Clock| self.leaves.iter().any(|(w, at)| *w == worker && *at <= now);
        self.now().is_some_and(by)
    }
}
