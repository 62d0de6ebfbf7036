//! `evenrun man`: the manual, made from the definitions of the commands.

use super::Cli;
use super::exit::Exit;
use super::folder;
use super::output::{self, Output};
use super::refusal::refuse;
use clap::{Command, CommandFactory};
use clap_mangen::Man;
use std::io;
use std::path::PathBuf;

/// Options of `man`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  evenrun man                        the page of the program; to read it: evenrun man | man -l -
  evenrun man --out share/man/man1   a page for the program and for every command")]
pub(super) struct Args {
    /// Write a page for the program and for every command into this folder
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
}

pub(super) fn run(args: &Args, output: Output) -> Exit {
    written(args, output).unwrap_or_else(|exit| exit)
}

fn written(args: &Args, output: Output) -> Result<Exit, Exit> {
    let mut program = Cli::command();
    program.build();
    let failed = |error: io::Error| {
        output::wrong(format!("error: cannot write the manual: {error}"));
        Exit::Bug
    };
    let Some(path) = &args.out else {
        output::data(&page(&program).map_err(failed)?)?;
        return Ok(Exit::Done);
    };
    folder::make(path).map_err(|refusal| refuse(&[refusal], output))?;
    let mut pages = Vec::new();
    let mut waiting = vec![program];
    while let Some(command) = waiting.pop() {
        let name = command
            .get_bin_name()
            .unwrap_or("evenrun")
            .replace(' ', "-");
        let text = page(&command.clone().display_name(&name)).map_err(failed)?;
        pages.push((path.join(format!("{name}.1")), text));
        waiting.extend(
            command
                .get_subcommands()
                .filter(|c| c.get_name() != "help")
                .cloned(),
        );
    }
    output.put_all(&pages)?;
    Ok(Exit::Done)
}

fn page(command: &Command) -> io::Result<String> {
    let mut page = Vec::new();
    Man::new(command.clone()).render(&mut page)?;
    Ok(String::from_utf8_lossy(&page).into_owned())
}
