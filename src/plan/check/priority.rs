//! Rule 14: nothing is left undone that would fit in place of something less important of one run.
//!
//! For each undone task the runs are searched for a done task of lower priority to drop, with every other stop kept at its
//! times; then for a run in which several of them together make room. The undone task goes either into the same stop, if it is in the same
//! room and part of the visit, or into a stop of its own, walks there and back included. Such a run is put to all the other rules; the task is
//! reported only if none is broken. Only plain tasks are tried: no mopping, no machines, no dwell; and on a night that is
//! under way nothing that has begun already.

use super::May;
use super::beside::Beside;
use super::clearing::cleared;
use super::findings::{Exchange, Findings};
use super::skills;
use super::spare::{Spare, has_dwell};
use super::swap::Swap;
use super::tried::Tried;
use crate::plan::reading::{ReadRun, Reading};
use crate::plan::{PlannedStop, UndoneWork};
use crate::site::{Priority, RoomId};
use crate::work::DueTask;
use itertools::Itertools;
use rayon::prelude::*;
use std::collections::BTreeSet;
use std::sync::atomic::{AtomicBool, Ordering};

/// Every undone task against every run, as it is after the exchanges found so far: they can be made one after the other.
pub(super) fn across(beside: &mut Beside, tried: &mut Tried, may: May, found: &mut Findings) {
    let reading = beside.reading;
    let mut visited: BTreeSet<RoomId> = reading
        .runs
        .iter()
        .flat_map(|run| run.stops.iter().filter_map(|s| s.what.room()))
        .collect();
    let tasks = reading.runs.iter().flat_map(|run| run.stops);
    let done: BTreeSet<DueTask> = tasks.flat_map(|s| s.what.tasks()).copied().collect();
    let runs = reading.runs.iter();
    let mut stops = runs.clone().map(|run| run.stops.to_vec()).collect_vec();
    let spare = |run: &ReadRun| Priority::ALL.map(|own| Spare::of(run, own));
    let mut spares = runs.map(spare).collect_vec();
    for undone in &reading.plan.undone {
        // What is both done and listed undone is for rule 1.
        let UndoneWork::Task(task) = undone.what else {
            continue;
        };
        if !is_plain(reading, task) || done.contains(&task) {
            continue;
        }
        let visited_now = visited.contains(&task.room);
        let own = task.priority(reading.site);
        let now = reading.runs.iter().zip(&stops);
        let runs = now.map(|(run, stops)| run.showing(stops)).collect_vec();
        let by_others = runs.iter().map(|_| AtomicBool::new(false)).collect_vec();
        let fitting = runs.iter().enumerate().filter_map(|(index, run)| {
            let spare = spares[index][own as usize].as_ref()?;
            let may_fit = spare.may_take(run, task, visited_now)
                && could_do(run, task)
                && may(run.id, task)
                && !tried.contains(task, index, visited_now);
            may_fit.then_some(Swap {
                beside,
                index,
                run,
                spare,
                task,
                visited: visited_now,
                by_others: &by_others[index],
                alone: false,
            })
        });
        let swaps = fitting.collect_vec();
        let Some((index, exchange)) = best_to_drop(&swaps, own) else {
            for swap in &swaps {
                let by_others = swap.by_others.load(Ordering::Relaxed);
                tried.insert(task, swap.index, visited_now, by_others);
            }
            continue;
        };
        tried.forget(index, beside.change(index, &exchange.stops));
        visited.insert(task.room);
        spares[index] = spare(&runs[index].showing(&exchange.stops));
        let changed = exchange.stops.clone();
        report(&runs[index], exchange, found);
        stops[index] = changed;
    }
}

/// The exchange that drops the least important done task, or if no single one will do, several of one run: the run, and what becomes of it.
fn best_to_drop(swaps: &[Swap], own: Priority) -> Option<(usize, Exchange)> {
    let lower = Priority::ALL.into_iter().rev().take_while(|p| *p > own);
    let single = lower.cartesian_product(swaps).collect_vec();
    let one = |(priority, swap): &(Priority, &Swap)| {
        let exchange = first_of(*priority, swap)?;
        Some((swap.index, exchange))
    };
    let several = |swap: &Swap| {
        let exchange = (!swap.spare.less.is_empty()).then(|| cleared(swap))??;
        Some((swap.index, exchange))
    };
    let found = single.par_iter().find_map_first(one);
    found.or_else(|| swaps.par_iter().find_map_first(several))
}

fn could_do(run: &ReadRun, task: DueTask) -> bool {
    let afoot = task.needs_cart(run.site) && run.cart.is_none();
    !afoot && skills::lacking(run.site, run.worker, run.id, task).is_none()
}

/// The first done task of this priority in the run that could be swapped.
fn first_of(priority: Priority, swap: &Swap) -> Option<Exchange> {
    let site = swap.run.site;
    let stops = swap.run.stops.iter().enumerate();
    let done = stops.flat_map(|(at, s)| s.what.tasks().iter().map(move |t| (at, *t)));
    let plain = |t: DueTask| t.priority(site) == priority && !has_dwell(swap.run.site, t);
    let may = |at| swap.visited || swap.spare.may_take_at(swap.run, swap.task, at);
    done.filter(|(at, t)| plain(*t) && may(*at))
        .find_map(|(at, drop)| {
            Some(Exchange {
                drops: vec![drop],
                add: swap.task,
                stops: swap.fits_for(at, drop)?,
            })
        })
}

fn is_plain(reading: &Reading, due: DueTask) -> bool {
    let task = due.task(reading.site);
    task.machine.is_none() && !due.is_mopping(reading.site) && !has_dwell(reading.site, due)
}

fn report(run: &ReadRun, exchange: Exchange, found: &mut Findings) {
    let (site, task) = (run.site, exchange.add);
    let name = |t: &DueTask| {
        format!(
            "`{}` in `{}`",
            t.task(site).name,
            site.rooms[t.room.index()].id
        )
    };
    let (undone, priority) = (name(&task), task.priority(site).word());
    let problem = match exchange.drops.as_slice() {
        [] => format!(
            "{undone} ({priority}) would fit into this run and is undone, while less important work is done"
        ),
        [one] => format!(
            "{} ({}) is done here, while {undone} ({priority}) would fit in its place and is undone",
            name(one),
            one.priority(site).word()
        ),
        [one, more @ ..] => format!(
            "{} and {} more that matter less are done here, while {undone} ({priority}) would fit in their place and is undone",
            name(one),
            more.len()
        ),
    };
    let dropped = |s: &PlannedStop| exchange.drops.iter().any(|d| s.what.tasks().contains(d));
    let at = run.stops.iter().position(dropped);
    found.exchange(run, at.unwrap_or_default(), exchange, &problem);
}
