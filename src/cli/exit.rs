//! How the program ends, as a number that scripts can rely on.

use std::process::ExitCode;

/// Shown below every help text.
pub(super) const HELP: &str = "Exit codes:
  0  done, nothing undone and nothing broken
  1  done, but work is left undone, or something is broken that was to be checked
  2  the input or the command line is wrong
  3  a bug in evenrun

`evenrun help COMMAND` says more about each command. Times are planning figures: they are never a reason to cut short the contact
time of a product label or the drying of a floor.";

/// How the program ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Exit {
    /// Nothing undone, nothing broken.
    Done,
    /// Something undone or broken.
    Left,
    /// Bad input or usage.
    Bad,
    /// A bug.
    Bug,
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> ExitCode {
        ExitCode::from(exit as u8)
    }
}

/// Prints what clap has to say: help and version are not errors.
pub(super) fn of_usage(error: &clap::Error) -> Exit {
    // Nobody is left to tell if even this cannot be printed.
    let _ = error.print();
    if error.use_stderr() {
        Exit::Bad
    } else {
        Exit::Done
    }
}
