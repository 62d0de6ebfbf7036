//! What benches share: a building of any size, and how much memory was used.

pub(crate) mod building;
pub(crate) mod memory;
