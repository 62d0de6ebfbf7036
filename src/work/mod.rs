//! What is due on a date: for each room the tasks the standard asks for, gathered into jobs.

mod barrier;
mod due;
mod jobs;
mod split;

pub use barrier::{Barrier, barrier};
pub use due::{DueTask, due_on, quantity};
pub use jobs::{Job, Jobs, Target, gather};
pub use split::Split;
