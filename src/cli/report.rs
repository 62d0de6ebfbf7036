//! `evenrun report`: a plan file shown again, as pages to look at and files for other programs.

use super::exit::Exit;
use super::output::{self, Output};
use super::refusal::refuse;
use super::verify::{self, ReadPlan};
use super::{folder, site};
use evenrun::plan::{Facts, Measures, PlanDocument, check, measure};
use evenrun::report::{self, Answer, Language, Words, Written};
use evenrun::site::{Calendar, Site};
use evenrun::units::Seconds;
use std::path::{Path, PathBuf};

/// Options of `report`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  evenrun report my-site out/plan.json                            the table
  evenrun report my-site out/plan.json --cards cards.html --large  run cards in large print
  evenrun report my-site out/plan.json --csv tables --ics calendars")]
pub(super) struct Args {
    /// The site: a folder with a site.yaml, or its YAML file
    site: PathBuf,
    /// The plan file, as written by `evenrun plan`; `-` is standard input
    plan: PathBuf,
    /// Write the report to this file
    #[arg(long, value_name = "FILE")]
    html: Option<PathBuf>,
    /// Write the run cards to this file
    #[arg(long, value_name = "FILE")]
    cards: Option<PathBuf>,
    /// Write tables for spreadsheets into this folder: stops, rooms, people, undone
    #[arg(long, value_name = "DIR")]
    csv: Option<PathBuf>,
    /// Write a calendar for each person into this folder
    #[arg(long, value_name = "DIR")]
    ics: Option<PathBuf>,
    /// Write the floor maps into this folder
    #[arg(long, value_name = "DIR")]
    map_svg: Option<PathBuf>,
    /// Cards in large print
    #[arg(long)]
    large: bool,
    /// Language of pages, tables, calendars and maps: en or es
    #[arg(long, value_name = "LANG", default_value = "en", value_parser = language)]
    lang: Language,
}

fn language(code: &str) -> Result<Language, String> {
    let codes = Language::ALL.map(Language::code).join(", ");
    Language::of_code(code).ok_or_else(|| format!("not a language known here; they are {codes}"))
}

pub(super) fn run(args: &Args, output: Output) -> Exit {
    reported(args, output).unwrap_or_else(|exit| exit)
}

fn reported(args: &Args, output: Output) -> Result<Exit, Exit> {
    let reading = site::read(&args.site, output)?;
    let read = verify::read_plan(&args.plan, &reading.site, output)?;
    let site = &read.site;
    let present = site.present(read.plan.date, &read.absent);
    let violations = check(site, &read.plan, &present);
    let measures = measure(site, &read.plan);
    let facts = facts(site, &read, &measures, violations.is_empty(), output);
    let answer = Answer {
        site,
        calendar: &Calendar::new(read.plan.date, site.time_zone.as_deref()),
        plan: &read.plan,
        measures: &measures,
        violations: &violations,
        facts: &facts,
    };
    output::data(&report::table(&answer))?;
    write(args, &answer, output)?;
    let left = !violations.is_empty() || !read.plan.undone.is_empty();
    Ok(if left { Exit::Left } else { Exit::Done })
}

/// What the file says of how the plan was made. Its bound holds for the work it was made for: it is believed only if the file is
/// otherwise just as it would be written now.
fn facts(site: &Site, read: &ReadPlan, measures: &Measures, sound: bool, output: Output) -> Facts {
    let document = &read.document;
    let facts = Facts {
        program: document.program.clone(),
        seed: document.seed,
        iterations: document.iterations,
        sound,
        bound: document.evenness.bound,
        not_cleaning: not_cleaning_bound(document),
        certificate: document.certificate.clone(),
        absent: read.absent.clone(),
        tonight: document.tonight.clone(),
    };
    let mut again = PlanDocument::new(site, &read.plan, measures, facts.clone());
    // Of the bound as it was before it was rounded.
    again.evenness.gap = document.evenness.gap;
    if &again == document {
        return facts;
    }
    if facts.bound.is_some() {
        output.note(
            "note: plan or site were changed after the plan was made; its proven bound is left out",
        );
    }
    Facts {
        bound: None,
        not_cleaning: None,
        certificate: Vec::new(),
        ..facts
    }
}

/// Written in hundredths of minutes, which whole seconds come back from.
fn not_cleaning_bound(document: &PlanDocument) -> Option<Seconds> {
    let minutes = document.minutes.not_cleaning_bound?;
    Some(Seconds((minutes * 60.0).round() as i64))
}

fn write(args: &Args, answer: &Answer, output: Output) -> Result<(), Exit> {
    let words = Words::new(args.lang, answer.site);
    let mut files = Vec::new();
    if let Some(path) = &args.html {
        make_folder(path.parent(), output)?;
        files.push((path.clone(), report::html(answer, &words)));
    }
    if let Some(path) = &args.cards {
        make_folder(path.parent(), output)?;
        files.push((path.clone(), report::cards(answer, &words, args.large)));
    }
    let folders = [&args.csv, &args.ics, &args.map_svg];
    let forms = [report::csv, report::ics, report::map_svg];
    for (folder, form) in folders.into_iter().zip(forms) {
        if let Some(folder) = folder {
            make_folder(Some(folder), output)?;
            let written = form(answer, &words).into_iter();
            files.extend(written.map(|Written { name, text }| (folder.join(name), text)));
        }
    }
    output.put_all(&files)
}

fn make_folder(folder: Option<&Path>, output: Output) -> Result<(), Exit> {
    let made = folder.map_or(Ok(()), folder::make);
    made.map_err(|refusal| refuse(&[refusal], output))
}
