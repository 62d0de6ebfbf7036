//! Rule 14: nothing is left undone that would fit in place of something less important of one run.
//!
//! For each undone task the runs are searched for a done task of lower priority to drop, with every other stop kept at its
//! times. The undone task then goes either into the same stop, if it is in the same room and part of the visit, or into a
//! stop of its own just before or after, walks there and back included. Such a run is put to all the other rules; the task is
//! reported only if none is broken. Only plain tasks are tried: no mopping, no machines, no dwell; and on a night that is
//! under way nothing that has begun already.

use super::findings::{Exchange, Findings};
use super::skills;
use super::swap::Swap;
use crate::plan::UndoneWork;
use crate::plan::reading::{ReadRun, Reading};
use crate::site::{Method, Priority, RoomId};
use crate::units::Seconds;
use crate::work::DueTask;
use std::collections::BTreeSet;

/// Every undone task against every run.
pub(super) fn across(reading: &Reading, found: &mut Findings) {
    let visited: BTreeSet<RoomId> = reading
        .runs
        .iter()
        .flat_map(|run| run.stops.iter().filter_map(|s| s.what.room()))
        .collect();
    for undone in &reading.plan.undone {
        if let UndoneWork::Task(task) = undone.what
            && is_plain(reading, task)
            && let Some((run, at, exchange)) =
                best_to_drop(reading, task, visited.contains(&task.room))
        {
            report(run, at, exchange, found);
        }
    }
}

/// The exchange that drops the least important done task: the run, the stop, what becomes of the run.
fn best_to_drop<'r, 'a>(
    reading: &'r Reading<'a>,
    task: DueTask,
    visited: bool,
) -> Option<(&'r ReadRun<'a>, usize, Exchange)> {
    let own = task.priority(reading.site);
    let lower = Priority::ALL.into_iter().rev().take_while(|p| *p > own);
    for priority in lower {
        for (index, run) in reading
            .runs
            .iter()
            .enumerate()
            .filter(|(_, run)| could_do(run, task))
        {
            let swap = Swap {
                reading,
                index,
                run,
                task,
                visited,
            };
            if let Some((at, exchange)) = first_of(priority, &swap) {
                return Some((run, at, exchange));
            }
        }
    }
    None
}

fn could_do(run: &ReadRun, task: DueTask) -> bool {
    let afoot = task.needs_cart(run.site) && run.cart.is_none();
    !afoot && skills::lacking(run.site, run.worker, run.id, task).is_none()
}

/// The first done task of this priority in the run that could be swapped.
fn first_of(priority: Priority, swap: &Swap) -> Option<(usize, Exchange)> {
    let site = swap.run.site;
    let stops = swap.run.stops.iter().enumerate();
    let done = stops.flat_map(|(at, s)| s.what.tasks().iter().map(move |t| (at, *t)));
    let plain = |t: DueTask| t.priority(site) == priority && !has_dwell(swap.reading, t);
    done.filter(|(_, t)| plain(*t)).find_map(|(at, drop)| {
        let stops = swap.fits_for(at, drop)?;
        let add = swap.task;
        Some((at, Exchange { drop, add, stops }))
    })
}

fn is_plain(reading: &Reading, due: DueTask) -> bool {
    let task = due.task(reading.site);
    task.machine.is_none() && !due.is_mopping(reading.site) && !has_dwell(reading, due)
}

fn has_dwell(reading: &Reading, due: DueTask) -> bool {
    matches!(due.task(reading.site).method, Method::Spray { dwell } if dwell > Seconds::ZERO)
}

fn report(run: &ReadRun, at: usize, exchange: Exchange, found: &mut Findings) {
    let (drop, task) = (exchange.drop, exchange.add);
    let name = |t: DueTask| {
        format!(
            "`{}` in `{}`",
            t.task(run.site).name,
            run.site.rooms[t.room.index()].id
        )
    };
    let (priority, lower) = (
        task.priority(run.site).word(),
        drop.priority(run.site).word(),
    );
    let problem = format!(
        "{} ({lower}) is done here, while {} ({priority}) would fit in its place and is undone",
        name(drop),
        name(task)
    );
    found.exchange(run, at, exchange, &problem);
}
