//! Tests of the program as its users meet it, in one binary.

mod arithmetic;
mod common;
mod trade;
