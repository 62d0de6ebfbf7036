//! The command line: one file per command. Data goes to stdout, everything else to stderr; only this layer prints.

mod audit;
mod calendar;
mod check;
mod completions;
mod cover;
mod diff;
mod exit;
mod explain;
mod folder;
mod import;
mod man;
mod many;
mod new;
mod output;
mod plan;
mod refusal;
mod report;
mod schema;
mod search;
mod site;
mod staff;
mod tonight;
mod verify;

use clap::{Parser, Subcommand};
use exit::Exit;
use output::Output;
use std::ffi::OsString;

/// Splits a building's cleaning work fairly over a crew and gives each person a timed run that can really be walked.
#[derive(Debug, Parser)]
#[command(name = "evenrun", version, after_help = exit::HELP)]
pub(crate) struct Cli {
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
    /// Make a plan for a date, of one site or of many: the summary on stdout, plan.json, report.html and cards.html in a folder
    Plan(plan::Args),
    /// Check a plan file against its site, rule by rule
    Verify(verify::Args),
    /// Say why a room is done by whom and when, or why not
    Explain(explain::Args),
    /// Set today's split against the best one: shares, broken rules, and the rooms that have to change hands
    Audit(audit::Args),
    /// Choose the days of weekly, monthly and termly work so that the heaviest day is as light as possible
    Calendar(calendar::Args),
    /// How many people it takes for a shift with nothing undone, and what one more or one fewer does
    Staff(staff::Args),
    /// Repair a plan after the night has changed: a cover sheet on stdout, the new plan and what waits in a folder
    Cover(cover::Args),
    /// Tell what changed between two plans, person by person
    Diff(diff::Args),
    /// Show a plan again: the summary on stdout, and the files asked for
    Report(report::Args),
    /// Make or update a site from a spreadsheet, a calendar or a building file
    Import(import::Args),
    /// Write a small commented site to start from
    New(new::Args),
    /// Print the JSON Schema of the site file, for editors
    #[command(after_help = schema::EXAMPLES)]
    Schema,
    /// Print what a shell needs to complete commands and options
    Completions(completions::Args),
    /// Print the manual page, or write a page for every command
    Man(man::Args),
}

/// What a command line says; its first word is the program.
pub(crate) fn understood(words: impl Iterator<Item = OsString>) -> Result<Cli, clap::Error> {
    Cli::try_parse_from(words)
}

/// Does what the command line says.
pub(crate) fn run() -> Exit {
    let cli = match understood(std::env::args_os()) {
        Ok(cli) => cli,
        Err(error) => return exit::of_usage(&error),
    };
    let output = Output::new(cli.quiet, cli.verbose);
    match cli.command {
        Command::Check(args) => check::run(&args, output),
        Command::Plan(args) => plan::run(&args, output),
        Command::Verify(args) => verify::run(&args, output),
        Command::Explain(args) => explain::run(&args, output),
        Command::Audit(args) => audit::run(&args, output),
        Command::Calendar(args) => calendar::run(&args, output),
        Command::Staff(args) => staff::run(&args, output),
        Command::Cover(args) => cover::run(&args, output),
        Command::Diff(args) => diff::run(&args, output),
        Command::Report(args) => report::run(&args, output),
        Command::Import(args) => import::run(args, output),
        Command::New(args) => new::run(&args, output),
        Command::Schema => schema::run(),
        Command::Completions(args) => completions::run(&args),
        Command::Man(args) => man::run(&args, output),
    }
}

#[cfg(test)]
mod tests {
    use super::{Cli, understood};
    use clap::CommandFactory;

    #[test]
    fn the_command_line_is_well_formed() {
        Cli::command().debug_assert();
    }

    /// Every command there is, the innermost ones of those that have their own.
    fn commands() -> Vec<clap::Command> {
        let mut program = Cli::command();
        program.build();
        let (mut waiting, mut all) = (vec![program], Vec::new());
        while let Some(command) = waiting.pop() {
            let own = command.get_subcommands().filter(|c| c.get_name() != "help");
            let own: Vec<clap::Command> = own.cloned().collect();
            if own.is_empty() {
                all.push(command);
            }
            waiting.extend(own);
        }
        all
    }

    #[test]
    fn the_help_of_every_command_has_examples_that_are_commands() {
        let commands = commands();
        assert!(commands.len() >= 12);
        for command in commands {
            let name = command.get_bin_name().unwrap_or_default().to_string();
            let help = command
                .get_after_help()
                .map(ToString::to_string)
                .unwrap_or_default();
            let examples: Vec<&str> = help
                .lines()
                .filter_map(|l| l.strip_prefix("  evenrun "))
                .collect();
            assert!(
                help.starts_with("Examples:\n") && !examples.is_empty(),
                "{name}: {help}"
            );
            for example in examples {
                // What it is for stands two blanks behind it.
                let line = example.split("  ").next().unwrap_or_default();
                let words = std::iter::once("evenrun").chain(line.split(' '));
                let parsed = understood(words.map(Into::into));
                assert!(parsed.is_ok(), "{name}: {example}\n{}", parsed.unwrap_err());
                assert!(
                    format!("evenrun {line}").starts_with(&name),
                    "{name}: {example}"
                );
            }
        }
    }
}
