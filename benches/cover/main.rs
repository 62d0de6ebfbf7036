//! How good cover plans are, how calm, and how soon they are there: `cargo bench --bench cover -- --help`.
//!
//! A site is made up as by the bench `site` (or read from `--site`) and planned; then people are taken away, the plan is covered, and the same
//! night is planned afresh without the plan before. One line of `key=value` pairs comes out for each set of people away:
//!
//! | key | meaning |
//! |---|---|
//! | `rooms workers seed absent steady` | the night; `absent` by name, `@` and the time if they leave during it |
//! | `took` | seconds from the site in memory to the checked cover plan with changes and carry-over |
//! | `kept` | of the stops of those present, how many keep their worker, in per cent |
//! | `on_time` | of those kept, how many start within a quarter of an hour of before |
//! | `runs` | runs that are not as they were |
//! | `highest undone` | of the cover plan: highest share in per cent, tasks and duties left undone |
//! | `free_highest free_undone free_kept` | the same of the plan afresh, and how many stops would have kept their worker |
//! | `behind` | the cover plan's highest share over the free one's, less one, in per cent; only where nothing is behind |
//! | `memory_mb` | peak resident memory of the whole bench, MiB |
//! | `iterations` | rounds of all islands |
//!
//! A plan that breaks a rule is told on stderr,
//! and the exit code is 3.

#![expect(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a bench prints its results"
)]

#[path = "../common/mod.rs"]
mod common;

use clap::Parser;
use common::building::{Figures, building};
use evenrun::cover::{Changes, Covered, Earlier, Request, cover, diff, waits};
use evenrun::input::read_site;
use evenrun::plan::{self, Made, Plan, Tonight};
use evenrun::route::{Budget, Settings, Stop};
use evenrun::site::{Site, WorkerId};
use evenrun::units::Clock;
use jiff::civil::{Date, date};
use std::fmt::Write;
use std::path::PathBuf;
use std::process::ExitCode;
use std::sync::atomic::AtomicBool;
use std::time::{Duration, Instant};

/// Islands, as the commands have them.
const ISLANDS: u32 = 2;

/// Covers absences of a made-up site and compares with planning afresh.
#[derive(Debug, Parser)]
struct Args {
    /// Rooms of the building
    #[arg(long, default_value_t = 120)]
    rooms: usize,
    /// People on duty
    #[arg(long, default_value_t = 6)]
    workers: usize,
    /// Which building, and what chance draws from
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// A site to read in place of a made-up one
    #[arg(long, value_name = "SITE")]
    site: Option<PathBuf>,
    /// How many are away at once
    #[arg(long, default_value_t = 1)]
    absent: usize,
    /// How many different sets of people are taken away, one after another
    #[arg(long, default_value_t = 6)]
    nights: usize,
    /// They leave at this time instead of staying away
    #[arg(long, value_name = "HH:MM")]
    at: Option<Clock>,
    /// How much calm is worth, from 0 to 10
    #[arg(long, default_value_t = evenrun::cover::STEADY.0)]
    steady: u8,
    /// Seconds for the plan before
    #[arg(long, default_value_t = 10.0)]
    before: f64,
    /// Seconds for the cover plan
    #[arg(long, default_value_t = 2.0)]
    seconds: f64,
    /// Seconds for the plan afresh
    #[arg(long, default_value_t = 30.0)]
    free: f64,
    /// Threads; 0 is one per processor
    #[arg(long, default_value_t = 0)]
    threads: usize,
    /// Given by cargo
    #[arg(long, hide = true)]
    bench: bool,
}

fn main() -> ExitCode {
    match run(&Args::parse()) {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::from(3),
        Err(problem) => {
            eprintln!("error: {problem}");
            ExitCode::from(2)
        }
    }
}

fn run(args: &Args) -> Result<bool, String> {
    // Only fails when there is a pool already, and nothing made one before this.
    let _ = rayon::ThreadPoolBuilder::new()
        .num_threads(args.threads)
        .build_global();
    let site = site(args)?;
    let day = site.date.unwrap_or(date(2026, 3, 10));
    let before = planned(&site, day, &[], args.before, args.seed);
    let present = site.present(day, &[]);
    let mut sound = before.violations.is_empty();
    for night in 0..args.nights.min(present.len()) {
        let step = (present.len() / args.absent.max(1)).max(1);
        let away = (0..args.absent).map(|i| present[(night + i * step) % present.len()]);
        sound &= one(args, &site, &before, &away.collect::<Vec<_>>())?;
    }
    Ok(sound)
}

fn site(args: &Args) -> Result<Site, String> {
    let told = |problems: evenrun::input::Problems| common::building::told(&problems);
    if let Some(path) = &args.site {
        return Ok(read_site(path).map_err(told)?.site);
    }
    let figures = Figures {
        rooms: args.rooms,
        workers: args.workers,
        floors: (args.rooms / 100).max(3).min(args.rooms / 12),
        seed: args.seed,
        plain: false,
    };
    let failed = |error: std::io::Error| error.to_string();
    let folder = tempfile::tempdir().map_err(failed)?;
    building(figures)
        .map_err(failed)?
        .write(folder.path())
        .map_err(failed)?;
    Ok(read_site(folder.path()).map_err(told)?.site)
}

fn settings(never: &AtomicBool, seconds: f64, seed: u64) -> Settings<'_> {
    let from = Instant::now();
    let to = from + Duration::from_secs_f64(seconds);
    Settings {
        stop: Stop {
            budget: Budget::Until { from, to },
            interrupted: never,
        },
        seed,
        islands: ISLANDS,
    }
}

fn planned(site: &Site, day: Date, absent: &[WorkerId], seconds: f64, seed: u64) -> Made {
    let never = AtomicBool::new(false);
    let request = plan::Request {
        site,
        date: day,
        absent,
        keep: None,
        settings: settings(&never, seconds, seed),
    };
    plan::make(&request, &mut |_, _| {})
}

/// One set of people away: covered, planned afresh, and told. Whether both plans are sound.
fn one(args: &Args, site: &Site, before: &Made, away: &[WorkerId]) -> Result<bool, String> {
    let changes = Changes {
        absent: if args.at.is_none() {
            away.to_vec()
        } else {
            Vec::new()
        },
        leaves: args
            .at
            .map(|at| away.iter().map(|w| (*w, at)).collect())
            .unwrap_or_default(),
        ..Changes::default()
    };
    let began = Instant::now();
    let covered = covered(args, site, &before.plan, &changes)?;
    let _ = diff(&covered.site, &covered.before, &covered.made.plan);
    let undone = &covered.made.plan.undone;
    let _ = waits(
        &covered.site,
        before.plan.date,
        &covered.tonight,
        undone,
        &covered.savers,
    );
    let took = began.elapsed().as_secs_f64();
    let free = planned(site, before.plan.date, away, args.free, args.seed);
    println!("{}", line(args, site, before, away, &covered, &free, took));
    for violation in covered.made.violations.iter().chain(&free.violations) {
        eprintln!("broken: {:?}: {}", violation.rule, violation.message);
    }
    Ok(covered.made.violations.is_empty() && free.violations.is_empty())
}

/// Everything about both plans, in `key=value` pairs.
fn line(
    args: &Args,
    site: &Site,
    before: &Made,
    away: &[WorkerId],
    covered: &Covered,
    free: &Made,
    took: f64,
) -> String {
    let found = diff(&covered.site, &covered.before, &covered.made.plan);
    let other = diff(site, &before.plan, &free.plan);
    let percent = |part: usize, all: usize| part as f64 * 100.0 / all.max(1) as f64;
    let names = away
        .iter()
        .map(|w| site.crew[w.index()].name.replace(' ', "_"));
    let at = args
        .at
        .map_or_else(String::new, |at| format!("@{}", at.hour_minute()));
    let highest = covered.made.measures.evenness.highest;
    let counts = found.counts;
    let mut line = format!(
        "rooms={} workers={} seed={} absent={}{at} steady={} took={took:.2} kept={:.1}% on_time={:.1}% runs={} highest={:.2}% undone={}",
        site.rooms.len(),
        before.plan.runs.len(),
        args.seed,
        names.collect::<Vec<_>>().join(","),
        args.steady,
        percent(counts.kept, counts.stops),
        percent(counts.on_time, counts.kept),
        counts.runs,
        highest * 100.0,
        covered.made.plan.undone.len(),
    );
    if covered.proven {
        let free_highest = free.measures.evenness.highest;
        let _ = write!(
            line,
            " free_highest={:.2}% free_undone={} free_kept={:.1}% behind={:.2}%",
            free_highest * 100.0,
            free.plan.undone.len(),
            percent(other.counts.kept, other.counts.stops),
            (highest / free_highest - 1.0) * 100.0
        );
    }
    if let Some(peak) = common::memory::peak_mib() {
        let _ = write!(line, " memory_mb={peak}");
    }
    format!("{line} iterations={}", covered.made.iterations)
}

fn covered(args: &Args, site: &Site, plan: &Plan, changes: &Changes) -> Result<Covered, String> {
    let never = AtomicBool::new(false);
    let request = Request {
        site,
        earlier: Earlier {
            plan,
            absent: &[],
            tonight: &Tonight::default(),
        },
        changes,
        steady: args.steady,
        settings: settings(&never, args.seconds, args.seed),
    };
    cover(&request, &mut |_, _| {}).map_err(|misfits| {
        let all: Vec<String> = misfits.iter().map(ToString::to_string).collect();
        all.join("\n")
    })
}
