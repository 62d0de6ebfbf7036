//! The engine on the vehicle routing problem with time windows: least distance, as in the literature.
//!
//! `cargo bench --bench routing -- FILE... [--seconds 30] [--iterations N] [--threads 1] [--seed 1] [--best FILE]`
//!
//! Reads instances in Solomon's format (Solomon 1987, doi:10.1287/opre.35.2.254), of which distances are Euclidean, truncated to one
//! decimal, and prints one line for each: `name=R209 distance=854.8 vehicles=5 gap=0.00%`; the gap if `--best` names a table with
//! the columns `instance` and `cost`. What is printed is worked out again from the file and the order of the customers.

#![expect(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a bench prints its results"
)]

mod answer;
mod best;
mod problem;
mod solomon;

use clap::Parser;
use evenrun::route::{Budget, Settings, Stop, search};
use std::path::PathBuf;
use std::process::ExitCode;
use std::sync::atomic::AtomicBool;
use std::time::{Duration, Instant};

#[derive(Parser)]
struct Arguments {
    /// Instances in Solomon's format
    #[arg(required = true)]
    files: Vec<PathBuf>,
    /// Seconds for each
    #[arg(long, default_value_t = 30.0)]
    seconds: f64,
    /// Iterations for each, instead of seconds
    #[arg(long)]
    iterations: Option<u64>,
    #[arg(long, default_value_t = 1)]
    threads: usize,
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// A table of best-known costs
    #[arg(long)]
    best: Option<PathBuf>,
    /// Given by cargo
    #[arg(long, hide = true)]
    bench: bool,
}

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    match run(&arguments) {
        Ok(()) => ExitCode::SUCCESS,
        Err(problem) => {
            eprintln!("{problem}");
            ExitCode::from(2)
        }
    }
}

fn run(arguments: &Arguments) -> Result<(), String> {
    let best = match &arguments.best {
        Some(file) => best::read(file)?,
        None => best::Best::default(),
    };
    rayon::ThreadPoolBuilder::new()
        .num_threads(arguments.threads)
        .build_global()
        .map_err(|e| e.to_string())?;
    let mut gaps = Vec::new();
    for file in &arguments.files {
        let routing = solomon::read(file)?;
        let begun = Instant::now();
        let instance = problem::instance(&routing);
        let never = AtomicBool::new(false);
        let budget = arguments.iterations.map_or(
            Budget::Until {
                from: begun,
                to: begun + Duration::from_secs_f64(arguments.seconds),
            },
            Budget::Iterations,
        );
        let settings = Settings {
            stop: Stop {
                budget,
                interrupted: &never,
            },
            seed: arguments.seed,
            islands: arguments.threads as u32,
        };
        let found = search(&instance, None, &[], settings, &mut |_, _| {});
        let answer = answer::measure(&routing, &found)?;
        let gap = best.gap(&routing.name, answer.distance);
        gaps.extend(gap);
        println!(
            "name={} distance={:.1} vehicles={}{} iterations={}",
            routing.name,
            answer.distance as f64 / 10.0,
            answer.vehicles,
            gap.map_or(String::new(), |g| format!(" gap={:.2}%", 100.0 * g)),
            found.iterations
        );
    }
    if !gaps.is_empty() {
        let mean = gaps.iter().sum::<f64>() / gaps.len() as f64;
        println!("mean_gap={:.3}% instances={}", 100.0 * mean, gaps.len());
    }
    Ok(())
}
