//! The program: reads the command line and hands over to one command.

mod cli;

use std::process::ExitCode;

fn main() -> ExitCode {
    cli::run().into()
}
