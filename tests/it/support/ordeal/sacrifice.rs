//! Whether a health task is undone while somebody who could do it does appearance work: told by trying, from site and plan alone.
//!
//! For each health task left undone, and each worker who may do it, all appearance work that this worker still has before them is taken out
//! of the run, every other stop kept at its time. If the task then fits somewhere, by the independent checker, it should
//! not have been given up. Tried are tasks without mopping and machines, in a visit of their own, or in the stop of the room if the worker is there anyway.

use evenrun::cover::Covered;
use evenrun::plan::{Plan, PlannedStop, Rule, UndoneWork, What, check};
use evenrun::site::{Calendar, Method, Priority, Site, WorkerId};
use evenrun::units::{Clock, Seconds, Span};
use evenrun::walk::Walks;
use evenrun::work::{DueTask, barrier};

/// What was given up wrongly.
pub(super) fn sacrificed(covered: &Covered) -> Vec<String> {
    let (site, plan) = (&covered.site, &covered.made.plan);
    let present = site.present(plan.date, &covered.absent);
    let calendar = Calendar::new(plan.date, site.time_zone.as_deref());
    let walks = Walks::of(site, &calendar, &present);
    let trial = Trial {
        site,
        plan,
        present: &present,
        walks: &walks,
        now: site.now.unwrap_or(Clock(i64::MIN)),
    };
    let health = plan.undone.iter().filter_map(|u| match u.what {
        UndoneWork::Task(task) if is_tried(site, task) => Some(task),
        _ => None,
    });
    let mut found = Vec::new();
    for task in health {
        for (run, worker) in plan.runs.iter().map(|r| r.worker).enumerate() {
            if barrier(site, worker, task, &walks).is_none() && trial.fits(run, worker, task) {
                let (room, name) = (
                    &site.rooms[task.room.index()].id,
                    &site.crew[worker.index()].name,
                );
                found.push(format!(
                    "`{}` in `{room}` is undone, {name} could do it",
                    task.task(site).name
                ));
            }
        }
    }
    found
}

fn is_tried(site: &Site, due: DueTask) -> bool {
    let task = due.task(site);
    let plain = matches!(task.method, Method::Dry | Method::Wipe | Method::Open);
    due.priority(site) == Priority::Health && plain && task.machine.is_none()
}

struct Trial<'a> {
    site: &'a Site,
    plan: &'a Plan,
    present: &'a [WorkerId],
    walks: &'a Walks,
    now: Clock,
}

impl Trial<'_> {
    fn fits(&self, run: usize, worker: WorkerId, task: DueTask) -> bool {
        let Some((stops, freed)) = self.without_appearance(run, worker) else {
            return false;
        };
        if !freed {
            return false;
        }
        let visited = |s: &PlannedStop| s.what.room() == Some(task.room);
        if self.plan.runs.iter().any(|r| r.stops.iter().any(visited)) {
            return stops.iter().enumerate().any(|(at, s)| {
                s.span.from >= self.now && visited(s) && self.longer(run, worker, &stops, at, task)
            });
        }
        (1..stops.len()).any(|at| self.own_stop(run, worker, &stops, at, task))
    }

    /// The run without appearance work that is still to come; and whether there was any.
    fn without_appearance(&self, run: usize, worker: WorkerId) -> Option<(Vec<PlannedStop>, bool)> {
        let mut freed = false;
        let mut stops = Vec::new();
        for stop in &self.plan.runs[run].stops {
            let kept = |t: &&DueTask| t.priority(self.site) != Priority::Appearance;
            let spare: Seconds = stop
                .what
                .tasks()
                .iter()
                .filter(|t| !kept(t))
                .map(|t| self.time(worker, *t))
                .sum();
            let tasks: Vec<DueTask> = stop.what.tasks().iter().filter(kept).copied().collect();
            let plain = matches!(stop.what, What::Clean(..));
            if spare == Seconds::ZERO || !plain || stop.span.from < self.now {
                stops.push(stop.clone());
                continue;
            }
            freed = true;
            if tasks.is_empty() {
                continue;
            }
            let room = stop.what.room()?;
            stops.push(PlannedStop {
                what: What::Clean(room, tasks),
                place: stop.place,
                span: Span::new(stop.span.from, stop.span.to - spare),
            });
        }
        let works = |room| {
            stops
                .iter()
                .any(|s| s.what.room() == Some(room) && !s.what.tasks().is_empty())
        };
        let reopened = |s: &PlannedStop| matches!(s.what, What::Reopen(room) if !works(room));
        let stops = stops.iter().filter(|s| !reopened(s)).cloned().collect();
        Some((stops, freed))
    }

    fn time(&self, worker: WorkerId, task: DueTask) -> Seconds {
        let minutes = task.minutes(self.site);
        Seconds::of_work(minutes, self.site.crew[worker.index()].pace)
    }

    /// The task added to the stop of its room.
    fn longer(
        &self,
        run: usize,
        worker: WorkerId,
        stops: &[PlannedStop],
        at: usize,
        task: DueTask,
    ) -> bool {
        let What::Clean(room, tasks) = &stops[at].what else {
            return false;
        };
        let mut tasks = tasks.clone();
        tasks.push(task);
        tasks.sort_unstable();
        let mut stops = stops.to_vec();
        stops[at].what = What::Clean(*room, tasks);
        stops[at].span.to = stops[at].span.to + self.time(worker, task);
        // No need to check a whole plan to see that the next stop comes too soon.
        let next = stops.get(at + 1);
        if next.is_some_and(|next| next.span.from < stops[at].span.to) {
            return false;
        }
        self.is_sound(run, stops, task)
    }

    /// The task in a stop of its own before stop `at`.
    fn own_stop(
        &self,
        run: usize,
        worker: WorkerId,
        stops: &[PlannedStop],
        at: usize,
        task: DueTask,
    ) -> bool {
        let place = self.site.place_of_room(task.room);
        let carted = stops
            .iter()
            .any(|s| s.what.tasks().iter().any(|t| t.needs_cart(self.site)));
        let carted = carted || task.needs_cart(self.site);
        let Some(times) = self.walks.times(worker, carted) else {
            return false;
        };
        let Some(walk) = times.get(stops[at - 1].place, place) else {
            return false;
        };
        let from = (stops[at - 1].span.to + walk).max(self.now);
        let mut own = vec![PlannedStop {
            what: What::Clean(task.room, vec![task]),
            place,
            span: Span::new(from, from + self.time(worker, task)),
        }];
        if let Some(reopen) = self.site.kinds[task.kind.index()].reopen {
            let from = own[0].span.to;
            let length = Seconds::of_work(reopen.as_minutes(), self.site.crew[worker.index()].pace);
            own.push(PlannedStop {
                what: What::Reopen(task.room),
                place,
                span: Span::new(from, from + length),
            });
        }
        // No need to check a whole plan to see that the next stop comes too soon.
        let on = times.get(place, stops[at].place);
        let ends = own.last().map(|s| s.span.to);
        if on
            .zip(ends)
            .is_none_or(|(on, ends)| ends + on > stops[at].span.from)
        {
            return false;
        }
        let mut stops = stops.to_vec();
        stops.splice(at..at, own);
        self.is_sound(run, stops, task)
    }

    /// By the checker; what is listed undone does not matter here.
    fn is_sound(&self, run: usize, stops: Vec<PlannedStop>, task: DueTask) -> bool {
        let mut plan = self.plan.clone();
        let before: Vec<DueTask> = plan.runs[run]
            .stops
            .iter()
            .flat_map(|s| s.what.tasks())
            .copied()
            .collect();
        plan.runs[run].stops = stops;
        let after: Vec<DueTask> = plan.runs[run]
            .stops
            .iter()
            .flat_map(|s| s.what.tasks())
            .copied()
            .collect();
        plan.undone.retain(|u| u.what != UndoneWork::Task(task));
        let dropped = before.into_iter().filter(|t| !after.contains(t));
        plan.undone.extend(dropped.map(|t| evenrun::plan::Undone {
            what: UndoneWork::Task(t),
            reason: evenrun::plan::Reason::NoTime,
        }));
        let found = check(self.site, &plan, self.present);
        found.iter().all(|v| v.rule == Rule::Priority)
    }
}
