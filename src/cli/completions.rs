//! `evenrun completions`: what a shell needs to complete commands, options and file names.

use super::Cli;
use super::exit::Exit;
use super::output;
use clap::CommandFactory;
use clap_complete::{Shell, generate};

/// Options of `completions`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  evenrun completions bash    then: evenrun completions bash > ~/.local/share/bash-completion/completions/evenrun
  evenrun completions fish    then: evenrun completions fish > ~/.config/fish/completions/evenrun.fish")]
pub(super) struct Args {
    /// The shell
    shell: Shell,
}

pub(super) fn run(args: &Args) -> Exit {
    let mut script = Vec::new();
    generate(args.shell, &mut Cli::command(), "evenrun", &mut script);
    match output::data(&String::from_utf8_lossy(&script)) {
        Ok(()) => Exit::Done,
        Err(exit) => exit,
    }
}
