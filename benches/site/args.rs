//! The command line.

use crate::common::building::Figures;
use std::path::PathBuf;

/// Plans a made-up site and prints how good the plan is.
#[derive(Debug, clap::Parser)]
pub(crate) struct Args {
    /// Rooms of the building; at least 12 on each floor
    #[arg(long, default_value_t = 120, value_parser = clap::value_parser!(u32).range(12..=5_000))]
    rooms: u32,
    /// People on duty
    #[arg(long, default_value_t = 6, value_parser = clap::value_parser!(u32).range(2..=400))]
    workers: u32,
    /// Floors; left out, one for every 100 rooms, but three at least
    #[arg(long, value_parser = clap::value_parser!(u32).range(1..=50))]
    floors: Option<u32>,
    /// Which building, and what chance draws from in the search
    #[arg(long, default_value_t = 1)]
    pub(crate) seed: u64,
    /// Seconds from opening the files to the checked plan
    #[arg(long, default_value_t = 10.0, conflicts_with = "iterations")]
    pub(crate) seconds: f64,
    /// Rounds of each island instead of seconds: the same plan everywhere
    #[arg(long)]
    pub(crate) iterations: Option<u64>,
    /// Threads; 0 is one per processor
    #[arg(long, default_value_t = 0)]
    pub(crate) threads: usize,
    /// Print how long each layer takes, without any search
    #[arg(long)]
    pub(crate) phases: bool,
    /// Nothing but service times, one window each, shifts and walking
    #[arg(long)]
    pub(crate) plain: bool,
    /// Write the problem as numbers, with the plan's routes
    #[arg(long, value_name = "FILE", requires = "plain")]
    pub(crate) dump: Option<PathBuf>,
    /// Write the site's files into this folder
    #[arg(long, value_name = "DIR")]
    pub(crate) write: Option<PathBuf>,
    /// Check and measure routes in place of searching; may be given more than once
    #[arg(long, value_name = "FILE", requires = "plain")]
    pub(crate) evaluate: Vec<PathBuf>,
    /// Given by cargo
    #[arg(long, hide = true)]
    bench: bool,
}

impl Args {
    /// The building that is asked for.
    pub(crate) fn figures(&self) -> Figures {
        let rooms = self.rooms as usize;
        // A floor holds its corridor, stairs, lobby and restrooms at least.
        let most = rooms / 12;
        let floors = self.floors.map_or((rooms / 100).max(3), |f| f as usize);
        Figures {
            rooms,
            workers: self.workers as usize,
            floors: floors.min(most),
            seed: self.seed,
            plain: self.plain,
        }
    }
}
