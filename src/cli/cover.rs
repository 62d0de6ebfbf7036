//! `evenrun cover`: the night changed; the plan is repaired so that people keep what they had.

use super::exit::Exit;
use super::output::{self, Output};
use super::plan::{self, CARDS, CARRY, PAGE, PLAN, put};
use super::refusal::{Refusal, refuse};
use super::search::{MOST_THREADS, Started, budget, seconds};
use super::tonight::{self, Told};
use super::{folder, site, verify};
use evenrun::cover::{
    CarryDocument, ChangesDocument, Covered, Diff, Earlier, Request, STEADY, cover, diff, waits,
};
use evenrun::plan::{Facts, Measures, PlanDocument, Tonight, check, measure};
use evenrun::report::{self, Answer, CoverSheet};
use evenrun::site::Calendar;
use evenrun::units::Seconds;
use itertools::Itertools;
use serde_json::json;
use std::path::PathBuf;
use std::time::Instant;

/// The file of changes.
const CHANGES: &str = "changes.json";

/// Seconds if none are asked for: up to so many rooms, and at most; between them in proportion. A twentieth of a second and a tenth less than
/// two and eight, which nobody is to wait longer than.
const FEW: (f64, f64) = (120.0, 1.95);
const MANY: (f64, f64) = (600.0, 7.9);

/// Options of `cover`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  evenrun cover my-site out/plan.json --absent Ana
  evenrun cover my-site out/plan.json --absent Ana@19:30  who leaves in the middle of the night
  evenrun cover my-site out/plan.json --late Ben@18:00 --overtime 30 --steady 9")]
pub(super) struct Args {
    /// The site: a folder with a site.yaml, or its YAML file
    site: PathBuf,
    /// The plan file that people know; `-` is standard input
    plan: PathBuf,
    #[command(flatten)]
    told: Told,
    /// How much calm is worth: at 0 evenness comes first and change last, at 10 the other way round
    #[arg(long, value_name = "DIAL", default_value_t = STEADY.0, value_parser = clap::value_parser!(u8).range(0..=i64::from(STEADY.1)))]
    steady: u8,
    /// Seconds from start to written files; if left out just under 2 for up to 120 rooms, 8 for 600
    #[arg(long, value_name = "N", value_parser = seconds, conflicts_with = "iterations")]
    seconds: Option<f64>,
    /// Rounds of search instead of seconds: the same plan on every machine
    #[arg(long, value_name = "N")]
    iterations: Option<u64>,
    /// What chance draws from: another number, another plan as good
    #[arg(long, value_name = "N", default_value_t = 1)]
    seed: u64,
    /// Threads to use; 0 is one per processor
    #[arg(long, value_name = "N", default_value_t = 0, value_parser = clap::value_parser!(u16).range(..=MOST_THREADS))]
    threads: u16,
    /// Folder for plan.json, changes.json, carry.json, report.html and cards.html; it is made if need be
    #[arg(long, value_name = "DIR", default_value = "out/cover")]
    out: PathBuf,
    /// Print plan, changes and carry-over as JSON instead of the sheet
    #[arg(long)]
    json: bool,
}

pub(super) fn run(args: &Args, output: Output) -> Exit {
    covered(args, output.json(args.json)).unwrap_or_else(|exit| exit)
}

fn covered(args: &Args, output: Output) -> Result<Exit, Exit> {
    let began = Instant::now();
    let reading = site::read(&args.site, output)?;
    let site = &reading.site;
    let earlier = verify::read_plan(&args.plan, site, output)?;
    let calendar = Calendar::new(earlier.plan.date, site.time_zone.as_deref());
    let changes = tonight::changes(&args.told, &earlier.site, &calendar, output)?;
    warn_if_unsound(&earlier, output);
    folder::room_for(&args.out, &[PLAN, CHANGES, CARRY, PAGE, CARDS])
        .map_err(|refusal| refuse(&[refusal], output))?;
    let seconds = args
        .seconds
        .unwrap_or_else(|| usual_seconds(site.rooms.len()));
    let budget = budget(seconds, args.iterations, began);
    let started = Started::new(budget, args.seed, args.threads);
    let bar = output.bar();
    let usual = Tonight::default();
    let request = Request {
        site,
        earlier: Earlier {
            plan: &earlier.plan,
            absent: &earlier.absent,
            tonight: earlier.document.tonight.as_ref().unwrap_or(&usual),
        },
        changes: &changes,
        steady: args.steady,
        settings: started.settings(),
    };
    let covered = cover(&request, &mut started.watcher(&bar, output));
    bar.finish_and_clear();
    let covered = covered.map_err(|misfits| {
        refuse(
            &misfits.iter().map(Refusal::of_change).collect::<Vec<_>>(),
            output,
        )
    })?;
    let mut news = tonight::news(&args.told);
    let known = &request.earlier.tonight.done;
    let mut ahead = covered.tonight.done.iter().filter(|r| !known.contains(r));
    let ahead = ahead.join(", ");
    if !ahead.is_empty() {
        news.push(format!("done ahead of the plan: {ahead}"));
    }
    let before = measure(&earlier.site, &earlier.plan);
    let answer = Answered::of(args, &covered, &before, &news);
    answer.write(output)?;
    output.detail(format!(
        "{} rounds in {:.1} s",
        covered.made.iterations,
        began.elapsed().as_secs_f64()
    ));
    Ok(exit(&covered, args))
}

/// A plan that was not sound before may not be so afterwards.
fn warn_if_unsound(earlier: &verify::ReadPlan, output: Output) {
    let present = earlier.site.present(earlier.plan.date, &earlier.absent);
    let broken = check(&earlier.site, &earlier.plan, &present);
    if !broken.is_empty() {
        output.note("note: the plan to start from breaks rules; `evenrun verify` lists them");
    }
}

/// What a cover plan is given if nothing else is asked for.
fn usual_seconds(rooms: usize) -> f64 {
    let rooms = (rooms as f64).clamp(FEW.0, MANY.0);
    FEW.1 + (rooms - FEW.0) / (MANY.0 - FEW.0) * (MANY.1 - FEW.1)
}

/// A cover plan with all that is written of it.
struct Answered<'a> {
    args: &'a Args,
    covered: &'a Covered,
    before: &'a Measures,
    news: &'a [String],
    diff: Diff,
    facts: Facts,
}

impl<'a> Answered<'a> {
    fn of(
        args: &'a Args,
        covered: &'a Covered,
        before: &'a Measures,
        news: &'a [String],
    ) -> Answered<'a> {
        let made = &covered.made;
        let facts = Facts {
            program: concat!("evenrun ", env!("CARGO_PKG_VERSION")).to_string(),
            seed: args.seed,
            iterations: made.iterations,
            sound: made.violations.is_empty(),
            bound: covered.proven.then_some(made.bound.share),
            not_cleaning: covered
                .proven
                .then_some(Seconds(made.bound.certificate.not_cleaning)),
            certificate: if covered.proven {
                plan::certificate(&made.bound)
            } else {
                Vec::new()
            },
            absent: covered.absent.clone(),
            tonight: (!covered.tonight.is_usual()).then(|| covered.tonight.clone()),
        };
        Answered {
            args,
            covered,
            before,
            news,
            diff: diff(&covered.site, &covered.before, &made.plan),
            facts,
        }
    }

    fn write(&self, output: Output) -> Result<(), Exit> {
        let Covered {
            site,
            made,
            tonight,
            savers,
            ..
        } = self.covered;
        let waits = waits(site, made.plan.date, tonight, &made.plan.undone, savers);
        let document = PlanDocument::new(site, &made.plan, &made.measures, self.facts.clone());
        let shares = (self.before.evenness.highest, made.measures.evenness.highest);
        let changes = ChangesDocument::new(site, made.plan.date.to_string(), &self.diff, shares);
        let carry = CarryDocument::new(site, made.plan.date, &waits);
        let failed = |error: serde_json::Error| {
            output::wrong(format!("error: cannot write the plan down: {error}"));
            Exit::Bug
        };
        let mut files = self.pages();
        files.extend([
            (CHANGES, changes.to_json().map_err(failed)?),
            (CARRY, carry.to_json().map_err(failed)?),
            (PLAN, document.to_json().map_err(failed)?),
        ]);
        let written = put(&self.args.out, files, output);
        // Also when a file could not be written: the plan is not lost then.
        let text = if output.is_json() {
            let all = json!({ "plan": document, "changes": changes, "carry": carry });
            format!("{all:#}\n")
        } else {
            report::cover_sheet(&CoverSheet {
                title: "cover sheet",
                site,
                calendar: &made.calendar,
                news: self.news,
                before: (&self.covered.before, self.before),
                after: (&made.plan, &made.measures),
                diff: &self.diff,
                waits: &waits,
                violations: Some(&made.violations),
            })
        };
        output::data(&text).and(written)
    }

    fn pages(&self) -> Vec<(&'static str, String)> {
        let Covered { site, made, .. } = self.covered;
        plan::pages(&Answer {
            site,
            calendar: &made.calendar,
            plan: &made.plan,
            measures: &made.measures,
            violations: &made.violations,
            facts: &self.facts,
        })
    }
}

fn exit(covered: &Covered, args: &Args) -> Exit {
    if !covered.made.violations.is_empty() {
        output::wrong(format!(
            "error: this plan breaks a rule: do not work by it\nhint: if the plan it started from is sound, this is a bug in evenrun: report it with the site, the plan and `--seed {}`",
            args.seed
        ));
        Exit::Bug
    } else if covered.made.plan.undone.is_empty() {
        Exit::Done
    } else {
        Exit::Left
    }
}
