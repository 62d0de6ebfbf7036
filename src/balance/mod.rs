//! Who gets which share: linear programs for a first split and a calm calendar, and the proof of how even a plan can be at all.

mod bound;
pub mod calendar;
mod differences;
mod distances;
mod family;
mod far;
mod needs;
mod split;
mod timetable;
mod tours;
mod tree;
mod walking;
mod windows;

pub use bound::{Bound, Certificate, bound};
pub use split::split;
pub use timetable::retime;
pub use windows::least_people;
