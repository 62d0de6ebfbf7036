//! Tests of the whole library, in one binary.

mod report;
mod walking;
