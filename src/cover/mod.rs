//! The night changed: a plan repaired so that people keep what they had, what waits until another night, and what is different.
//!
//! [`cover`] is the recipe. What is done or under way ([`frozen`](self)) is not touched; what fell free is shared out by what each has left;
//! change against the plan before is a goal of its own, right after evenness.

mod carry;
mod changes;
mod diff;
mod document;
mod frozen;
mod go_on;
mod known;
mod make;
mod night;
mod rest;
mod saved_by;
mod state;
mod too_late;
mod waits;

pub use carry::{CarryDocument, WaitDocument};
pub use changes::Changes;
pub use diff::{Counts, Diff, PersonDiff, Shift, Work, diff};
pub use document::{ChangesDocument, CutDocument, PersonDocument, WorkDocument};
pub use known::STEADY;
pub use make::{Covered, Earlier, Request, cover};
pub use saved_by::{Saver, saved_by};
pub use waits::{Wait, waits};
