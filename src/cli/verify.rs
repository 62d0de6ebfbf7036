//! `evenrun verify`: a plan file against its site, rule by rule.

use super::exit::Exit;
use super::output::{self, Output};
use super::refusal::{Refusal, refuse};
use super::site;
use evenrun::input::text_from;
use evenrun::plan::{Misfit, Plan, PlanDocument, Rule, Tonight, Violation, check};
use evenrun::site::{Site, WorkerId};
use itertools::Itertools;
use jiff::civil::Date;
use serde_json::json;
use std::fmt::Write;
use std::fs::File;
use std::io;
use std::path::{Path, PathBuf};

/// The path that stands for standard input.
const PIPED: &str = "-";

/// Options of `verify`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  evenrun verify my-site out/plan.json   every rule, kept or broken
  evenrun verify my-site -               the plan from standard input")]
pub(super) struct Args {
    /// The site: a folder with a site.yaml, or its YAML file
    site: PathBuf,
    /// The plan file, as written by `evenrun plan`; `-` is standard input
    plan: PathBuf,
    /// Print what was found as JSON
    #[arg(long)]
    json: bool,
}

pub(super) fn run(args: &Args, output: Output) -> Exit {
    verified(args, output.json(args.json)).unwrap_or_else(|exit| exit)
}

fn verified(args: &Args, output: Output) -> Result<Exit, Exit> {
    let reading = site::read(&args.site, output)?;
    let ReadPlan {
        plan, absent, site, ..
    } = read_plan(&args.plan, &reading.site, output)?;
    let present = site.present(plan.date, &absent);
    let violations = check(&site, &plan, &present);
    if output.is_json() {
        output::data(&as_json(&site, &violations))?;
    } else {
        output::data(&as_text(&violations))?;
    }
    Ok(if violations.is_empty() {
        Exit::Done
    } else {
        Exit::Left
    })
}

/// A plan file, read.
pub(super) struct ReadPlan {
    /// The plan.
    pub(super) plan: Plan,
    /// Who it says is away.
    pub(super) absent: Vec<WorkerId>,
    /// All that the file says.
    pub(super) document: PlanDocument,
    /// The site as it was that night.
    pub(super) site: Site,
}

/// A plan file; everything wrong with it is told.
pub(super) fn read_plan(path: &Path, site: &Site, output: Output) -> Result<ReadPlan, Exit> {
    let (called, document) = read_document(path, output)?;
    let site = night_of(&document, site, &called, output)?;
    let plan = resolved(&document, &site, &called, output)?;
    let absent = site::workers(&document.absent, &site, output)?;
    Ok(ReadPlan {
        plan,
        absent,
        document,
        site,
    })
}

/// What a plan file says, and what the file is called.
pub(super) fn read_document(path: &Path, output: Output) -> Result<(PathBuf, PlanDocument), Exit> {
    let (called, text) = text_of(path, output)?;
    match PlanDocument::from_json(&text) {
        Ok(document) => Ok((called, document)),
        Err(misfit) => Err(told(&[misfit], &called, output)),
    }
}

/// The plan of a document, against a site.
pub(super) fn resolved(
    document: &PlanDocument,
    site: &Site,
    called: &Path,
    output: Output,
) -> Result<Plan, Exit> {
    document.resolve(site).map_err(|mut misfits| {
        misfits.splice(..0, other_site(document, site));
        told(&misfits, called, output)
    })
}

fn told(misfits: &[Misfit], called: &Path, output: Output) -> Exit {
    let of_plan = |m| Refusal::of_plan(called, m);
    refuse(&misfits.iter().map(of_plan).collect_vec(), output)
}

/// The text of a file, or of standard input, and what it is called.
pub(super) fn text_of(path: &Path, output: Output) -> Result<(PathBuf, String), Exit> {
    let (called, text) = if path == Path::new(PIPED) {
        (Path::new("standard input"), text_from(io::stdin()))
    } else {
        (path, File::open(path).and_then(text_from))
    };
    let text = text.map_err(|error| {
        let message = format!("cannot read `{}`: {error}", called.display());
        refuse(&[Refusal::of_file("unreadable", called, message)], output)
    })?;
    Ok((called.to_path_buf(), text))
}

/// The site as it was on the night of a plan.
fn night_of(
    document: &PlanDocument,
    site: &Site,
    called: &Path,
    output: Output,
) -> Result<Site, Exit> {
    let (Some(night), Ok(date)) = (&document.tonight, document.date.parse()) else {
        return Ok(site.clone());
    };
    night.apply(site, date).map_err(|mut misfits| {
        for misfit in &mut misfits {
            misfit.at = format!("tonight.{}", misfit.at);
        }
        misfits.splice(..0, other_site(document, site));
        told(&misfits, called, output)
    })
}

/// The site on a night that is not as usual.
pub(super) fn that_night(
    site: &Site,
    night: &Tonight,
    date: Date,
    output: Output,
) -> Result<Site, Exit> {
    night.apply(site, date).map_err(|misfits| {
        refuse(
            &misfits.iter().map(Refusal::of_change).collect_vec(),
            output,
        )
    })
}

/// What is behind many misfits, as a rule.
fn other_site(document: &PlanDocument, site: &Site) -> Option<Misfit> {
    (document.site != site.name).then(|| Misfit {
        at: "site".to_string(),
        message: format!(
            "this is a plan of `{}`, not of `{}`",
            document.site, site.name
        ),
        hint: None,
    })
}

fn as_text(violations: &[Violation]) -> String {
    let mut text = String::new();
    for rule in Rule::ALL {
        let mut broken = violations.iter().filter(|v| v.rule == rule).peekable();
        let verdict = if broken.peek().is_none() {
            "kept  "
        } else {
            "BROKEN"
        };
        let (number, name, statement) = (rule.number(), rule.name(), rule.statement());
        // Writing to a text cannot fail.
        let _ = writeln!(text, "{verdict} {number:>2} {name}: {statement}");
        for violation in broken {
            let _ = writeln!(text, "          {}", violation.message);
        }
    }
    text
}

fn as_json(site: &Site, violations: &[Violation]) -> String {
    let one = |v: &Violation| {
        json!({
            "rule": v.rule.number(),
            "name": v.rule.name(),
            "worker": v.worker.map(|w| &site.crew[w.index()].name),
            "place": v.place.map(|p| &site.places[p.index()].id),
            "at": v.at.map(|at| at.to_string()),
            "message": v.message,
        })
    };
    let list: Vec<_> = violations.iter().map(one).collect();
    format!(
        "{:#}\n",
        json!({ "sound": violations.is_empty(), "violations": list })
    )
}
