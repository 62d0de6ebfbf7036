//! Makes a plan the way the program does, from the files on, and takes the time.

use crate::Failure;
use crate::args::Args;
use evenrun::input::read_site;
use evenrun::plan::{Made, Request, make};
use evenrun::route::{Budget, Settings, Stop};
use evenrun::site::Site;
use jiff::civil::{Date, date};
use std::path::Path;
use std::sync::atomic::AtomicBool;
use std::time::{Duration, Instant};

/// Islands, as the command `plan` has them.
pub(crate) const ISLANDS: u32 = 2;

/// How much to search.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Effort {
    /// Not at all: whatever the first insertion gives.
    First,
    /// As the command line asks.
    Asked,
}

/// A checked plan and how long it took from opening the files.
#[derive(Debug)]
pub(crate) struct Planned {
    pub(crate) site: Site,
    pub(crate) made: Made,
    pub(crate) took: Duration,
}

/// Reads the site and plans it.
///
/// # Errors
/// If the site has problems, or the plan is not sound.
pub(crate) fn planned(args: &Args, path: &Path, effort: Effort) -> Result<Planned, Failure> {
    let began = Instant::now();
    let site = read_site(path).map_err(Failure::Site)?.site;
    let never = AtomicBool::new(false);
    let budget = match (effort, args.iterations) {
        (Effort::First, _) => Budget::Iterations(0),
        (Effort::Asked, Some(count)) => Budget::Iterations(count),
        (Effort::Asked, None) => Budget::Until {
            from: began,
            to: began + Duration::from_secs_f64(args.seconds),
        },
    };
    let request = Request {
        site: &site,
        date: date_of(&site),
        absent: &[],
        keep: None,
        settings: Settings {
            stop: Stop {
                budget,
                interrupted: &never,
            },
            seed: args.seed,
            islands: ISLANDS,
        },
    };
    let made = make(&request, &mut |_, _| {});
    let took = began.elapsed();
    if made.violations.is_empty() {
        Ok(Planned { site, made, took })
    } else {
        Err(Failure::Unsound {
            seed: args.seed,
            found: made
                .violations
                .iter()
                .map(|v| format!("{:?}: {}", v.rule, v.message))
                .collect(),
        })
    }
}

/// The site's date, which a made-up one has.
pub(crate) fn date_of(site: &Site) -> Date {
    site.date.unwrap_or(date(2026, 3, 10))
}
