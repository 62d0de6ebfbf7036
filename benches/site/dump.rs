//! A plain problem as numbers, for other solvers: indices, whole seconds, seconds since midnight.

use crate::Failure;
use crate::planned::{Planned, date_of};
use evenrun::plan::What;
use evenrun::route::{Instance, Job, Question, Secs, pose};
use evenrun::site::{Calendar, Site, WorkerId};
use evenrun::walk::Walks;
use evenrun::work::{due_on, gather};
use serde::Serialize;

/// The problem. Places are the rooms in order, then the start place of everybody.
#[derive(Debug, Serialize)]
pub(crate) struct Dump {
    /// Seconds of work in each room.
    service: Vec<i32>,
    /// From when to when work in each room may last.
    windows: Vec<[i32; 2]>,
    /// Walking from place to place: a row for each place.
    travel: Vec<Vec<i32>>,
    workers: Vec<Shift>,
    /// Getting ready, before the first walk.
    set_up: i32,
    /// Putting away, after the last.
    tear_down: i32,
    /// This project's own answer.
    highest: f64,
    /// Its rooms in order, by worker.
    pub(crate) routes: Vec<Vec<usize>>,
}

#[derive(Debug, Serialize)]
struct Shift {
    from: i32,
    to: i32,
    /// What a share is a part of.
    available: i32,
}

/// The numbers of a plain site, and its plan's routes.
pub(crate) fn dump(planned: &Planned) -> Result<Dump, Failure> {
    let site = &planned.site;
    let instance = instance(site);
    let wrong = |what: &str| Failure::Routes(format!("not a plain site: {what}"));
    if instance.jobs.len() != site.rooms.len() {
        return Err(wrong("each room is one job"));
    }
    let first = instance
        .workers
        .first()
        .ok_or_else(|| wrong("somebody is there"))?;
    let places: Vec<u32> = instance
        .jobs
        .iter()
        .map(|job| job.place)
        .chain([first.start])
        .collect();
    let with_cart = first
        .with_cart
        .ok_or_else(|| wrong("everybody has a cart"))?;
    let table = &instance.walks[with_cart];
    let row = |from: &u32| places.iter().map(|to| table.walk(*from, *to)).collect();
    let (from, to) = night(&instance);
    let window = |job: &Job| {
        let tonight: Vec<_> = job
            .windows
            .iter()
            .filter(|w| w.0 < to && from < w.1)
            .collect();
        match tonight[..] {
            [(from, to)] => Ok([*from, *to]),
            _ => Err(wrong("each room has one window")),
        }
    };
    let shift = |w: &evenrun::route::Worker| Shift {
        from: w.from,
        to: w.to,
        available: w.available,
    };
    let jobs = 0..instance.jobs.len() as u32;
    Ok(Dump {
        service: jobs
            .map(|job| instance.work(0, job, instance.jobs[job as usize].full()))
            .collect(),
        windows: instance.jobs.iter().map(window).collect::<Result<_, _>>()?,
        travel: places.iter().map(row).collect(),
        workers: instance.workers.iter().map(shift).collect(),
        set_up: first.set_up,
        tear_down: first.tear_down,
        highest: planned.made.measures.evenness.highest,
        routes: routes(planned),
    })
}

/// From the first start of a shift to the last end.
fn night(instance: &Instance) -> (Secs, Secs) {
    let from = instance.workers.iter().map(|w| w.from).min();
    let to = instance.workers.iter().map(|w| w.to).max();
    (from.unwrap_or(0), to.unwrap_or(0))
}

fn instance(site: &Site) -> Instance {
    let date = date_of(site);
    let calendar = Calendar::new(date, site.time_zone.as_deref());
    let present: Vec<WorkerId> = site.present(date, &[]);
    let walks = Walks::of(site, &calendar, &present);
    let jobs = gather(site, &due_on(site, date), date, &present, &walks);
    pose(&Question {
        site,
        calendar: &calendar,
        present: &present,
        walks: &walks,
        jobs: &jobs.jobs,
    })
}

fn routes(planned: &Planned) -> Vec<Vec<usize>> {
    let rooms = |run: &evenrun::plan::Run| {
        let cleaned = run.stops.iter().filter_map(|stop| match &stop.what {
            What::Clean(room, _) => Some(room.index()),
            _ => None,
        });
        cleaned.collect()
    };
    planned.made.plan.runs.iter().map(rooms).collect()
}
