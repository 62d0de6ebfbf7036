//! Undone tasks that fit into a run in no way, so that nobody tries again while run and neighbours stay as they are.

use crate::work::DueTask;
use std::collections::BTreeSet;

/// What was tried in vain.
#[derive(Default)]
pub(super) struct Tried(BTreeSet<(DueTask, usize, bool)>);

impl Tried {
    /// Whether a task was tried in a run, by its position, with its room visited or not.
    pub(super) fn contains(&self, task: DueTask, run: usize, visited: bool) -> bool {
        self.0.contains(&(task, run, visited))
    }

    /// Tried, and not found to fit.
    pub(super) fn insert(&mut self, task: DueTask, run: usize, visited: bool) {
        self.0.insert((task, run, visited));
    }

    /// A run was changed, and `beside` whether the others see that.
    pub(super) fn forget(&mut self, run: usize, beside: bool) {
        self.0.retain(|(_, other, _)| !beside && *other != run);
    }
}
