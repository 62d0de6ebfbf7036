//! Whether the program keeps to the clock: `cargo bench --bench limits -- --help`.
//!
//! The program itself is run on the demo and on made-up sites, from its start to its end. First with budgets of seconds, which are meant to be kept
//! within a twentieth, or half a second if that is more. Then signals are sent to it, at moments drawn by chance; it is meant to end within a second, with
//! whole files and a sound plan, or with none. One line of `key=value` pairs comes out for each run:
//!
//! | key | meaning |
//! |---|---|
//! | `site command` | what was run: `rooms/workers` of a made-up site |
//! | `seconds took over` | what was asked for, what it took, and the difference; `over` is marked with `!` where it is too much |
//! | `signal at after` | which signal, after how many seconds, and how many seconds the program then took to end; marked with `!` above one |
//! | `end` | the exit code, or the signal that ended the program |
//! | `left` | `nothing`, `sound`, or what is wrong with the files |
//!
//! The exit code is 3 if files were not whole or a plan was not sound, 1 if the clock was not kept to, else 0.

#![expect(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a bench prints its results"
)]

#[path = "../common/building/mod.rs"]
mod building;

mod ground;
mod program;

use clap::Parser;
use ground::Ground;
use program::{Ended, begun, ended};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use std::process::ExitCode;
use std::time::Duration;

/// Commands that keep to a budget of seconds.
const BUDGETED: [&str; 5] = ["plan", "cover", "all", "audit", "staff"];
/// Commands that take a while; `all` is `plan --all`, and `import` that of rooms.
const LONG: [&str; 9] = [
    "plan", "cover", "all", "audit", "staff", "calendar", "explain", "report", "import",
];
/// What a budget may be missed by: a part of it, and seconds.
const MISSED: (f64, f64) = (0.05, 0.5);
/// Seconds within which a signal is to end the program.
const AT_ONCE: f64 = 1.0;

/// Runs the program against the clock.
#[derive(Debug, Parser)]
struct Args {
    /// Sites: `demo`, or rooms and workers of made-up ones
    #[arg(
        long,
        value_delimiter = ',',
        default_value = "demo,120/6,600/20,2000/60"
    )]
    sites: Vec<String>,
    /// Budgets
    #[arg(long, value_delimiter = ',', default_value = "2,5,10")]
    seconds: Vec<f64>,
    /// Commands; those that have no budget only get signals
    #[arg(
        long,
        value_delimiter = ',',
        default_value = "plan,cover,all,audit,staff,calendar,explain,report,import"
    )]
    commands: Vec<String>,
    /// How many signals each command gets on each site
    #[arg(long, default_value_t = 6)]
    signals: u32,
    /// What the moments are drawn from, and which buildings
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Given by cargo
    #[arg(long, hide = true)]
    bench: bool,
}

fn main() -> ExitCode {
    match run(&Args::parse()) {
        Ok(worst) => ExitCode::from(worst),
        Err(problem) => {
            eprintln!("error: {problem}");
            ExitCode::from(2)
        }
    }
}

/// The exit code.
fn run(args: &Args) -> Result<u8, String> {
    let rng = &mut Pcg64Mcg::seed_from_u64(args.seed);
    let mut worst = 0;
    for site in &args.sites {
        let ground = Ground::of(site, args.seed)?;
        let asked = |command: &&&str| args.commands.iter().any(|c| c == **command);
        for command in BUDGETED.iter().filter(asked) {
            for seconds in &args.seconds {
                worst = worst.max(budgeted(&ground, site, command, *seconds)?);
            }
        }
        for command in LONG.iter().filter(asked) {
            let longest = args.seconds.iter().copied().fold(0.0, f64::max);
            // Signals come while it runs: it is let run once to see how long that is.
            ground.clear()?;
            let whole = ended(begun(&ground.command(command, longest))?, None)?.took;
            for number in 0..args.signals {
                let signal = ["INT", "TERM"][number as usize % 2];
                let at = rng.random_range(0.0..whole);
                worst = worst.max(signalled(
                    &ground,
                    site,
                    command,
                    longest,
                    (signal, at, whole),
                )?);
            }
        }
    }
    Ok(worst)
}

fn budgeted(ground: &Ground, site: &str, command: &str, seconds: f64) -> Result<u8, String> {
    ground.clear()?;
    let child = begun(&ground.command(command, seconds))?;
    let Ended { took, how } = ended(child, None)?;
    let over = took - seconds;
    let late = over.abs() > (MISSED.0 * seconds).max(MISSED.1) && (over > 0.0 || command == "plan");
    let left = ground.left(command)?;
    println!(
        "site={site} command={command} seconds={seconds} took={took:.2} over={over:.2}{} end={how} left={}",
        mark(late),
        left.word()
    );
    Ok(left.code().max(u8::from(late)))
}

fn signalled(
    ground: &Ground,
    site: &str,
    command: &str,
    seconds: f64,
    (signal, at, whole): (&'static str, f64, f64),
) -> Result<u8, String> {
    ground.clear()?;
    let child = begun(&ground.command(command, seconds))?;
    let sent = (signal, Duration::from_secs_f64(at));
    let Ended { took, how } = ended(child, Some(sent))?;
    let after = (took - at).max(0.0);
    let late = after > AT_ONCE;
    let left = ground.left(command)?;
    println!(
        "site={site} command={command} signal={signal} at={at:.3} of={whole:.3} after={after:.2}{} end={how} left={}",
        mark(late),
        left.word()
    );
    Ok(left.code().max(u8::from(late)))
}

fn mark(late: bool) -> &'static str {
    if late { "!" } else { "" }
}
