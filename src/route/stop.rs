//! When to stop searching: after so many iterations, at a moment, or when asked to.

use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

/// When to stop.
#[derive(Clone, Copy, Debug)]
pub enum Budget {
    /// After so many iterations of each island: the same answer on every machine.
    Iterations(u64),
    /// At a moment.
    Until {
        /// When the work began.
        from: Instant,
        /// When it ends.
        to: Instant,
    },
}

/// A budget, and a flag that ends the search at once.
#[derive(Clone, Copy, Debug)]
pub struct Stop<'a> {
    /// How much to search.
    pub budget: Budget,
    /// Set to end the search early with the best plan so far.
    pub interrupted: &'a AtomicBool,
}

/// Set by nobody.
static NEVER: AtomicBool = AtomicBool::new(false);

/// So much of a budget of time is left for the last touches.
const LAST: f64 = 0.04;

impl Stop<'_> {
    /// Nothing ends what goes on as long as it has to.
    pub const NEVER: Stop<'static> = Stop {
        budget: Budget::Iterations(u64::MAX),
        interrupted: &NEVER,
    };

    /// The same with so much time left at the end for something else.
    #[must_use]
    pub fn leaving(self, time: Duration) -> Self {
        let budget = match self.budget {
            Budget::Until { from, to } => Budget::Until {
                from,
                to: to.checked_sub(time).unwrap_or(from).max(from),
            },
            rounds @ Budget::Iterations(_) => rounds,
        };
        Stop { budget, ..self }
    }

    /// The same with what is left of a budget of time as the whole of it.
    #[must_use]
    pub(super) fn anew(self) -> Self {
        let budget = match self.budget {
            Budget::Until { to, .. } => Budget::Until {
                from: Instant::now().min(to),
                to,
            },
            rounds @ Budget::Iterations(_) => rounds,
        };
        Stop { budget, ..self }
    }

    /// How much of a budget of time is used; nothing of one of rounds.
    pub fn used(&self) -> Duration {
        match self.budget {
            Budget::Iterations(_) => Duration::ZERO,
            Budget::Until { from, .. } => from.elapsed(),
        }
    }

    /// How much of a budget of time is left; nothing of one of rounds.
    pub fn left(&self) -> Duration {
        match self.budget {
            Budget::Iterations(_) => Duration::ZERO,
            Budget::Until { to, .. } => to.saturating_duration_since(Instant::now()),
        }
    }

    /// Whether more than a part of a budget of time is used.
    pub fn has_used(&self, part: f64) -> bool {
        match self.budget {
            Budget::Iterations(_) => false,
            Budget::Until { from, to } => {
                from.elapsed() > to.saturating_duration_since(from).mul_f64(part)
            }
        }
    }

    /// Whether the last touches, too, have to end.
    pub(super) fn is_over(&self) -> bool {
        let late = match self.budget {
            // Without any search the first plan is wanted as it is.
            Budget::Iterations(count) => count == 0,
            Budget::Until { to, .. } => Instant::now() >= to,
        };
        late || self.interrupted.load(Ordering::Relaxed)
    }

    /// Whether the time is up, or it was asked to end. A number of rounds never ends here.
    pub fn has_ended(&self) -> bool {
        let late = match self.budget {
            Budget::Iterations(_) => false,
            Budget::Until { to, .. } => Instant::now() >= to,
        };
        late || self.interrupted.load(Ordering::Relaxed)
    }

    /// How much of the budget is used, from 0 to 1, before iteration `done`; `None` when it is time to stop.
    pub(super) fn progress(&self, done: u64) -> Option<f64> {
        if self.interrupted.load(Ordering::Relaxed) {
            return None;
        }
        let used = match self.budget {
            Budget::Iterations(0) => return None,
            Budget::Iterations(all) => done as f64 / all as f64,
            Budget::Until { from, to } => {
                let whole = to.saturating_duration_since(from).as_secs_f64();
                from.elapsed().as_secs_f64() / (whole * (1.0 - LAST)).max(1e-9)
            }
        };
        (used < 1.0).then_some(used)
    }
}
