//! Anybody's routes of a plain site, timed as early as may be, checked by the independent checker and measured by the project's
//! own arithmetic.

use crate::Failure;
use crate::args::Args;
use crate::line;
use crate::planned::date_of;
use evenrun::plan::{Plan, PlannedStop, Run, What, check, measure};
use evenrun::site::{Calendar, PlaceId, RoomId, Site, WorkerId};
use evenrun::units::{Clock, Seconds, Span};
use evenrun::walk::{Times, Walks};
use evenrun::work::{DueTask, due_on};
use serde::Deserialize;
use std::path::Path;

/// What is read of a file of routes; a dump is one.
#[derive(Debug, Deserialize)]
struct Routes {
    routes: Vec<Vec<usize>>,
}

/// Prints the highest share of the routes in a file.
///
/// # Errors
/// If there is not one route for each worker, a room does not exist, or a rule is broken.
pub(crate) fn evaluate(args: &Args, site: &Site, file: &Path) -> Result<(), Failure> {
    let Routes { routes } = serde_json::from_str(&std::fs::read_to_string(file)?)?;
    let date = date_of(site);
    let calendar = Calendar::new(date, site.time_zone.as_deref());
    let present = site.present(date, &[]);
    if routes.len() != present.len() {
        let message = format!("{} routes for {} workers", routes.len(), present.len());
        return Err(Failure::Routes(message));
    }
    if let Some(room) = routes.iter().flatten().find(|r| **r >= site.rooms.len()) {
        return Err(Failure::Routes(format!("there is no room {room}")));
    }
    let due = due_on(site, date);
    let walks = Walks::of(site, &calendar, &present);
    let mut runs = Vec::new();
    for (worker, route) in present.iter().zip(&routes) {
        let times = walks
            .times(*worker, true)
            .ok_or_else(|| Failure::Routes("nobody is there".to_string()))?;
        let timing = Timing {
            site,
            calendar: &calendar,
            due: &due,
            times,
        };
        runs.push(timing.run(*worker, route));
    }
    let plan = Plan {
        date,
        runs,
        undone: Vec::new(),
    };
    let found = check(site, &plan, &present);
    let measures = measure(site, &plan);
    println!(
        "{} routes={} highest={:.3}% load={:.2}% walking={:.2}% broken={}",
        line::asked(args),
        file.display(),
        measures.evenness.highest * 100.0,
        line::load(&measures) * 100.0,
        line::walking(&measures) * 100.0,
        found.len()
    );
    if found.is_empty() {
        return Ok(());
    }
    let found: Vec<String> = found
        .iter()
        .map(|v| format!("{:?}: {}", v.rule, v.message))
        .collect();
    Err(Failure::Routes(format!(
        "these routes break rules:\n{}",
        found.join("\n")
    )))
}

/// What a route is timed by.
struct Timing<'a> {
    site: &'a Site,
    calendar: &'a Calendar,
    due: &'a [DueTask],
    times: &'a Times,
}

impl Timing<'_> {
    /// Each stop as early as it may start. Where no window is left, it starts at once, for the checker to find.
    fn run(&self, worker: WorkerId, route: &[usize]) -> Run {
        let who = &self.site.crew[worker.index()];
        if route.is_empty() {
            return Run {
                worker,
                stops: Vec::new(),
            };
        }
        let mut stops = Vec::new();
        let mut here = who.start;
        let mut now = self.calendar.elapsed_span(who.shift).from;
        let mut stop = |what, place, from: Clock, length: Seconds| {
            let span = Span::new(from, from + length);
            stops.push(PlannedStop { what, place, span });
            span.to
        };
        now = stop(What::SetUp, here, now, self.site.policy.set_up);
        for room in route.iter().map(|index| RoomId::from(*index)) {
            let place = self.site.place_of_room(room);
            let tasks: Vec<DueTask> = self
                .due
                .iter()
                .copied()
                .filter(|d| d.room == room)
                .collect();
            let length = tasks
                .iter()
                .map(|task| Seconds::of_work(task.minutes(self.site), who.pace))
                .sum();
            let from = self.earliest(room, now + self.walk(here, place), length);
            now = stop(What::Clean(room, tasks), place, from, length);
            here = place;
        }
        let back = now + self.walk(here, who.start);
        stop(What::TearDown, who.start, back, self.site.policy.tear_down);
        Run { worker, stops }
    }

    fn walk(&self, from: PlaceId, to: PlaceId) -> Seconds {
        self.times.get(from, to).unwrap_or(Seconds::ZERO)
    }

    fn earliest(&self, room: RoomId, ready: Clock, length: Seconds) -> Clock {
        let Some(open) = &self.site.rooms[room.index()].open else {
            return ready;
        };
        let windows = self.calendar.windows(open);
        let fits = windows
            .iter()
            .map(|w| (w.from.max(ready), w.to))
            .find(|(from, to)| *from + length <= *to);
        fits.map_or(ready, |(from, _)| from)
    }
}
