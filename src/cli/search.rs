//! Options of the commands that search: for how long, from which seed, on how many threads.

use super::output::Output;
use super::plan::{ISLANDS, MOST_THREADS, interrupted, seconds};
use evenrun::route::{Budget, Settings, Stop};
use std::sync::Arc;
use std::sync::atomic::AtomicBool;
use std::time::{Duration, Instant};

/// Seconds left for check and files.
const AFTER_SEARCH: f64 = 0.3;

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

/// A search that is about to begin.
pub(super) struct Started {
    budget: Budget,
    seed: u64,
    interrupted: Arc<AtomicBool>,
}

impl Search {
    /// Prepares threads and Ctrl-C.
    pub(super) fn start(&self, began: Instant, output: Output) -> Started {
        // Only fails when there is a pool already, and nothing made one before this.
        let _ = rayon::ThreadPoolBuilder::new()
            .num_threads(usize::from(self.threads))
            .build_global();
        let time = (self.seconds * 0.99 - AFTER_SEARCH).max(0.0);
        let budget = match self.iterations {
            Some(count) => Budget::Iterations(count),
            None => Budget::Until {
                from: Instant::now(),
                to: began + Duration::from_secs_f64(time),
            },
        };
        Started {
            budget,
            seed: self.seed,
            interrupted: interrupted(output),
        }
    }
}

impl Started {
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
}
