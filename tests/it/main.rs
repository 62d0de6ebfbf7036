//! Tests of the program as a whole, in one binary.

mod report;
