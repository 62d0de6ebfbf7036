//! What would become of a room's work with anybody else.

use crate::plan::{Plan, What};
use crate::route::{AsPlanned, Could, Elsewhere, Instance, Question, Secs, Start, elsewhere};
use crate::site::WorkerId;
use crate::units::Seconds;
use crate::work::{Barrier, DueTask, Target, barrier};
use std::cmp::Ordering;

/// Somebody who is there, and what would become of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Other {
    /// Who.
    pub worker: WorkerId,
    /// What would become of it.
    pub outcome: Outcome,
}

/// What would become of a plan with a room's work in somebody else's run, all runs otherwise kept in their order.
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// They may not do it.
    Barred(Barrier),
    /// No place was found in their run, within their shift, the room's hours and every other rule.
    NoPlace {
        /// How long the work takes them.
        takes: Seconds,
        /// How much of their shift is neither load nor break.
        left: Seconds,
        /// Whether it would fit if they did nothing else.
        alone: bool,
    },
    /// It fits, and the plan would be worse.
    Worse(Figures),
    /// It fits, and the plan would be just as good.
    Equal(Figures),
    /// It fits, and the plan would be better: the search has missed it.
    Better(Figures),
}

/// What would change.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figures {
    /// Their share now and then.
    pub share: (f64, f64),
    /// The highest share now and then.
    pub highest: (f64, f64),
    /// Minutes not spent cleaning that it would add over all runs; negative if it saves some.
    pub not_cleaning: f64,
}

/// Asks the search about single jobs.
pub(super) struct Asker<'a> {
    pub(super) question: &'a Question<'a>,
    pub(super) instance: &'a Instance,
    pub(super) start: Start,
    /// When each job begins.
    pub(super) begins: Vec<Option<Secs>>,
    /// How many tasks of each job are done.
    pub(super) scope: Vec<u8>,
}

/// When each job begins in a plan.
pub(super) fn begins(question: &Question, plan: &Plan) -> Vec<Option<Secs>> {
    let stops = || plan.runs.iter().flat_map(|r| &r.stops);
    let begins = |target: &Target| {
        let is_part = |what: &What| match target {
            Target::Duty(duty) => *what == What::Duty(*duty),
            Target::Room(tasks) => what.tasks().iter().any(|t| tasks.contains(t)),
        };
        let first = stops().find(|stop| is_part(&stop.what))?;
        Some(first.span.from.0 as Secs)
    };
    let jobs = question.jobs.iter();
    jobs.map(|job| begins(&job.target)).collect()
}

/// How many tasks of each job a plan does.
pub(super) fn scope(question: &Question, plan: &Plan) -> Vec<u8> {
    let stops = || plan.runs.iter().flat_map(|r| &r.stops);
    let done = |target: &Target| match target {
        Target::Duty(duty) => usize::from(stops().any(|s| s.what == What::Duty(*duty))),
        Target::Room(tasks) => {
            let is_done = |t: &&DueTask| stops().any(|s| s.what.tasks().contains(t));
            tasks.iter().filter(is_done).count()
        }
    };
    question
        .jobs
        .iter()
        .map(|job| done(&job.target) as u8)
        .collect()
}

impl Asker<'_> {
    /// What would become of these tasks with anybody but `owner`.
    pub(super) fn instead_of(&self, owner: WorkerId, tasks: &[DueTask]) -> Option<Vec<Other>> {
        let job = self.job_of(*tasks.first()?)?;
        let asked = elsewhere(self.instance, self.now(), job as u32, self.scope[job])?;
        Some(self.told(asked, tasks, |worker| worker != owner))
    }

    /// Whether anybody could do an undone task beside the rest.
    pub(super) fn as_well(&self, task: DueTask) -> Option<Vec<Other>> {
        let job = self.job_of(task)?;
        let Target::Room(tasks) = &self.question.jobs[job].target else {
            return None;
        };
        let wanted = tasks.iter().position(|t| *t == task)? as u8 + 1;
        let asked = elsewhere(self.instance, self.now(), job as u32, wanted)?;
        Some(self.told(asked, &tasks[..usize::from(wanted)], |_| true))
    }

    fn now(&self) -> AsPlanned<'_> {
        AsPlanned {
            orders: &self.start,
            begins: &self.begins,
            scope: &self.scope,
        }
    }

    fn job_of(&self, task: DueTask) -> Option<usize> {
        let has = |target: &Target| matches!(target, Target::Room(tasks) if tasks.contains(&task));
        self.question.jobs.iter().position(|j| has(&j.target))
    }

    fn told(
        &self,
        asked: Vec<Elsewhere>,
        tasks: &[DueTask],
        of: impl Fn(WorkerId) -> bool,
    ) -> Vec<Other> {
        let present = self.question.present;
        let asked = asked.into_iter().map(|e| (present[e.worker], e.could));
        let others = asked.filter(|(worker, _)| of(*worker));
        others
            .map(|(worker, could)| Other {
                worker,
                outcome: self.outcome(worker, tasks, &could),
            })
            .collect()
    }

    fn outcome(&self, worker: WorkerId, tasks: &[DueTask], could: &Could) -> Outcome {
        match *could {
            Could::NotAllowed => {
                let barred = tasks
                    .iter()
                    .filter_map(|t| barrier(self.question.site, worker, *t, self.question.walks));
                Outcome::Barred(barred.min().unwrap_or(Barrier::NotWanted))
            }
            Could::NoPlace { takes, left, alone } => Outcome::NoPlace {
                takes: Seconds(i64::from(takes)),
                left: Seconds(i64::from(left)),
                alone,
            },
            Could::Fits {
                than_now,
                share,
                highest,
                not_cleaning,
            } => {
                let figures = Figures {
                    share,
                    highest,
                    not_cleaning: f64::from(not_cleaning) / 60.0,
                };
                match than_now {
                    Ordering::Less => Outcome::Worse(figures),
                    Ordering::Equal => Outcome::Equal(figures),
                    Ordering::Greater => Outcome::Better(figures),
                }
            }
        }
    }
}
