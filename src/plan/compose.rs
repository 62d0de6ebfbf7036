//! Turns what the search found back into words: stops with tasks, and what is left undone with its reason.

use super::model::{Plan, PlannedStop, Reason, Run, Undone, UndoneWork, What, takes_cart};
use crate::route::{Alone, Event, Found, FoundRun, Instance, Question, Timed, Visit};
use crate::site::{MachineId, Method, PlaceId, Site, WorkerId};
use crate::units::{Clock, Span};
use crate::work::{DueTask, Jobs, Target};

/// The plan of what was found. `past` is by worker what those who have begun have behind them.
pub(crate) fn compose(
    question: &Question,
    jobs: &Jobs,
    instance: &Instance,
    found: &Found,
    past: &[Vec<PlannedStop>],
) -> Plan {
    let composer = Composer {
        question,
        instance,
        scope: &found.scope,
        past,
    };
    let runs = found
        .runs
        .iter()
        .enumerate()
        .map(|(index, run)| composer.run(index, run))
        .collect();
    let mut undone = composer.undone();
    undone.extend(jobs.nobody.iter().map(|(task, barrier)| Undone {
        what: UndoneWork::Task(*task),
        reason: Reason::Nobody(barrier.to_string()),
    }));
    undone.extend(jobs.nobody_duty.iter().map(|duty| Undone {
        what: UndoneWork::Duty(*duty),
        reason: Reason::Nobody("nobody present has the skill and can get there".to_string()),
    }));
    undone.sort_by_key(|u| u.what);
    let mut plan = Plan {
        date: question.calendar.date(),
        runs,
        undone,
    };
    bring_last_forward(question, &mut plan);
    leave_last_undone(question.site, &mut plan);
    plan
}

struct Composer<'a> {
    question: &'a Question<'a>,
    instance: &'a Instance,
    scope: &'a [u8],
    past: &'a [Vec<PlannedStop>],
}

impl Composer<'_> {
    fn run(&self, index: usize, found: &FoundRun) -> Run {
        let stop = |timed: &Timed| PlannedStop {
            what: self.what(index, &found.visits, timed.event),
            place: PlaceId(timed.place),
            span: Span::new(Clock(i64::from(timed.from)), Clock(i64::from(timed.to))),
        };
        let mut stops = self.past.get(index).cloned().unwrap_or_default();
        // Whoever has begun has set up.
        let set_up = usize::from(self.instance.before.begun(index).is_some());
        stops.extend(found.events.iter().skip(set_up).map(stop));
        Run {
            worker: self.question.present[index],
            stops,
        }
    }

    fn what(&self, worker: usize, visits: &[Visit], event: Event) -> What {
        match event {
            Event::SetUp => What::SetUp,
            Event::TearDown => What::TearDown,
            Event::Fill => What::Fill,
            Event::Dump => What::Dump,
            Event::Fetch(machine) => What::Fetch(MachineId::from(machine)),
            Event::Return(machine) => What::Return(MachineId::from(machine)),
            Event::Break(index) => What::Break(self.instance.workers[worker].breaks[index].index),
            Event::Visit(index) => self.work(visits[index]),
        }
    }

    fn work(&self, visit: Visit) -> What {
        let tasks = match &self.question.jobs[visit.job as usize].target {
            Target::Duty(duty) => return What::Duty(*duty),
            Target::Room(tasks) => tasks,
        };
        let site = self.question.site;
        let mut done = tasks[..usize::from(self.scope[visit.job as usize])].to_vec();
        done.sort_unstable();
        let room = tasks[0].room;
        let step = |task: &DueTask| task.task(site).method;
        let dwells = done
            .iter()
            .any(|t| matches!(step(t), Method::Spray { dwell } if dwell.0 > 0));
        let first =
            |t: &DueTask| matches!(step(t), Method::Open | Method::Spray { .. } | Method::Dry);
        let second = |t: &DueTask| {
            matches!(
                step(t),
                Method::Spray { .. } | Method::Wipe | Method::Mop { .. }
            )
        };
        match (dwells, visit.part) {
            (true, 0) => What::OpenAndWet(room, done.into_iter().filter(first).collect()),
            (true, 1) => What::WipeAndMop(room, done.into_iter().filter(second).collect()),
            (false, 0) => What::Clean(room, done),
            _ => What::Reopen(room),
        }
    }

    fn undone(&self) -> Vec<Undone> {
        let mut undone = Vec::new();
        let mut alone = Alone::new(self.instance);
        for (index, job) in self.question.jobs.iter().enumerate() {
            let done = usize::from(self.scope[index]);
            let left: Vec<UndoneWork> = match &job.target {
                Target::Duty(duty) => (done == 0)
                    .then_some(UndoneWork::Duty(*duty))
                    .into_iter()
                    .collect(),
                Target::Room(tasks) => tasks[done..].iter().map(|t| UndoneWork::Task(*t)).collect(),
            };
            for (more, what) in left.into_iter().enumerate() {
                let fits = alone.fits(index as u32, (done + more + 1) as u8);
                undone.push(Undone {
                    what,
                    reason: if fits {
                        Reason::NoTime
                    } else {
                        self.no_window(index)
                    },
                });
            }
        }
        undone
    }

    fn no_window(&self, job: usize) -> Reason {
        let place = &self.question.site.places[self.instance.jobs[job].place as usize];
        let names = self.question.jobs[job]
            .eligible
            .iter()
            .map(|w| self.question.site.crew[w.index()].name.as_str());
        let names: Vec<&str> = names.collect();
        Reason::NoWindow(format!(
            "no time when `{}` may be done fits the shift of {}",
            place.id,
            names.join(" or ")
        ))
    }
}

/// Locking up was planned for the latest moment; now that the others' ends are known, it moves forward to the last of them.
fn bring_last_forward(question: &Question, plan: &mut Plan) {
    let site = question.site;
    let ends: Vec<(WorkerId, Clock)> = plan
        .runs
        .iter()
        .filter_map(|r| r.stops.last().map(|s| (r.worker, s.span.to)))
        .collect();
    for run in &mut plan.runs {
        let last = |s: &PlannedStop| matches!(s.what, What::Duty(i) if site.duties[i].last);
        let Some(at) = run.stops.iter().position(last) else {
            continue;
        };
        let What::Duty(duty) = run.stops[at].what else {
            continue;
        };
        let others = ends
            .iter()
            .filter(|(w, _)| *w != run.worker)
            .map(|(_, end)| *end)
            .max();
        let previous = &run.stops[at - 1];
        let times = question
            .walks
            .times(run.worker, takes_cart(site, &run.stops));
        let Some(walk) = times.and_then(|t| t.get(previous.place, run.stops[at].place)) else {
            continue;
        };
        let windows = site.duties[duty]
            .window
            .as_ref()
            .map(|w| question.calendar.windows(w));
        let length = run.stops[at].span.length();
        let earliest = (previous.span.to + walk).max(others.unwrap_or(Clock(0)));
        let earliest = site.now.map_or(earliest, |now| earliest.max(now));
        let start = windows.map_or(Some(earliest), |w| {
            w.iter()
                .map(|s| (s.from.max(earliest), s.to))
                .find(|(from, to)| *from + length <= *to)
                .map(|(from, _)| from)
        });
        let Some(start) = start.filter(|s| *s < run.stops[at].span.from) else {
            continue;
        };
        move_forward(question, run, at, start);
    }
}

/// Nobody locks up while somebody else finishes what was begun and goes on for longer than this can wait.
fn leave_last_undone(site: &Site, plan: &mut Plan) {
    let end = |r: &Run| Some((r.worker, r.stops.last()?.span.to));
    let ends: Vec<(WorkerId, Clock)> = plan.runs.iter().filter_map(end).collect();
    for run in &mut plan.runs {
        let to_come = |s: &PlannedStop| site.now.is_none_or(|now| s.span.from >= now);
        let last = |s: &PlannedStop| matches!(s.what, What::Duty(i) if site.duties[i].last);
        let Some(at) = run.stops.iter().position(|s| last(s) && to_come(s)) else {
            continue;
        };
        let (What::Duty(duty), from) = (&run.stops[at].what, run.stops[at].span.from) else {
            continue;
        };
        let others = ends.iter().filter(|(w, _)| *w != run.worker);
        let Some((worker, end)) = others
            .max_by_key(|(_, end)| *end)
            .filter(|(_, e)| *e > from)
        else {
            continue;
        };
        let name = &site.crew[worker.index()].name;
        plan.undone.push(Undone {
            what: UndoneWork::Duty(*duty),
            reason: Reason::NoWindow(format!(
                "{name} is not back before {end}, and it comes last"
            )),
        });
        run.stops.remove(at);
    }
    plan.undone.sort_by_key(|u| u.what);
}

/// Moves a stop to an earlier start and everything after it as far forward as its own rules let it.
fn move_forward(question: &Question, run: &mut Run, at: usize, start: Clock) {
    let breaks = &question.site.crew[run.worker.index()].breaks;
    let gain = run.stops[at].span.from - start;
    for stop in &mut run.stops[at..] {
        if let What::Break(index) = stop.what {
            // What follows a break that cannot move forward as far keeps its time.
            let window = question.calendar.elapsed_span(breaks[index].window);
            if stop.span.from - gain < window.from {
                break;
            }
        }
        stop.span = Span::new(stop.span.from - gain, stop.span.to - gain);
    }
}
