//! Tests of the whole library, in one binary.
#![expect(
    clippy::unwrap_used,
    reason = "in a test, what is not there is a failure"
)]

mod arithmetic;
mod audit;
mod calendar;
mod cli;
mod common;
mod cover;
mod determinism;
mod developers;
mod document;
mod dwell;
mod earlier;
mod examples;
mod explain;
mod fills;
mod fuzz;
mod import;
mod input;
mod layering;
mod mutation;
mod oracle;
mod proof;
mod properties;
mod published;
mod readme;
mod report;
mod schema;
mod small;
mod staff;
mod supplies;
mod support;
mod together;
mod tonight;
mod trade;
mod unpadded;
mod walking;
