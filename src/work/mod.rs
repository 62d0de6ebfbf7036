//! What is due on a date: for each room the tasks the standard asks for, gathered into jobs.

mod barrier;
mod due;
mod jobs;
mod split;

pub use barrier::{Barrier, barrier};
pub use due::{DueTask, WEEKS_OF_A_TERM, all_tasks, crew_days, due_on, quantity, week_number};
pub use jobs::{Job, Jobs, Target, gather};
pub use split::Split;
