//! Whether there is time for one more plan.

use crate::route::Stop;
use std::time::Duration;

/// How long plans take, against the time that is left.
pub(super) struct Pace<'a> {
    stop: Stop<'a>,
    last: Duration,
}

impl<'a> Pace<'a> {
    pub(super) fn new(stop: Stop<'a>) -> Pace<'a> {
        Pace {
            stop,
            last: Duration::ZERO,
        }
    }

    /// Makes one and notes how long that took.
    pub(super) fn time<T>(&mut self, plan: impl FnOnce() -> T) -> T {
        let begun = self.stop.used();
        let made = plan();
        self.last = self.stop.used().saturating_sub(begun);
        made
    }

    /// Whether one more that takes as long as the last one would be ready in time; of rounds there is always time.
    pub(super) fn has_time(&self) -> bool {
        !self.stop.has_ended() && self.stop.left() >= self.last
    }
}
