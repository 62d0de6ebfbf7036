//! How good plans of whole sites are, how soon, and how much memory they take: `cargo bench --bench site -- --help`.
//!
//! The site is made up from its figures and a seed ([`common::building`] says how), written as files, and read like any other.
//! One line of `key=value` pairs comes out:
//!
//! | key | meaning |
//! |---|---|
//! | `rooms workers floors seed seconds threads` | what was asked for; `seconds=-` with `--iterations` |
//! | `first` | seconds from opening the site's files to a checked plan without any round of search: reading, walking times, first insertion, last touches, bound, check. Measured by making that plan first, by itself, in the same process |
//! | `first_undone` | how many tasks and duties that first plan leaves undone |
//! | `highest bound gap` | of the plan searched for: highest share and proven bound in per cent, and the gap between |
//! | `load` | load of all over available time of all |
//! | `walking` | walking over load |
//! | `undone` | tasks and duties left undone |
//! | `iterations` | rounds of all islands |
//! | `took` | seconds from opening the files to the checked plan; `--seconds` are meant to hold all of that |
//! | `memory_mb` | peak resident memory of the whole bench, MiB; left out where the system does not tell |
//!
//! A plan that breaks a rule is told on stderr, and the exit code is 3. A load outside 70 to 80 %, or walking outside 6 to 15 % of
//! it, is told on stderr: the building is made so that good plans lie within.
//!
//! `--phases` prints in their place how many seconds of processor time each layer takes without any round of search, and how many KiB the pages are:
//! `read` files to a site; `walks` of the crew; `jobs` and the dense problem; `split`; `first` plan; `last_touches` on it; `ideal` walks and the `bound`;
//! the `check`; the `pages`.
//!
//! `--plain` leaves out everything that general solvers do not know. `--dump` then writes the numbers for them, with this
//! plan's routes; `--evaluate` times and checks routes from a file in place of searching, and prints their shares by the
//! project's own arithmetic. A route is a list of room indices; there is one for each worker.

#![expect(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a bench prints its results"
)]

#[path = "../common/mod.rs"]
mod common;

mod args;
mod dump;
mod evaluate;
mod line;
mod phases;
mod planned;

use args::Args;
use clap::Parser;
use common::building::building;
use evenrun::input::{Problems, read_site};
use std::process::ExitCode;

/// How the bench ends badly.
#[derive(Debug, thiserror::Error)]
enum Failure {
    #[error("{0}")]
    Io(#[from] std::io::Error),
    #[error("{0}")]
    Json(#[from] serde_json::Error),
    #[error("the made-up site has problems:\n{}", common::building::told(.0))]
    Site(Problems),
    #[error("the plan breaks rules, which is a bug; seed {seed}\n{}", .found.join("\n"))]
    Unsound { seed: u64, found: Vec<String> },
    #[error("{0}")]
    Routes(String),
}

fn main() -> ExitCode {
    match run(&Args::parse()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            eprintln!("error: {failure}");
            ExitCode::from(if matches!(failure, Failure::Unsound { .. }) {
                3
            } else {
                2
            })
        }
    }
}

fn run(args: &Args) -> Result<(), Failure> {
    // Only fails when there is a pool already, and nothing made one before this.
    let _ = rayon::ThreadPoolBuilder::new()
        .num_threads(args.threads)
        .build_global();
    let folder = building(args.figures())?;
    let held = tempfile::tempdir()?;
    let path = args.write.as_deref().unwrap_or(held.path());
    folder.write(path)?;
    if !args.evaluate.is_empty() {
        let reading = read_site(path).map_err(Failure::Site)?;
        return args
            .evaluate
            .iter()
            .try_for_each(|file| evaluate::evaluate(args, &reading.site, file));
    }
    if args.phases {
        println!("{}", phases::phases(args, path)?);
        return Ok(());
    }
    let first = planned::planned(args, path, planned::Effort::First)?;
    let best = planned::planned(args, path, planned::Effort::Asked)?;
    println!("{}", line::of_plan(args, &first, &best));
    line::warn(args, &best);
    if let Some(file) = &args.dump {
        std::fs::write(file, serde_json::to_string(&dump::dump(&best)?)?)?;
    }
    Ok(())
}
