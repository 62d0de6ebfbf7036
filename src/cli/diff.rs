//! `evenrun diff`: what changed between any two plans, in the words of the cover sheet.

use super::exit::Exit;
use super::output::{self, Output};
use super::refusal::{Refusal, refuse};
use super::{site, verify};
use evenrun::cover::{ChangesDocument, diff};
use evenrun::plan::measure;
use evenrun::report::{self, CoverSheet};
use evenrun::site::Calendar;
use std::path::PathBuf;

/// Options of `diff`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  evenrun diff my-site out/plan.json out/cover/plan.json")]
pub(super) struct Args {
    /// The site: a folder with a site.yaml, or its YAML file
    site: PathBuf,
    /// The plan before; `-` is standard input
    before: PathBuf,
    /// The plan after
    after: PathBuf,
    /// Print the changes as JSON
    #[arg(long)]
    json: bool,
}

pub(super) fn run(args: &Args, output: Output) -> Exit {
    compared(args, output.json(args.json)).unwrap_or_else(|exit| exit)
}

fn compared(args: &Args, output: Output) -> Result<Exit, Exit> {
    let reading = site::read(&args.site, output)?;
    let [a, b] =
        [&args.before, &args.after].map(|path| verify::read_plan(path, &reading.site, output));
    let (a, b) = (a?, b?);
    if a.plan.date != b.plan.date {
        let message = format!(
            "one plan is for {}, the other for {}",
            a.plan.date, b.plan.date
        );
        return Err(refuse(&[Refusal::new("other-date", message)], output));
    }
    let measures = [&a, &b].map(|read| measure(&read.site, &read.plan));
    // Both are read against one site that has everything either night asked for.
    let nights = [&a, &b].map(|read| read.document.tonight.clone().unwrap_or_default());
    let both = nights[0].of_both(&nights[1]);
    let site = verify::that_night(&reading.site, &both, a.plan.date, output)?;
    let before = verify::resolved(&a.document, &site, &args.before, output)?;
    let after = verify::resolved(&b.document, &site, &args.after, output)?;
    let found = diff(&site, &before, &after);
    if output.is_json() {
        let shares = (measures[0].evenness.highest, measures[1].evenness.highest);
        let document = ChangesDocument::new(&site, before.date.to_string(), &found, shares);
        let json = document.to_json().map_err(|error| {
            output::wrong(format!("error: cannot write the changes down: {error}"));
            Exit::Bug
        })?;
        output::data(&json)?;
        return Ok(Exit::Done);
    }
    output::data(&report::cover_sheet(&CoverSheet {
        title: "what changed",
        site: &site,
        calendar: &Calendar::new(before.date, site.time_zone.as_deref()),
        news: &[],
        before: (&before, &measures[0]),
        after: (&after, &measures[1]),
        diff: &found,
        waits: &[],
        violations: None,
    }))?;
    Ok(Exit::Done)
}
