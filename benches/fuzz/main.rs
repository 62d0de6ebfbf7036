//! Odd inputs by the million, against panics, hangs and memory: `cargo bench --bench fuzz -- --family site --inputs 100000`.
//!
//! Inputs are made from those in the repository by a fixed seed, so an input is told by its family, seed and number. One line of `key=value`
//! pairs comes out for each family:
//!
//! | key | meaning |
//! |---|---|
//! | `family seed inputs` | which inputs |
//! | `accepted refused` | of them, those read without an error, and the others |
//! | `codes` | distinct problem codes and broken rules that were reached |
//! | `panics` | distinct panics; each is told on stderr, and its first input is kept in the folder `--save` |
//! | `longest_ms` | the slowest input |
//! | `seconds` | all of them |
//! | `memory_mb` | peak resident memory of the whole bench, MiB |
//!
//! An input that takes more than five seconds, or 1 GiB, ends the bench at once. The exit code is 3 if anything did harm.

#![expect(
    clippy::print_stdout,
    clippy::print_stderr,
    clippy::exit,
    reason = "a bench prints its results, and ends where an input hangs"
)]

#[path = "../common/memory.rs"]
mod memory;

// The program's own layer, for its command line alone.
#[allow(dead_code, unused_imports)]
#[path = "../../src/cli/mod.rs"]
mod cli;

mod command;
mod inputs;
mod save;
mod watch;

use clap::Parser;
use inputs::Family;
use save::Save;
use std::collections::BTreeSet;
use std::panic::{self, AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use std::process::ExitCode;
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};
use watch::Watch;

/// Tries odd inputs.
#[derive(Debug, Parser)]
struct Args {
    /// A kind of input, or `all`: site, rooms, plan, events, xlsx, gml, ifc, split, carry, command, limits, slow
    #[arg(long, default_value = "all")]
    family: String,
    /// How many inputs of each family
    #[arg(long, default_value_t = 10_000)]
    inputs: u64,
    /// The number of the first one
    #[arg(long, default_value_t = 0)]
    from: u64,
    /// What they are made from
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Keep inputs that did harm in this folder
    #[arg(long, value_name = "DIR")]
    save: Option<PathBuf>,
    /// Given by cargo
    #[arg(long, hide = true)]
    bench: bool,
}

/// Where the last panic was, and what it said.
static PANIC: Mutex<String> = Mutex::new(String::new());

fn main() -> ExitCode {
    let args = Args::parse();
    panic::set_hook(Box::new(|info| {
        let mut last = PANIC.lock().unwrap_or_else(PoisonError::into_inner);
        *last = info.to_string();
    }));
    let names = inputs::NAMES.iter().chain(&["command", "limits", "slow"]);
    let mut harm = false;
    for name in names.filter(|n| args.family == "all" || args.family == **n) {
        let family = if *name == "command" {
            Ok(command::family())
        } else {
            inputs::family(name)
        };
        match family {
            Ok(family) => harm |= tried(&args, &family),
            Err(error) => {
                eprintln!("error: {error}");
                return ExitCode::from(2);
            }
        }
    }
    ExitCode::from(if harm { 3 } else { 0 })
}

/// What came of a family.
#[derive(Default)]
struct Count {
    accepted: u64,
    refused: u64,
    /// Inputs that panic, and in how many ways.
    failed: u64,
    panics: u64,
    longest: Duration,
    codes: BTreeSet<String>,
}

/// Tries a family, and prints its line. Whether anything did harm.
fn tried(args: &Args, family: &Family) -> bool {
    let save = Save::new(family.name, args.save.clone());
    let watch = Watch::new(save.clone(), |why| {
        eprintln!("{why}");
        std::process::exit(3)
    });
    let mut count = Count::default();
    let began = Instant::now();
    for number in args.from..args.from.saturating_add(args.inputs) {
        let Some(input) = family.input(args.seed, number) else {
            break;
        };
        one(family, number, &input, &save, &watch, &mut count);
    }
    watch.end();
    println!(
        "family={} seed={} inputs={} accepted={} refused={} codes={} panics={} longest_ms={:.1} seconds={:.0} memory_mb={}",
        family.name,
        args.seed,
        count.accepted + count.refused + count.failed,
        count.accepted,
        count.refused,
        count.codes.len(),
        count.panics,
        count.longest.as_secs_f64() * 1000.0,
        began.elapsed().as_secs_f64(),
        memory::peak_mib().map_or_else(String::new, |mib| mib.to_string()),
    );
    count.panics > 0
}

fn one(
    family: &Family,
    number: u64,
    (format, input): &(usize, Vec<u8>),
    save: &Save,
    watch: &Watch,
    count: &mut Count,
) {
    watch.begin(input);
    let began = Instant::now();
    let outcome = catch_unwind(AssertUnwindSafe(|| family.read(*format, input)));
    count.longest = count.longest.max(began.elapsed());
    if let Ok(outcome) = outcome {
        count.accepted += u64::from(outcome.accepted);
        count.refused += u64::from(!outcome.accepted);
        count.codes.extend(outcome.codes);
        return;
    }
    count.failed += 1;
    let why = PANIC.lock().unwrap_or_else(PoisonError::into_inner).clone();
    // One place of the code is one way of doing harm, whatever it says.
    if save.put(why.lines().next().unwrap_or_default(), input) {
        count.panics += 1;
        eprintln!(
            "family={} format={format} number={number}: {why}",
            family.name
        );
    }
}
