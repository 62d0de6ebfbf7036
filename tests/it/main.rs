//! One test binary; each module looks at one layer from outside.

mod input;
