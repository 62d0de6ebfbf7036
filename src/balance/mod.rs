//! Who gets which share: linear programs for a first split, and the proof of how even a plan can be at all.

mod bound;
pub mod calendar;
mod tours;
mod unavoidable;
mod windows;

pub use bound::{Bound, Certificate, bound};
pub use windows::least_people;
