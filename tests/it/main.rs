//! Tests of the whole library, in one binary.

mod arithmetic;
mod common;
mod determinism;
mod developers;
mod document;
mod examples;
mod input;
mod layering;
mod mutation;
mod oracle;
mod proof;
mod properties;
mod readme;
mod report;
mod support;
mod trade;
mod walking;
