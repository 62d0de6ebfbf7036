//! What one night asks for beyond the calendar.

use super::Priority;

/// Why a task is due that the calendar does not ask for, or matters more than it usually does.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Called {
    /// It matters at least this much.
    pub priority: Option<Priority>,
    /// What has waited too long comes before all else of its priority.
    pub overdue: bool,
}
