//! Who gets which share: linear programs for a first split, and the proof of how even a plan can be at all.

mod bound;
mod distances;
mod far;
mod split;
mod tours;
mod unavoidable;
mod walking;

pub use bound::{Bound, Certificate, bound};
pub use split::split;
