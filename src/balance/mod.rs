//! Who gets which share: linear programs for a first split, and the proof of how even a plan can be at all.

mod bound;
mod differences;
mod distances;
mod far;
mod split;
mod timetable;
mod tours;
mod unavoidable;
mod walking;

pub use bound::{Bound, Certificate, bound};
pub use split::split;
pub use timetable::retime;
