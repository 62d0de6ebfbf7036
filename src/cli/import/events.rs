//! `evenrun import events`: what a calendar does to the hours of rooms, and then the file.

use super::super::exit::Exit;
use super::super::output::{self, Output};
use super::super::site;
use super::{changes, counted, put, refused, tell};
use evenrun::input::{EventsImport, EventsRequest, import_events, read_site};
use jiff::civil::Date;
use std::fmt::Write;
use std::path::PathBuf;

/// Most days that may be asked for.
const MOST_DAYS: i64 = 366;
/// Most minutes around an event.
const MOST_MARGIN: i64 = 600;

/// Options of `import events`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  evenrun import events rooms.ics --into my-site --dry-run     show which hours would change
  evenrun import events rooms.ics --into my-site --days 14 --margin 10
  evenrun import events rooms.ics --into my-site --map places.yaml
                                                              write places.yaml for locations that are no room; then import by it")]
pub(super) struct Args {
    /// The calendar (.ics)
    file: PathBuf,
    /// The site: a folder or its YAML file
    #[arg(long, value_name = "SITE")]
    into: PathBuf,
    /// First day, such as 2026-03-10; else the site's date, else today
    #[arg(long, value_name = "DATE")]
    from: Option<Date>,
    /// How many days
    #[arg(long, value_name = "N", default_value_t = 28, value_parser = clap::value_parser!(u16).range(1..=MOST_DAYS))]
    days: u16,
    /// Minutes before and after an event in which the room is not to be cleaned either
    #[arg(long, value_name = "MIN", default_value_t = 0, value_parser = clap::value_parser!(u16).range(..=MOST_MARGIN))]
    margin: u16,
    /// Forget the hours that single dates of these days have now, from an earlier import or by hand
    #[arg(long)]
    forget: bool,
    /// A mapping file of locations; if it is not there yet, write it and do nothing else
    #[arg(long, value_name = "FILE")]
    map: Option<PathBuf>,
    /// Show what would change, and write nothing
    #[arg(long)]
    dry_run: bool,
    /// Print what changes as JSON
    #[arg(long)]
    json: bool,
}

pub(super) fn run(args: &Args, output: Output) -> Result<Exit, Exit> {
    let output = output.json(args.json);
    let from = match args.from {
        Some(from) => from,
        None => site::date(
            None,
            &read_site(&args.into)
                .map_err(|problems| refused(&problems, output))?
                .site,
        ),
    };
    let mut request = EventsRequest {
        file: &args.file,
        site: &args.into,
        mapping: None,
        from,
        days: args.days,
        margin_min: args.margin,
        forget: args.forget,
    };
    let written = args.map.as_deref().filter(|path| path.exists());
    request.mapping = written;
    let import = import_events(&request).map_err(|problems| refused(&problems, output))?;
    if let Some(path) = args.map.as_ref().filter(|_| written.is_none()) {
        put(&[(path.clone(), import.mapping)], args.dry_run, output)?;
        output.note("nothing was imported: change the file and give the same command again");
        return Ok(Exit::Done);
    }
    if output.is_json() {
        output::data(&format!("{:#}\n", serde_json::json!(import.changes)))?;
    } else {
        output::data(&summary(&import))?;
    }
    tell(&import.notes, &[], &import.after, output);
    put(&import.files, args.dry_run, output)?;
    Ok(Exit::Done)
}

fn summary(import: &EventsImport) -> String {
    let (from, until) = import.days;
    let last = until.yesterday().unwrap_or(until);
    let mut text = format!(
        "{from} to {last}: {} that rooms of the site are in use\n",
        counted(import.times, "time")
    );
    if import.free > 0 {
        let (events, take) = (
            counted(import.free, "event"),
            if import.free == 1 { "takes" } else { "take" },
        );
        let _ = writeln!(
            text,
            "{events} {take} no room: cancelled, or marked as free time"
        );
    }
    text.push_str(&changes(&import.changes));
    text
}
