//! What is due on a date: for each room the tasks the standard asks for, gathered into jobs.

mod due;
mod jobs;

pub use due::{DueTask, due_on, quantity};
pub use jobs::{Job, Target, gather};
