//! `evenrun check`: every problem of a site at once.

use super::exit::Exit;
use super::output::Output;
use super::site;
use evenrun::input::read_site;
use std::path::PathBuf;

/// Options of `check`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  evenrun check my-site          every problem, with file, line, column and a hint
  evenrun check my-site --json   the same for programs")]
pub(super) struct Args {
    /// The site: a folder with a site.yaml, or its YAML file
    site: PathBuf,
    /// Print the problems as JSON
    #[arg(long)]
    json: bool,
}

pub(super) fn run(args: &Args, output: Output) -> Exit {
    checked(args, output.json(args.json)).unwrap_or_else(|exit| exit)
}

fn checked(args: &Args, output: Output) -> Result<Exit, Exit> {
    let (problems, sound) = match read_site(&args.site) {
        Ok(reading) => (reading.warnings, true),
        Err(problems) => (problems.0, false),
    };
    site::tell(&problems, output)?;
    output.note(site::count(&problems));
    Ok(if sound { Exit::Done } else { Exit::Left })
}
