//! `evenrun import`: one file for each thing that is imported, and here what they have in common.

mod building;
mod events;
mod rooms;

use super::exit::Exit;
use super::folder;
use super::new;
use super::output::{self, Output};
use super::refusal::refuse;
use super::site;
use evenrun::input::{Changes, Problem, Problems};
use std::fmt::Write;
use std::path::PathBuf;

/// Changed values that are shown; there is a line for each.
const SHOWN: usize = 40;

/// Options of `import`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, clap::Subcommand)]
enum What {
    /// Rooms from a spreadsheet (.xlsx) or a CSV file, into a new site or one that is there
    Rooms(rooms::Args),
    /// Events from a calendar (.ics), as hours in which rooms may be cleaned
    Events(events::Args),
    /// A building in an open format (IFC, IndoorGML 1.0), as a new site
    Building(building::Args),
}

pub(super) fn run(args: Args, output: Output) -> Exit {
    let done = match args.what {
        What::Rooms(args) => rooms::run(&args, output),
        What::Events(args) => events::run(&args, output),
        What::Building(args) => building::run(&args, output),
    };
    done.unwrap_or_else(|exit| exit)
}

/// Problems of what was to be imported: nothing is written.
fn refused(problems: &Problems, output: Output) -> Exit {
    if let Err(exit) = site::tell(&problems.0, output) {
        return exit;
    }
    output::wrong(format!("{}; nothing was written", site::count(&problems.0)));
    Exit::Bad
}

/// Guesses and gaps, what is left to do by hand, and what `check` would say.
fn tell(notes: &[Problem], advice: &[String], after: &[Problem], output: Output) {
    for note in notes {
        output.note(note.render() + "\n");
    }
    if !after.is_empty() {
        output.note("the site then has:\n");
        for problem in after {
            output.note(problem.render() + "\n");
        }
    }
    for line in advice {
        output.note(format!("to do: {line}\n"));
    }
}

/// Writes the files, unless it was only to be shown what they would be.
fn put(files: &[(PathBuf, String)], dry_run: bool, output: Output) -> Result<(), Exit> {
    if files.is_empty() {
        output.note("nothing to write: the site has all of it");
    }
    if dry_run {
        for (path, _) in files {
            output.note(format!("would write {}", path.display()));
        }
        return Ok(());
    }
    let refused = |refusal| refuse(&[refusal], output);
    for folder in files.iter().filter_map(|(path, _)| path.parent()) {
        folder::make(folder).map_err(refused)?;
    }
    for (path, _) in files {
        if let Some(folder) = path
            .parent()
            .filter(|_| path.ends_with("site.yaml") && !path.exists())
        {
            new::put_schema(folder).map_err(refused)?;
        }
    }
    output.put_all(files)
}

/// What changes in the site's rooms.
fn changes(changes: &Changes) -> String {
    let mut text = String::new();
    let mut list = |what: &str, ids: &[String]| {
        if !ids.is_empty() {
            let _ = writeln!(text, "{what} {}: {}", ids.len(), ids.join(", "));
        }
    };
    list("added", &changes.added);
    list("gone from the file, kept in the site", &changes.gone);
    if !changes.changed.is_empty() {
        let _ = writeln!(text, "changed {}:", changes.changed.len());
    }
    for change in changes.changed.iter().take(SHOWN) {
        let before = if change.before.is_empty() {
            "nothing"
        } else {
            &change.before
        };
        let _ = writeln!(
            text,
            "  {} {}: {before} -> {}",
            change.room, change.column, change.after
        );
    }
    if changes.changed.len() > SHOWN {
        let _ = writeln!(
            text,
            "  and {} more; --json lists all",
            changes.changed.len() - SHOWN
        );
    }
    if changes.same > 0 {
        let _ = writeln!(text, "as before {}", changes.same);
    }
    text
}

/// `1 room`, `2 rooms`.
fn counted(count: usize, of: &str) -> String {
    let ending = if count == 1 { "" } else { "s" };
    format!("{count} {of}{ending}")
}
