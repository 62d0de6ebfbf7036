//! What the commands that search have in common: for how long, from which seed, on how many threads, and what ends a search early.

use super::output::Output;
use evenrun::route::{Budget, Settings, Standing, Stop};
use indicatif::ProgressBar;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

/// Islands that search side by side. A constant, so that the answer does not depend on the machine; two keep two cores busy.
pub(super) const ISLANDS: u32 = 2;

/// Most threads that may be asked for; more than there are islands stay idle anyhow.
pub(super) const MOST_THREADS: i64 = 256;

/// How to search.
#[derive(Clone, Debug, clap::Args)]
pub(super) struct Search {
    /// Seconds from start to written files
    #[arg(long, value_name = "N", default_value_t = 10.0, value_parser = seconds, conflicts_with = "iterations")]
    seconds: f64,
    /// Rounds of search for each plan instead of seconds: the same answer on every machine
    #[arg(long, value_name = "N")]
    iterations: Option<u64>,
    /// What chance draws from: another number, another answer as good
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub(super) seed: u64,
    /// Threads to use; 0 is one per processor
    #[arg(long, value_name = "N", default_value_t = 0, value_parser = clap::value_parser!(u16).range(..=MOST_THREADS))]
    threads: u16,
}

pub(super) fn seconds(text: &str) -> Result<f64, String> {
    let number: f64 = text.parse().map_err(|_| "not a number".to_string())?;
    if (0.0..=86_400.0).contains(&number) {
        Ok(number)
    } else {
        Err("must be from 0 to 86400".to_string())
    }
}

impl Search {
    /// Prepares a search for what is asked, by a program that began then.
    pub(super) fn start(&self, began: Instant) -> Started {
        let budget = budget(self.seconds, self.iterations, began);
        Started::new(budget, self.seed, self.threads)
    }
}

/// Rounds if they are asked for, else until the seconds are over.
pub(super) fn budget(seconds: f64, iterations: Option<u64>, began: Instant) -> Budget {
    match iterations {
        Some(count) => Budget::Iterations(count),
        None => Budget::Until {
            from: began,
            to: began + Duration::from_secs_f64(seconds),
        },
    }
}

/// A search that is about to begin.
pub(super) struct Started {
    budget: Budget,
    seed: u64,
    interrupted: Arc<AtomicBool>,
}

impl Started {
    /// Prepares the threads.
    pub(super) fn new(budget: Budget, seed: u64, threads: u16) -> Started {
        // Only fails when there is a pool already, and nothing made one before this.
        let _ = rayon::ThreadPoolBuilder::new()
            .num_threads(usize::from(threads))
            .build_global();
        Started {
            budget,
            seed,
            interrupted: Arc::default(),
        }
    }

    /// As the search is told.
    pub(super) fn settings(&self) -> Settings<'_> {
        Settings {
            stop: Stop {
                budget: self.budget,
                interrupted: &self.interrupted,
            },
            seed: self.seed,
            islands: ISLANDS,
        }
    }

    /// What watches the search: a bar, and from the first plan on Ctrl-C and SIGTERM, which then end the search and not the program. Until then
    /// there is nothing to lose, and they do what they always do.
    pub(super) fn watcher(&self, bar: &ProgressBar, output: Output) -> impl FnMut(f64, &Standing) {
        let mut listening = false;
        move |done, standing| {
            if !listening {
                listen(&self.interrupted, output);
                listening = true;
            }
            show(bar, done, standing);
        }
    }
}

/// From now on Ctrl-C and SIGTERM set a flag.
pub(super) fn listen(flag: &Arc<AtomicBool>, output: Output) {
    let heard = Arc::clone(flag);
    let set = ctrlc::set_handler(move || heard.store(true, Ordering::Relaxed));
    if let Err(error) = set {
        output.detail(format!("Ctrl-C will end the program at once: {error}"));
    }
}

fn show(bar: &ProgressBar, done: f64, standing: &Standing) {
    bar.set_position((done * 100.0) as u64);
    let undone: i64 = standing.undone.iter().sum();
    if undone > 0 {
        bar.set_message(format!("{} min undone", undone / 60));
    } else {
        bar.set_message("all work placed");
    }
}
