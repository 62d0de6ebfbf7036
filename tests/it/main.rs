//! Tests of the whole library, in one binary.

mod arithmetic;
mod common;
mod document;
mod input;
mod mutation;
mod report;
mod support;
mod trade;
mod walking;
