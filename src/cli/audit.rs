//! `evenrun audit`: the split used today against the best one.

use super::exit::Exit;
use super::output::{self, Output};
use super::plan::{day, facts_of};
use super::refusal::refuse;
use super::search::Search;
use super::{folder, site, verify};
use evenrun::input::{SplitReading, read_split};
use evenrun::manage::{
    Audit, AuditDocument, AuditRequest, GivenStop, Rotation, RotationDocument, Twice, audit,
    rotation,
};
use evenrun::plan::{Facts, PlanDocument};
use evenrun::report::{
    AuditAnswer, Language, Words, audit_html, audit_table, rotation_html, rotation_table,
};
use evenrun::site::Site;
use jiff::civil::Date;
use serde_json::json;
use std::path::{Path, PathBuf};
use std::time::Instant;

/// The files that are written.
const PAGE: &str = "audit.html";
const BEST: &str = "best.json";

/// Options of `audit`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  evenrun audit my-site split.csv
  evenrun audit my-site split.csv --times  in the order that is written
  evenrun audit my-site --plans mon/plan.json tue/plan.json  how hard work goes round")]
pub(super) struct Args {
    /// The site: a folder with a site.yaml, or its YAML file
    site: PathBuf,
    /// Who owns which rooms: a CSV file with the columns room and worker, and order and start if there are any
    #[arg(required_unless_present = "plans")]
    split: Option<PathBuf>,
    /// Take the order, and the starts if there are any, as they are written
    #[arg(long, requires = "split")]
    times: bool,
    /// Plan files, of a week or a month: tells how hard work goes round
    #[arg(long, value_name = "PLAN", num_args = 1..)]
    plans: Vec<PathBuf>,
    /// The date to look at; else the one the site names, else today
    #[arg(long, value_parser = day)]
    date: Option<Date>,
    /// Who is away; may be given more than once
    #[arg(long, value_name = "NAME")]
    absent: Vec<String>,
    #[command(flatten)]
    search: Search,
    /// Folder for audit.html and best.json; it is made if need be
    #[arg(long, value_name = "DIR", default_value = "out")]
    out: PathBuf,
    /// Print the audit as one JSON object instead of the tables
    #[arg(long)]
    json: bool,
}

pub(super) fn run(args: &Args, output: Output) -> Exit {
    audited(args, output.json(args.json)).unwrap_or_else(|exit| exit)
}

fn audited(args: &Args, output: Output) -> Result<Exit, Exit> {
    let began = Instant::now();
    let reading = site::read(&args.site, output)?;
    let site = &reading.site;
    let absent = site::workers(&args.absent, site, output)?;
    let split = args
        .split
        .as_deref()
        .map(|path| read_owners(path, site, output));
    let split = split.transpose()?;
    let plans: Result<Vec<_>, Exit> = args
        .plans
        .iter()
        .map(|path| verify::read_plan(path, site, output).map(|read| read.plan))
        .collect();
    let rotation = rotation(site, &plans?);
    folder::room_for(&args.out, &[PAGE, BEST]).map_err(|refusal| refuse(&[refusal], output))?;
    let Some(split) = split else {
        return rotated(args, site, &rotation, output);
    };
    let given = given(&split);
    let started = args.search.start(began);
    let bar = output.bar();
    let request = AuditRequest {
        site,
        date: site::date(args.date, site),
        absent: &absent,
        split: &split.split,
        given: args.times.then_some(given.as_slice()),
        settings: started.settings(),
    };
    let audit = audit(&request, &mut started.watcher(&bar, output));
    bar.finish_and_clear();
    let twice = twice(&split);
    let facts = facts_of(&audit.best, args.search.seed, absent.clone());
    let answer = AuditAnswer {
        site,
        audit: &audit,
        twice: &twice,
        rotation: &rotation,
        facts: &facts,
    };
    tell(args, &answer, output)?;
    Ok(exit(&audit, &facts))
}

/// Who owns which rooms; everything wrong with the file is told.
pub(super) fn read_owners(path: &Path, site: &Site, output: Output) -> Result<SplitReading, Exit> {
    read_split(path, site).map_err(|problems| {
        let told = site::tell(&problems.0, output);
        output::wrong(site::count(&problems.0));
        told.err().unwrap_or(Exit::Bad)
    })
}

fn given(split: &SplitReading) -> Vec<GivenStop> {
    let stop = |row: &evenrun::input::OwnedRow| GivenStop {
        worker: row.worker,
        room: row.room,
        start: row.start,
    };
    split.rows.iter().map(stop).collect()
}

fn twice(split: &SplitReading) -> Vec<Twice> {
    let one = |(room, first, also): &(_, _, _)| Twice {
        room: *room,
        first: *first,
        also: *also,
    };
    split.twice.iter().map(one).collect()
}

fn tell(args: &Args, answer: &AuditAnswer, output: Output) -> Result<(), Exit> {
    let (site, audit) = (answer.site, answer.audit);
    let bug = |error: serde_json::Error| {
        output::wrong(format!("error: cannot write the audit down: {error}"));
        Exit::Bug
    };
    let words = Words::new(Language::English, site);
    let best = &audit.best;
    let plan = PlanDocument::new(site, &best.plan, &best.measures, answer.facts.clone());
    output.put_all(&[
        (args.out.join(PAGE), audit_html(answer, &words)),
        (args.out.join(BEST), plan.to_json().map_err(bug)?),
    ])?;
    let text = if output.is_json() {
        let document = AuditDocument::new(site, audit, answer.twice, answer.rotation, answer.facts);
        document.to_json().map_err(bug)?
    } else {
        audit_table(answer)
    };
    output::data(&text)
}

/// Only how hard work goes round.
fn rotated(args: &Args, site: &Site, rotation: &[Rotation], output: Output) -> Result<Exit, Exit> {
    let words = Words::new(Language::English, site);
    output.put(&args.out.join(PAGE), &rotation_html(site, rotation, &words))?;
    let text = if output.is_json() {
        let all = rotation.iter().map(|r| RotationDocument::new(site, r));
        let all: Vec<_> = all.collect();
        format!(
            "{:#}\n",
            json!({ "version": 1, "site": site.name, "rotation": all })
        )
    } else {
        rotation_table(site, rotation)
    };
    output::data(&text)?;
    Ok(Exit::Done)
}

fn exit(audit: &Audit, facts: &Facts) -> Exit {
    if !audit.best.violations.is_empty() {
        output::wrong(format!(
            "error: the best plan breaks a rule, which is a bug in evenrun: do not work by it\nhint: report it with the site and `--seed {}`",
            facts.seed
        ));
        return Exit::Bug;
    }
    let calm = audit.today.violations.is_empty()
        && audit.today.plan.undone.is_empty()
        && audit.late.is_empty();
    if calm { Exit::Done } else { Exit::Left }
}
