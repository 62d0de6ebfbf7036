<<<<<<< HEAD
//! One test binary; each module looks at one layer from outside.

mod input;
=======
//! Tests of the whole library, in one binary.

mod walking;
>>>>>>> walk
