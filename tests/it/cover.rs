//! The night changed: cover plans, what they keep, what waits, and what is told of them.
//!
//! Figures come from no outside source here: nights are made up, and small ones worked out by hand.

mod by_hand;
mod carry;
mod dial;
mod saved;
mod soak;
mod too_late;
