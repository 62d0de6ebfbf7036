//! Orders that were swept one after the other: two of one run that begin alike are timed alike up to where they part.
//!
//! That holds as long as the other runs stand still and the same jobs are in both, which is so while one job is tried at one position after the
//! other, and put in at the best of them.

use super::label::Label;
use super::order::{Order, Visit};

/// What is left of sweeps that may help the next ones.
#[derive(Clone, Debug, Default)]
pub(super) struct Sweeps {
    /// Whether anything may be taken over from one to the next.
    kept: bool,
    /// The latest of each run, and after those what only has room.
    runs: Vec<Swept>,
    used: usize,
}

/// An order, and its labels as far as they are known.
#[derive(Clone, Debug, Default)]
pub(super) struct Swept {
    run: usize,
    thorough: bool,
    visits: Vec<Visit>,
    pub(super) order: Order,
    /// By stop, the first for the beginning.
    pub(super) labels: Vec<Vec<Label>>,
    /// How many stops have labels.
    pub(super) reached: usize,
}

impl Sweeps {
    /// From here on the same jobs are tried in orders of the same runs.
    pub(super) fn begin(&mut self) {
        (self.kept, self.used) = (true, 0);
    }

    /// Some run has changed, or the jobs do.
    pub(super) fn end(&mut self) {
        (self.kept, self.used) = (false, 0);
    }

    /// What is known of an order that is to be swept; leaves an order of no use in its place.
    pub(super) fn of(
        &mut self,
        run: usize,
        thorough: bool,
        visits: &[Visit],
        order: &mut Order,
    ) -> &mut Swept {
        if !self.kept {
            self.used = 0;
        }
        let same = |s: &Swept| s.run == run && s.thorough == thorough;
        let known = self.runs[..self.used].iter().position(same);
        let at = known.unwrap_or(self.used);
        if known.is_none() {
            self.used += 1;
            self.runs.resize_with(self.runs.len().max(self.used), Swept::default);
            (self.runs[at].run, self.runs[at].thorough, self.runs[at].reached) = (run, thorough, 0);
        }
        self.runs[at].take_over(visits, order);
        &mut self.runs[at]
    }
}

impl Swept {
    /// Becomes another order, swept up to where it parts from this one.
    fn take_over(&mut self, visits: &[Visit], order: &mut Order) {
        let old = self.visits.iter().zip(&self.order.facts);
        let new = visits.iter().zip(&order.facts);
        let alike = old.zip(new).take(self.reached).take_while(|(a, b)| a == b);
        self.reached = if self.order.with_cart == order.with_cart {
            alike.count()
        } else {
            0
        };
        std::mem::swap(&mut self.order, order);
        self.visits.truncate(self.reached);
        self.visits.extend(&visits[self.reached..]);
        let more = self.labels.len().max(visits.len() + 1);
        self.labels.resize_with(more, Vec::new);
    }
}
