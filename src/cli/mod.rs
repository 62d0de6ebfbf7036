//! The command line: one file per command. Data goes to stdout, everything else to stderr; only this layer prints.

mod check;
mod cover;
mod diff;
mod exit;
mod new;
mod output;
mod plan;
mod refusal;
mod report;
mod schema;
mod site;
mod tonight;
mod verify;

use clap::{Parser, Subcommand};
use exit::Exit;
use output::Output;

/// Splits a building's cleaning work fairly over a crew and gives each person a timed run that can really be walked.
#[derive(Debug, Parser)]
#[command(name = "evenrun", version, after_help = exit::HELP)]
struct Cli {
    #[command(subcommand)]
    command: Command,
    /// Say only what went wrong
    #[arg(short, long, global = true, conflicts_with = "verbose")]
    quiet: bool,
    /// Say more about how it was done
    #[arg(short, long, global = true)]
    verbose: bool,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Read a site and list every problem at once, with its file, line, column and a hint
    Check(check::Args),
    /// Make a plan for a date: the summary on stdout, plan.json, report.html and cards.html in a folder
    Plan(plan::Args),
    /// Check a plan file against its site, rule by rule
    Verify(verify::Args),
    /// Repair a plan after the night has changed: a cover sheet on stdout, the new plan and what waits in a folder
    Cover(cover::Args),
    /// Tell what changed between two plans, person by person
    Diff(diff::Args),
    /// Show a plan again: the summary on stdout, and the files asked for
    Report(report::Args),
    /// Write a small commented site to start from
    New(new::Args),
    /// Print the JSON Schema of the site file, for editors
    Schema,
}

/// Does what the command line says.
pub(crate) fn run() -> Exit {
    let cli = match Cli::try_parse() {
        Ok(cli) => cli,
        Err(error) => return exit::of_usage(&error),
    };
    let output = Output::new(cli.quiet, cli.verbose);
    match cli.command {
        Command::Check(args) => check::run(&args, output),
        Command::Plan(args) => plan::run(&args, output),
        Command::Verify(args) => verify::run(&args, output),
        Command::Cover(args) => cover::run(&args, output),
        Command::Diff(args) => diff::run(&args, output),
        Command::Report(args) => report::run(&args, output),
        Command::New(args) => new::run(&args, output),
        Command::Schema => schema::run(),
    }
}

#[cfg(test)]
mod tests {
    use super::Cli;
    use clap::CommandFactory;

    #[test]
    fn the_command_line_is_well_formed() {
        Cli::command().debug_assert();
    }
}
