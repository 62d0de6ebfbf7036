//! Tests of the whole library, in one binary.

mod document;
mod mutation;
mod support;
mod walking;
