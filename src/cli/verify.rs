//! `evenrun verify`: a plan file against its site, rule by rule.

use super::exit::Exit;
use super::output::Output;
use super::site;
use evenrun::plan::{Misfit, Plan, PlanDocument, Rule, Violation, check};
use evenrun::site::{Site, WorkerId};
use serde_json::json;
use std::fs;
use std::path::{Path, PathBuf};

/// Options of `verify`.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// The site: a folder with a site.yaml, or its YAML file
    site: PathBuf,
    /// The plan file, as written by `evenrun plan`
    plan: PathBuf,
    /// Print what was found as JSON
    #[arg(long)]
    json: bool,
}

pub(super) fn run(args: &Args, output: Output) -> Exit {
    verified(args, output).unwrap_or_else(|exit| exit)
}

fn verified(args: &Args, output: Output) -> Result<Exit, Exit> {
    let reading = site::read(&args.site, args.json, output)?;
    let (plan, absent) = read_plan(&args.plan, &reading.site, output)?;
    let present = reading.site.present(plan.date, &absent);
    let violations = check(&reading.site, &plan, &present);
    if args.json {
        output.data(&as_json(&reading.site, &violations));
    } else {
        output.data(&as_text(&violations));
    }
    Ok(if violations.is_empty() {
        Exit::Done
    } else {
        Exit::Left
    })
}

/// A plan file, with who it says is away; everything wrong with it is told.
pub(super) fn read_plan(
    path: &Path,
    site: &Site,
    output: Output,
) -> Result<(Plan, Vec<WorkerId>), Exit> {
    let tell = |misfits: &[Misfit]| {
        for misfit in misfits {
            output.wrong(format!(
                "{}: {}: {}",
                path.display(),
                misfit.at,
                misfit.message
            ));
            misfit
                .hint
                .iter()
                .for_each(|hint| output.wrong(format!("hint: {hint}")));
        }
        Exit::Bad
    };
    let text = fs::read_to_string(path).map_err(|error| {
        output.wrong(format!("error: cannot read `{}`: {error}", path.display()));
        Exit::Bad
    })?;
    let document = PlanDocument::from_json(&text).map_err(|misfit| tell(&[misfit]))?;
    let plan = document.resolve(site).map_err(|misfits| tell(&misfits))?;
    let absent = site::workers(&document.absent, site, output)?;
    Ok((plan, absent))
}

fn as_text(violations: &[Violation]) -> String {
    let mut text = String::new();
    for rule in Rule::ALL {
        let broken: Vec<&Violation> = violations.iter().filter(|v| v.rule == rule).collect();
        let verdict = if broken.is_empty() {
            "kept  "
        } else {
            "BROKEN"
        };
        text += &format!(
            "{verdict} {:>2} {}: {}\n",
            rule.number(),
            rule.name(),
            rule.statement()
        );
        broken
            .iter()
            .for_each(|v| text += &format!("          {}\n", v.message));
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
