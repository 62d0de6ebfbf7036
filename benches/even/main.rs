//! The engine on min-max tours: so many workers start from city 1, together visit all others, and the longest tour is to be as
//! short as possible.
//!
//! `cargo bench --bench even -- FILE.tsp --workers M [--seconds 30] [--iterations N] [--threads 1] [--seed 1]`
//!
//! Reads points in the format of TSPLIB (Reinelt 1991, doi:10.1287/ijoc.3.4.376), kind `EUC_2D`, takes real distances, not rounded
//! ones, and prints `name=eil51 workers=5 longest=118.134 bound=112.071 gap=5.41%`. The longest tour is worked out again from the
//! points; the bound is the one that every plan gets.

#![expect(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a bench prints its results"
)]

mod answer;
mod problem;
mod tsplib;

use clap::Parser;
use evenrun::balance::bound;
use evenrun::route::{Budget, Settings, Stop, search};
use problem::SCALE;
use std::path::PathBuf;
use std::process::ExitCode;
use std::sync::atomic::AtomicBool;
use std::time::{Duration, Instant};

#[derive(Parser)]
struct Arguments {
    /// Points in TSPLIB's format
    file: PathBuf,
    #[arg(long)]
    workers: usize,
    #[arg(long, default_value_t = 30.0)]
    seconds: f64,
    /// Iterations, instead of seconds
    #[arg(long)]
    iterations: Option<u64>,
    #[arg(long, default_value_t = 1)]
    threads: usize,
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Given by cargo
    #[arg(long, hide = true)]
    bench: bool,
}

fn main() -> ExitCode {
    match run(&Arguments::parse()) {
        Ok(line) => {
            println!("{line}");
            ExitCode::SUCCESS
        }
        Err(problem) => {
            eprintln!("{problem}");
            ExitCode::from(2)
        }
    }
}

fn run(arguments: &Arguments) -> Result<String, String> {
    rayon::ThreadPoolBuilder::new()
        .num_threads(arguments.threads)
        .build_global()
        .map_err(|e| e.to_string())?;
    let cities = tsplib::read(&arguments.file)?;
    let instance = problem::instance(&cities, arguments.workers);
    let from = Instant::now();
    let to = from + Duration::from_secs_f64(arguments.seconds);
    let settings = Settings {
        stop: Stop {
            budget: (arguments.iterations).map_or(Budget::Until { from, to }, Budget::Iterations),
            interrupted: &AtomicBool::new(false),
        },
        seed: arguments.seed,
        islands: arguments.threads as u32,
    };
    let found = search(&instance, None, &[], settings, &mut |_, _| {});
    let way = |from, to| i64::from(instance.walks[0].walk(from, to));
    let available = f64::from(instance.workers[0].available);
    let bound = bound(&instance, &found.scope, &way, Stop::NEVER).share * available / SCALE;
    let longest = answer::longest(&cities, &found)?;
    Ok(format!(
        "name={} workers={} longest={longest:.3} bound={bound:.3} gap={:.2}% iterations={}",
        cities.name,
        arguments.workers,
        100.0 * (longest / bound - 1.0),
        found.iterations
    ))
}
