//! Tests of the whole library, in one binary.

mod arithmetic;
mod common;
mod developers;
mod document;
mod input;
mod layering;
mod mutation;
mod readme;
mod report;
mod support;
mod trade;
mod walking;
