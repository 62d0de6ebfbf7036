//! Undone tasks that fit into a run in no way, so that nobody tries again while run and neighbours stay as they are.

use crate::work::DueTask;
use std::collections::BTreeMap;

/// What was tried in vain: a task in a run, by its position, with its room visited or not; and whether other runs had to do with it.
#[derive(Default)]
pub(super) struct Tried(BTreeMap<(DueTask, usize, bool), bool>);

impl Tried {
    /// Whether a task was tried in a run, by its position, with its room visited or not.
    pub(super) fn contains(&self, task: DueTask, run: usize, visited: bool) -> bool {
        self.0.contains_key(&(task, run, visited))
    }

    /// Tried, and not found to fit; `by_others` is whether the run by itself would have had time.
    pub(super) fn insert(&mut self, task: DueTask, run: usize, visited: bool, by_others: bool) {
        self.0.insert((task, run, visited), by_others);
    }

    /// A run was changed, and `beside` whether the others see that.
    pub(super) fn forget(&mut self, run: usize, beside: bool) {
        let stays = |other: usize, by_others: bool| other != run && !(beside && by_others);
        self.0
            .retain(|(_, other, _), by_others| stays(*other, *by_others));
    }
}
