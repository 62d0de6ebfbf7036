//! Tests of the whole library, in one binary.
#![expect(
    clippy::unwrap_used,
    reason = "in a test, what is not there is a failure"
)]

mod arithmetic;
mod cli;
mod common;
mod developers;
mod document;
mod input;
mod mutation;
mod readme;
mod report;
mod support;
mod trade;
mod walking;
