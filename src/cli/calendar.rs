//! `evenrun calendar`: the days of periodic work.

use super::audit::read_owners;
use super::exit::Exit;
use super::output::{self, Output};
use super::plan::day;
use super::refusal::refuse;
use super::{folder, site};
use evenrun::manage::{CalendarDocument, CalendarRequest, PeriodicCalendar, calendar, split_of};
use evenrun::plan::{self, Request};
use evenrun::report::{Language, Words, calendar_html, calendar_ics, calendar_table};
use evenrun::route::{Budget, Settings, Stop};
use evenrun::site::Site;
use evenrun::work::Split;
use jiff::ToSpan;
use jiff::civil::Date;
use std::path::PathBuf;
use std::sync::atomic::AtomicBool;

/// The files that are written.
const FILE: &str = "calendar.yaml";
const PAGE: &str = "calendar.html";

/// Rounds of search for a split, where none is given.
const ROUNDS: u64 = 500;

/// Options of `calendar`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  evenrun calendar my-site --from 2026-03-09 --weeks 4
  evenrun calendar my-site --split split.csv  each owner's days, too")]
pub(super) struct Args {
    /// The site: a folder with a site.yaml, or its YAML file
    site: PathBuf,
    /// The first day; else the date the site names, else today
    #[arg(long, value_parser = day)]
    from: Option<Date>,
    /// How many weeks
    #[arg(long, value_name = "N", default_value_t = 4, value_parser = clap::value_parser!(u16).range(1..=104))]
    weeks: u16,
    /// Who owns which rooms: a CSV file with the columns room and worker; without it a plan is made to tell
    #[arg(long, value_name = "SPLIT")]
    split: Option<PathBuf>,
    /// How far the time between two turns may be off, in percent of it
    #[arg(long, value_name = "PERCENT", default_value_t = 30, value_parser = clap::value_parser!(u8).range(0..=100))]
    tolerance: u8,
    /// Choose every day again, also those in the calendar file of the site
    #[arg(long)]
    afresh: bool,
    /// What chance draws from: another number, another calendar as good
    #[arg(long, value_name = "N", default_value_t = 1)]
    seed: u64,
    /// Folder for calendar.yaml, calendar.html and a calendar for each person; it is made if need be
    #[arg(long, value_name = "DIR", default_value = "out")]
    out: PathBuf,
    /// Print the calendar as one JSON object instead of the tables
    #[arg(long)]
    json: bool,
}

pub(super) fn run(args: &Args, output: Output) -> Exit {
    made(args, output.json(args.json)).unwrap_or_else(|exit| exit)
}

fn made(args: &Args, output: Output) -> Result<Exit, Exit> {
    let reading = site::read(&args.site, output)?;
    let site = &reading.site;
    folder::room_for(&args.out, &[PAGE, FILE]).map_err(|refusal| refuse(&[refusal], output))?;
    let from = site::date(args.from, site);
    let to = from
        .checked_add((i64::from(args.weeks) * 7 - 1).days())
        .unwrap_or(Date::MAX);
    let split = match &args.split {
        Some(path) => read_owners(path, site, output)?.split,
        None => searched(site, from, to, args.seed),
    };
    let made = calendar(&CalendarRequest {
        site,
        from,
        to,
        split: &split,
        tolerance: f64::from(args.tolerance) / 100.0,
        afresh: args.afresh,
        seed: args.seed,
    });
    tell(args, site, &made, output)?;
    let calm = made.without_day.is_empty() && made.irregular.is_empty();
    Ok(if calm { Exit::Done } else { Exit::Left })
}

/// Whose rooms are whose in a plan for the first working day.
fn searched(site: &Site, from: Date, to: Date, seed: u64) -> Split {
    let days = std::iter::successors(Some(from), |d| d.checked_add(1.day()).ok());
    let working = |d: &Date| !site.present(*d, &[]).is_empty();
    let Some(date) = days.take_while(|d| *d <= to).find(working) else {
        return Split::of_nobody(site);
    };
    let request = Request {
        site,
        date,
        absent: &[],
        keep: None,
        settings: Settings {
            stop: Stop {
                budget: Budget::Iterations(ROUNDS),
                interrupted: &AtomicBool::new(false),
            },
            seed,
            islands: 1,
        },
    };
    split_of(site, &plan::make(&request, &mut |_, _| {}).plan)
}

fn tell(args: &Args, site: &Site, made: &PeriodicCalendar, output: Output) -> Result<(), Exit> {
    let program = concat!("evenrun ", env!("CARGO_PKG_VERSION"));
    let document = CalendarDocument::new(site, made, program, args.seed);
    let words = Words::new(Language::English, site);
    let mut files: Vec<_> = calendar_ics(site, made, program, &words)
        .into_iter()
        .map(|file| (args.out.join(file.name), file.text))
        .collect();
    files.extend([
        (args.out.join(PAGE), calendar_html(site, made, &words)),
        (args.out.join(FILE), document.to_file()),
    ]);
    output.put_all(&files)?;
    output.note(if site.diary.is_some() {
        "put calendar.yaml in the place of the site's calendar file to plan by it"
    } else {
        "put calendar.yaml beside site.yaml, and `calendar: calendar.yaml` into it, to plan by it"
    });
    let text = if output.is_json() {
        document.to_json().map_err(|error| {
            output::wrong(format!("error: cannot write the calendar down: {error}"));
            Exit::Bug
        })?
    } else {
        calendar_table(site, made)
    };
    output::data(&text)
}
