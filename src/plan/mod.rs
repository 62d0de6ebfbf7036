//! The answer: who does what when, what is left undone and why, how even it is, and the proof that it is sound.

mod check;
mod document;
mod model;

pub use check::{Rule, Violation, check};
pub use document::{Misfit, PlanDocument};
pub use model::{Plan, PlannedStop, Reason, Run, Undone, UndoneWork, What};
