//! The line of results.

use crate::args::Args;
use crate::common::memory::peak_mib;
use crate::planned::Planned;
use evenrun::plan::Measures;
use std::fmt::Write;

/// Load over available time that a made-up site should have.
const LOAD: std::ops::RangeInclusive<f64> = 0.70..=0.80;
/// Walking over load.
const WALKING: std::ops::RangeInclusive<f64> = 0.06..=0.15;

/// Everything about a plan, in `key=value` pairs.
pub(crate) fn of_plan(args: &Args, first: &Planned, best: &Planned) -> String {
    let made = &best.made;
    let highest = made.measures.evenness.highest;
    let seconds = match args.iterations {
        Some(_) => "-".to_string(),
        None => args.seconds.to_string(),
    };
    let mut line = format!(
        "{} seconds={seconds} threads={} first={:.2} first_undone={} highest={:.2}% bound={:.2}% gap={:.2}% load={:.2}% walking={:.1}% \
         undone={} iterations={} took={:.2}",
        asked(args),
        rayon::current_num_threads(),
        first.took.as_secs_f64(),
        first.made.plan.undone.len(),
        highest * 100.0,
        made.bound.share * 100.0,
        (highest / made.bound.share - 1.0) * 100.0,
        load(&made.measures) * 100.0,
        walking(&made.measures) * 100.0,
        made.plan.undone.len(),
        made.iterations,
        best.took.as_secs_f64(),
    );
    if let Some(peak) = peak_mib() {
        let _ = write!(line, " memory_mb={peak}");
    }
    line
}

/// The figures of the building.
pub(crate) fn asked(args: &Args) -> String {
    let figures = args.figures();
    format!(
        "rooms={} workers={} floors={} seed={}{}",
        figures.rooms,
        figures.workers,
        figures.floors,
        figures.seed,
        if figures.plain { " plain=yes" } else { "" },
    )
}

/// Load of all over available time of all.
pub(crate) fn load(measures: &Measures) -> f64 {
    let available: i64 = measures.runs.iter().map(|run| run.available.0).sum();
    measures.total.load().0 as f64 / available as f64
}

/// Walking over load.
pub(crate) fn walking(measures: &Measures) -> f64 {
    measures.total.walk.0 as f64 / measures.total.load().0 as f64
}

/// Says so if the building is not as loaded as it is meant to be.
pub(crate) fn warn(args: &Args, best: &Planned) {
    let measures = &best.made.measures;
    let load = Some(("load", load(measures), LOAD));
    // Where nothing is fetched and nothing emptied, there is less to walk.
    let walking = (!args.plain).then_some(("walking", walking(measures), WALKING));
    for (what, is, wanted) in load.into_iter().chain(walking) {
        if !wanted.contains(&is) {
            eprintln!(
                "warning: {what} is {:.1} %, not {:.0} to {:.0} %: either the plan is poor yet, or the building is not as it is meant to be",
                is * 100.0,
                wanted.start() * 100.0,
                wanted.end() * 100.0
            );
        }
    }
}
