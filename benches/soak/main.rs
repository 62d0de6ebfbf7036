//! Whether every plan is sound, whatever the site: `cargo bench --bench soak -- --help`.
//!
//! Random sites with every rule on, half of them odd (no rooms, nobody, one room, everything shut, over midnight, a day on which clocks change,
//! all places one, work of no length, 400 rooms), are each planned briefly, covered after a random change, checked, written to a file, read again
//! and checked again. Every problem is a line; the last line tells how many there were: `bench=soak sites=1000 failures=0 seconds=...`.
//! The exit code is 1 if there was any.

#![expect(
    clippy::print_stdout,
    clippy::unwrap_used,
    reason = "a bench prints its results, and stops at what cannot be"
)]

#[path = "../../tests/it/common.rs"]
#[allow(dead_code, reason = "tests use more of it")]
mod common;
#[path = "../../tests/it/support/mod.rs"]
#[allow(dead_code, unused_imports, reason = "tests use more of it")]
mod support;

use clap::Parser;
use rayon::prelude::{IntoParallelIterator, ParallelIterator};
use std::process::ExitCode;
use std::time::Instant;
use support::ordeal::{night, odd_night, problems};

/// Plans, covers and checks random sites.
#[derive(Debug, Parser)]
struct Args {
    /// How many
    #[arg(long, default_value_t = 1_000)]
    sites: u64,
    /// The first seed
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Only random ones, or only odd ones; half of each if left out
    #[arg(long, value_parser = ["random", "odd"])]
    only: Option<String>,
    /// Given by cargo
    #[arg(long, hide = true)]
    bench: bool,
}

fn main() -> ExitCode {
    let args = Args::parse();
    let began = Instant::now();
    // What panics is told as a problem of its seed.
    std::panic::set_hook(Box::new(|_| {}));
    let seeds = (args.seed..args.seed + args.sites).into_par_iter();
    let each = seeds.map(|seed| match args.only.as_deref() {
        Some("random") => problems(seed, night),
        Some(_) => problems(seed, odd_night),
        None if seed.is_multiple_of(2) => problems(seed / 2, night),
        None => problems(seed / 2, odd_night),
    });
    let failures: Vec<Vec<String>> = each.filter(|p: &Vec<String>| !p.is_empty()).collect();
    for problem in failures.iter().flatten() {
        println!("{problem}");
    }
    println!(
        "bench=soak sites={} failures={} seconds={:.0}",
        args.sites,
        failures.len(),
        began.elapsed().as_secs_f64()
    );
    ExitCode::from(u8::from(!failures.is_empty()))
}
