//! The walking graph of one walker.
