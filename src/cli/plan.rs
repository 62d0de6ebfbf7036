//! `evenrun plan`: the main job.

use super::exit::Exit;
use super::many::{self, Part};
use super::output::{self, Output};
use super::refusal::{Refusal, refuse};
use super::search::{MOST_THREADS, Started, budget, seconds};
use super::{folder, site, verify};
use evenrun::balance::Bound;
use evenrun::cover::{CarryDocument, waits};
use evenrun::plan::{self, Certificate, Facts, Made, PlanDocument, Request, Tonight};
use evenrun::report::{self, Answer, Language, Words};
use evenrun::site::{Site, WorkerId};
use evenrun::units::Seconds;
use jiff::civil::Date;
use std::path::{Path, PathBuf};
use std::time::Instant;

/// The files that are written.
pub(super) const PLAN: &str = "plan.json";
pub(super) const PAGE: &str = "report.html";
pub(super) const CARDS: &str = "cards.html";
pub(super) const CARRY: &str = "carry.json";

/// Options of `plan`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  evenrun plan my-site                            a plan for the site's date, or today, in out/
  evenrun plan my-site --date 2026-03-10          for another day
  evenrun plan my-site --seconds 60 --out tuesday
  evenrun plan my-site --absent Mei --keep out/plan.json --out out/cover
                                                  Mei called in sick: stay near the plan there is
  evenrun plan --all sites --out out              every site below a folder; those that are done stay as they are
  evenrun plan --all sites --part 2/8 --out out   a share of them, for one of eight machines")]
pub(super) struct Args {
    /// The site: a folder with a site.yaml, or its YAML file
    #[arg(required_unless_present = "all")]
    site: Option<PathBuf>,
    /// Plan every site below a folder, each into a folder of its own; one that cannot be planned does not stop the others
    #[arg(long, value_name = "DIR", conflicts_with_all = ["site", "absent", "keep", "carry"])]
    pub(super) all: Option<PathBuf>,
    /// Of all sites only the I-th share of N, by name in turn
    #[arg(long, value_name = "I/N", requires = "all", conflicts_with = "site")]
    pub(super) part: Option<Part>,
    /// The date to plan for, such as 2026-03-10; else the one the site names, else today
    #[arg(long, value_parser = day)]
    pub(super) date: Option<Date>,
    /// Seconds from start to written files, of each site
    #[arg(long, value_name = "N", default_value_t = 10.0, value_parser = seconds, conflicts_with = "iterations")]
    pub(super) seconds: f64,
    /// Rounds of search instead of seconds: the same plan on every machine
    #[arg(long, value_name = "N")]
    pub(super) iterations: Option<u64>,
    /// What chance draws from: another number, another plan as good
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub(super) seed: u64,
    /// Threads to use; 0 is one per processor
    #[arg(long, value_name = "N", default_value_t = 0, value_parser = clap::value_parser!(u16).range(..=MOST_THREADS))]
    pub(super) threads: u16,
    /// Who is away; may be given more than once
    #[arg(long, value_name = "NAME")]
    absent: Vec<String>,
    /// Start from an earlier plan and stay near it among equally good ones; `-` is standard input
    #[arg(long, value_name = "PLAN")]
    keep: Option<PathBuf>,
    /// Take up what waited: the carry.json of an earlier night; `-` is standard input
    #[arg(long, value_name = "FILE")]
    carry: Option<PathBuf>,
    /// Folder for plan.json, report.html and cards.html; it is made if need be
    #[arg(long, value_name = "DIR", default_value = "out")]
    pub(super) out: PathBuf,
    /// Print the plan, or the table of all sites, as JSON instead of the summary
    #[arg(long)]
    json: bool,
}

pub(super) fn day(text: &str) -> Result<Date, String> {
    text.parse()
        .map_err(|_| "not a date; write year, month and day, such as 2026-03-10".to_string())
}

pub(super) fn run(args: &Args, output: Output) -> Exit {
    let output = output.json(args.json);
    let done = match (&args.site, &args.all) {
        (_, Some(folder)) => many::planned(args, folder, output),
        (Some(site), None) => planned(args, site, output),
        // The command line asks for one of them.
        (None, None) => Err(Exit::Bad),
    };
    done.unwrap_or_else(|exit| exit)
}

fn planned(args: &Args, path: &Path, output: Output) -> Result<Exit, Exit> {
    let began = Instant::now();
    let reading = site::read(path, output)?;
    let date = site::date(args.date, &reading.site);
    let tonight = taken_up(args, &reading.site, date, output)?;
    let site = &match &tonight {
        Some(night) => verify::that_night(&reading.site, night, date, output)?,
        None => reading.site,
    };
    let absent = site::workers(&args.absent, site, output)?;
    let keep = args
        .keep
        .as_deref()
        .map(|path| verify::read_plan(path, site, output))
        .transpose()?;
    folder::room_for(&args.out, &[PLAN, PAGE, CARDS, CARRY])
        .map_err(|refusal| refuse(&[refusal], output))?;
    let budget = budget(args.seconds, args.iterations, began);
    let started = Started::new(budget, args.seed, args.threads);
    let bar = output.bar();
    let request = Request {
        site,
        date,
        absent: &absent,
        keep: keep.as_ref().map(|read| &read.plan),
        settings: started.settings(),
    };
    let made = plan::make(&request, &mut started.watcher(&bar, output));
    bar.finish_and_clear();
    let facts = Facts {
        tonight,
        ..facts(args, &made, absent)
    };
    let written = write(args, site, &made, &facts, output);
    output.detail(format!(
        "{} rounds in {:.1} s",
        made.iterations,
        began.elapsed().as_secs_f64()
    ));
    written.map(|()| exit(&made, args))
}

/// The night that takes up what a carry-over file says; `None` without one.
fn taken_up(args: &Args, site: &Site, date: Date, output: Output) -> Result<Option<Tonight>, Exit> {
    let Some(path) = &args.carry else {
        return Ok(None);
    };
    let (called, text) = verify::text_of(path, output)?;
    let night = CarryDocument::from_json(&text).and_then(|carry| carry.take_up(site, date));
    let misfit = |m| refuse(&[Refusal::of_plan(&called, &m)], output);
    night.map(Some).map_err(misfit)
}

fn facts(args: &Args, made: &Made, absent: Vec<WorkerId>) -> Facts {
    facts_of(made, args.seed, absent)
}

/// How a plan was made, and what its bound is made of.
pub(super) fn facts_of(made: &Made, seed: u64, absent: Vec<WorkerId>) -> Facts {
    Facts {
        program: concat!("evenrun ", env!("CARGO_PKG_VERSION")).to_string(),
        seed,
        iterations: made.iterations,
        sound: made.violations.is_empty(),
        bound: Some(made.bound.share),
        not_cleaning: Some(Seconds(made.bound.certificate.not_cleaning)),
        certificate: certificate(&made.bound),
        absent,
        tonight: None,
    }
}

/// What a bound is made of, in words.
pub(super) fn certificate(bound: &Bound) -> Vec<Certificate> {
    let parts = bound.certificate;
    let part = |what: &str, seconds: i64| Certificate {
        what: what.to_string(),
        minutes: seconds as f64 / 60.0,
    };
    vec![
        part("work, each by the fastest who may do it", parts.work),
        part("walking that no runs avoid", parts.walking),
        part("fills and dumps, without the way there", parts.fills),
        part("set-up and tear-down", parts.set_up),
        part("available time of everyone present", parts.available),
    ]
}

fn write(args: &Args, site: &Site, made: &Made, facts: &Facts, output: Output) -> Result<(), Exit> {
    let answer = Answer {
        site,
        calendar: &made.calendar,
        plan: &made.plan,
        measures: &made.measures,
        violations: &made.violations,
        facts,
    };
    let json = as_json(&answer)?;
    let carry = carry(args, site, made, facts)?;
    let written = files(&args.out, &answer, carry, &json, output);
    // Also when a file could not be written: the plan is not lost then.
    let text = if output.is_json() {
        json
    } else {
        report::table(&answer)
    };
    output::data(&text).and(written)
}

/// Report and cards of a plan.
pub(super) fn pages(answer: &Answer) -> Vec<(&'static str, String)> {
    let words = || Words::new(Language::English, answer.site);
    let (page, cards) = rayon::join(
        || report::html(answer, &words()),
        || report::cards(answer, &words(), false),
    );
    vec![(PAGE, page), (CARDS, cards)]
}

/// What plan.json holds.
pub(super) fn as_json(answer: &Answer) -> Result<String, Exit> {
    let document = PlanDocument::new(
        answer.site,
        answer.plan,
        answer.measures,
        answer.facts.clone(),
    );
    document.to_json().map_err(|error| {
        output::wrong(format!("error: cannot write the plan down: {error}"));
        Exit::Bug
    })
}

/// Writes report, cards and whatever goes with them into a folder, and the plan last.
pub(super) fn files(
    out: &Path,
    answer: &Answer,
    more: Option<(&'static str, String)>,
    json: &str,
    output: Output,
) -> Result<(), Exit> {
    let mut files = pages(answer);
    files.extend(more);
    files.push((PLAN, json.to_string()));
    put(out, files, output)
}

/// What waits until another night, where something does or did.
fn carry(
    args: &Args,
    site: &Site,
    made: &Made,
    facts: &Facts,
) -> Result<Option<(&'static str, String)>, Exit> {
    if args.carry.is_none() && made.plan.undone.is_empty() {
        return Ok(None);
    }
    let (date, usual) = (made.plan.date, Tonight::default());
    let night = facts.tonight.as_ref().unwrap_or(&usual);
    let waits = waits(site, date, night, &made.plan.undone, &[]);
    let text = CarryDocument::new(site, date, &waits).to_json();
    let text = text.map_err(|error| {
        output::wrong(format!("error: cannot write down what waits: {error}"));
        Exit::Bug
    })?;
    Ok(Some((CARRY, text)))
}

/// Writes the files of a plan into its folder; the plan itself is the last of them.
pub(super) fn put(
    folder: &Path,
    files: Vec<(&'static str, String)>,
    output: Output,
) -> Result<(), Exit> {
    let files: Vec<_> = files
        .into_iter()
        .map(|(name, text)| (folder.join(name), text))
        .collect();
    output.put_all(&files)
}

fn exit(made: &Made, args: &Args) -> Exit {
    if !made.violations.is_empty() {
        output::wrong(format!(
            "error: this plan breaks a rule, which is a bug in evenrun: do not work by it\nhint: report it with the site and `--seed {}`",
            args.seed
        ));
        Exit::Bug
    } else if made.plan.undone.is_empty() {
        Exit::Done
    } else {
        Exit::Left
    }
}
