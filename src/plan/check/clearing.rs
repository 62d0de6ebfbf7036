//! Whether an undone task fits into one run if several less important ones there make room for it together.
//!
//! First all of them are taken out, every other stop kept at its times. If the task fits then, they are put back, the most important
//! first, as long as it still does: what stays out has to.

use super::findings::Exchange;
use super::swap::{Swap, without};
use crate::plan::reading::{ReadRun, Visit};
use crate::plan::{PlannedStop, What};
use crate::site::RoomId;
use crate::units::Span;
use crate::work::DueTask;
use itertools::Itertools;

/// The exchange that gives up as little as need be, perhaps nothing, by going back from giving up everything in `less`.
pub(super) fn cleared(swap: &Swap) -> Option<Exchange> {
    let less = swap.spare.less.as_slice();
    let all = if swap.visited {
        placed(swap, less)?
    } else {
        fits_among(swap, &swap.spare.cleared)?
    };
    let alone = Swap {
        alone: true,
        ..*swap
    };
    let mut drops = less.to_vec();
    put_back(&mut drops, less, &|drops| placed(&alone, drops).is_some());
    // Beside the other runs only the last one is tried: that takes long where there are many.
    let (drops, stops) = match placed(swap, &drops) {
        Some(stops) => (drops, stops),
        None => (less.to_vec(), all),
    };
    Some(Exchange {
        drops,
        add: swap.task,
        stops,
    })
}

/// Puts some tasks back that were dropped, as many in order as still `fit`: all at once if they do, else each half by itself.
fn put_back(drops: &mut Vec<DueTask>, some: &[DueTask], fit: &dyn Fn(&[DueTask]) -> bool) {
    let rest = drops
        .iter()
        .copied()
        .filter(|d| !some.contains(d))
        .collect_vec();
    if fit(&rest) {
        *drops = rest;
    } else if some.len() > 1 {
        let (first, second) = some.split_at(some.len() / 2);
        put_back(drops, first, fit);
        put_back(drops, second, fit);
    }
}

/// The stops with the task and without some others.
fn placed(swap: &Swap, drops: &[DueTask]) -> Option<Vec<PlannedStop>> {
    fits_among(swap, &without_all(swap.run, drops, Some(swap.task.room)))
}

fn fits_among(swap: &Swap, stops: &[PlannedStop]) -> Option<Vec<PlannedStop>> {
    let run = swap.run.with_stops(stops)?;
    Swap { run: &run, ..*swap }.fits_anywhere()
}

/// A run's stops without some tasks of its plain stops: these end earlier, or are gone with their reopening, but for those in one room, in
/// which something else is to be done.
pub(super) fn without_all(
    run: &ReadRun,
    drops: &[DueTask],
    needed: Option<RoomId>,
) -> Vec<PlannedStop> {
    let mut stops = run.stops.to_vec();
    let mut gone = Vec::new();
    for (at, stop) in stops.iter_mut().enumerate() {
        if !stop.what.tasks().iter().any(|t| drops.contains(t)) {
            continue;
        }
        let kept = without(&stop.what, drops, None);
        if !matches!(kept, What::Clean(..)) {
            continue;
        }
        if kept.tasks().is_empty() && (needed.is_none() || kept.room() != needed) {
            gone.push(at);
        }
        stop.what = kept;
        if let Some(length) = run.length(stop) {
            stop.span = Span::new(stop.span.from, stop.span.from + length);
        }
    }
    let visits = run.visits().into_iter();
    let whole =
        visits.filter(|v| v.first.is_some_and(|at| gone.contains(&at)) && v.second.is_none());
    let gone = whole.flat_map(Visit::stops).collect_vec();
    let kept = stops
        .into_iter()
        .enumerate()
        .filter(|(at, _)| !gone.contains(at));
    kept.map(|(_, stop)| stop).collect()
}
