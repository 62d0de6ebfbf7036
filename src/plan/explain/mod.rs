//! Why a room is done by whom and when, or not at all: worked out from site and plan, by asking the search about the room in other runs and
//! the checker about earlier times. Nothing here is a guess.

mod moment;
mod others;

pub use moment::{ExplainedStop, Moment};
pub use others::{Figures, Other, Outcome};

use super::earlier::begin_with;
use super::model::{Plan, Reason, UndoneWork};
use super::reading::Reading;
use crate::route::{Question, pose};
use crate::site::{Calendar, RoomId, Site, WorkerId};
use crate::units::Span;
use crate::walk::Walks;
use crate::work::{DueTask, due_on, gather};
use others::Asker;

/// Everything there is to say about a room in a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Explanation {
    /// The room.
    pub room: RoomId,
    /// When it may be cleaned while anybody is at work, elapsed; `None` is always.
    pub open: Option<Vec<Span>>,
    /// When it may be closed to its users, if it is closed for cleaning and that is restricted.
    pub closure: Option<Vec<Span>>,
    /// Who is there, when, and why.
    pub visits: Vec<VisitExplained>,
    /// What is due and not done.
    pub undone: Vec<UndoneTask>,
    /// Tasks of its kind that fall on other days, or have nothing to do here.
    pub not_due: Vec<String>,
    /// Tasks that the site says do not apply here.
    pub skipped: Vec<String>,
}

/// A visit of one worker.
#[derive(Clone, Debug, PartialEq)]
pub struct VisitExplained {
    /// Whose.
    pub worker: WorkerId,
    /// Its stops, in order.
    pub stops: Vec<ExplainedStop>,
    /// What would become of it with anybody else who is there; `None` if the runs cannot be timed again as they are.
    pub others: Option<Vec<Other>>,
}

/// A task left undone.
#[derive(Clone, Debug, PartialEq)]
pub struct UndoneTask {
    /// Which.
    pub task: DueTask,
    /// The reason the plan gives.
    pub reason: Reason,
    /// For work there is no time for: whether anybody who is there could do it beside the rest.
    pub others: Option<Vec<Other>>,
}

/// Explains a room of a plan whose ids are the site's. `present` are the workers on duty.
///
/// # Complexity
/// As of posing the site to the search, and one exact timing for each promising place in each run.
pub fn explain(site: &Site, plan: &Plan, present: &[WorkerId], room: RoomId) -> Explanation {
    let calendar = Calendar::new(plan.date, site.time_zone.as_deref());
    let walks = Walks::of(site, &calendar, present);
    let due = due_on(site, plan.date);
    let jobs = gather(site, &due, plan.date, present, &walks);
    let question = Question {
        site,
        calendar: &calendar,
        present,
        walks: &walks,
        jobs: &jobs.jobs,
    };
    let instance = pose(&question);
    let asker = Asker {
        question: &question,
        instance: &instance,
        start: begin_with(&instance, &question, plan),
        begins: others::begins(&question, plan),
        scope: others::scope(&question, plan),
    };
    let reading = Reading::new(site, plan);
    let own = &site.rooms[room.index()];
    let kind = &site.kinds[own.kind.index()];
    let windows = |hours: &Option<_>| {
        let all = hours.as_ref().map(|h| calendar.windows(h));
        all.map(|all| while_at_work(&reading, all))
    };
    let is_due = |index: usize| due.iter().any(|t| t.room == room && t.index == index);
    let quiet = |skip: bool| {
        let tasks = kind.tasks.iter().enumerate();
        let quiet = tasks.filter(move |(i, t)| !is_due(*i) && own.skip.contains(&t.name) == skip);
        quiet.map(|(_, t)| t.name.clone()).collect()
    };
    Explanation {
        room,
        open: windows(&own.open),
        closure: windows(&own.closure).filter(|_| kind.reopen.is_some()),
        visits: visits(&reading, present, room, &asker),
        undone: undone(plan, room, &asker),
        not_due: quiet(false),
        skipped: quiet(true),
    }
}

/// Of these windows, those in which anybody is at work.
fn while_at_work(reading: &Reading, windows: Vec<Span>) -> Vec<Span> {
    let met = |window: &Span| reading.runs.iter().any(|run| run.shift.meets(*window));
    windows.into_iter().filter(met).collect()
}

fn visits(
    reading: &Reading,
    present: &[WorkerId],
    room: RoomId,
    asker: &Asker,
) -> Vec<VisitExplained> {
    let mut visits = Vec::new();
    for run in &reading.runs {
        for visit in run.visits().into_iter().filter(|v| v.room == room) {
            visits.push(VisitExplained {
                worker: run.id,
                stops: visit
                    .stops()
                    .map(|at| moment::explained(reading, present, run, visit, at))
                    .collect(),
                others: asker.instead_of(run.id, &run.tasks_of(visit)),
            });
        }
    }
    visits.sort_by_key(|v| v.stops.first().map(|s| s.stop.span.from));
    visits
}

fn undone(plan: &Plan, room: RoomId, asker: &Asker) -> Vec<UndoneTask> {
    let here = plan.undone.iter().filter_map(|u| match u.what {
        UndoneWork::Task(task) if task.room == room => Some((task, u.reason.clone())),
        _ => None,
    });
    here.map(|(task, reason)| UndoneTask {
        task,
        others: if reason == Reason::NoTime {
            asker.as_well(task)
        } else {
            None
        },
        reason,
    })
    .collect()
}
