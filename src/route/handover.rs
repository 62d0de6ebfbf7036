//! A plan in which single jobs change hands, everything else staying in its order: what becomes of it if one room moves to
//! somebody else's run.
//!
//! The job goes where it costs least in the new run: every position is guessed at, and the most promising are timed exactly, as in
//! the search. Nothing is left to chance, so the same question always has the same answer.

use super::guess::guess_positions;
use super::insert::{Position, place};
use super::instance::Instance;
use super::prices::Standing;
use super::reorder;
use super::search::{Found, Settings, Start, best, found};
use super::solution::Solution;
use super::stop::Stop;

/// How many positions are timed once one has been found to fit, and how many if none fits.
const TIMED: usize = 5;
const TIMED_IF_NONE: usize = 20;

/// A plan whose jobs may be handed over one at a time.
#[derive(Clone, Debug)]
pub struct Handover<'a> {
    plan: Solution<'a>,
}

impl<'a> Handover<'a> {
    /// Begins with the plan that a search finds; see [`super::search`].
    pub fn by_search(
        instance: &'a Instance,
        start: Option<&Start>,
        settings: Settings,
        watch: &mut dyn FnMut(f64, &Standing),
    ) -> (Handover<'a>, Found) {
        let (mut plan, iterations) = best(instance, start, &[], settings, watch);
        let found = found(&plan, iterations);
        // Plain runs, too, are timed exactly here: there are few of them to time.
        plan.plain = false;
        plan.be_quick();
        (Handover { plan }, found)
    }

    /// The same plan in an instance with the same jobs and workers that asks for less: it must be possible there as it is.
    #[must_use]
    pub fn within(&self, instance: &'a Instance) -> Handover<'a> {
        let mut plan = self.plan.clone();
        plan.instance = instance;
        Handover { plan }
    }

    /// What the plan is made for.
    pub fn instance(&self) -> &'a Instance {
        self.plan.instance
    }

    /// Where the plan stands in the order of goals.
    pub fn standing(&self) -> Standing {
        self.plan.standing()
    }

    /// Whose run does a job, by worker of the instance.
    pub fn owner(&self, job: u32) -> Option<usize> {
        self.plan.run_of[job as usize].map(usize::from)
    }

    /// The worker with the highest share; the first of several.
    pub fn busiest(&self) -> Option<usize> {
        let share = |worker: usize| {
            let load = self.plan.runs[worker].ending.load;
            f64::from(load) / f64::from(self.plan.instance.workers[worker].available)
        };
        (0..self.plan.runs.len()).max_by(|a, b| share(*a).total_cmp(&share(*b)).then(b.cmp(a)))
    }

    /// Whether a worker's run ends after the shift.
    pub fn is_late(&self, worker: usize) -> bool {
        self.plan.runs[worker].ending.end > self.plan.instance.workers[worker].to
    }

    /// Whether some of a job's work is left undone.
    pub fn is_short(&self, job: u32) -> bool {
        self.plan.scope[job as usize] < self.plan.instance.jobs[job as usize].full()
    }

    /// Where the plan would stand with these jobs in a worker's run; `None` if they do not fit there in full.
    pub fn standing_if_given(&mut self, jobs: &[u32], to: usize) -> Option<Standing> {
        let standing = self.hand(jobs, to).then(|| self.plan.standing());
        self.plan.roll_back();
        standing
    }

    /// Gives jobs to a worker's run. False, and nothing is changed, if they do not fit there in full.
    pub fn give(&mut self, jobs: &[u32], to: usize) -> bool {
        let fits = self.hand(jobs, to);
        if fits {
            self.plan.commit();
        } else {
            self.plan.roll_back();
        }
        fits
    }

    /// Changes a worker's order until no stretch moved, no two stops exchanged and no stretch turned round makes it better.
    pub fn tidy(&mut self, worker: usize, stop: Stop) {
        reorder::improve(&mut self.plan, worker, stop);
        self.plan.commit();
    }

    /// Busy seconds by worker.
    pub fn loads(&self) -> Vec<i64> {
        let runs = self.plan.runs.iter();
        runs.map(|run| i64::from(run.ending.load)).collect()
    }

    fn hand(&mut self, jobs: &[u32], to: usize) -> bool {
        self.plan.commit();
        self.plan.remove(jobs);
        jobs.iter().all(|job| {
            let full = self.plan.instance.jobs[*job as usize].full();
            self.plan.set_scope(*job, full);
            self.insert(*job, to)
        })
    }

    fn insert(&mut self, job: u32, run: usize) -> bool {
        let mut positions: Vec<Position> = Vec::new();
        guess_positions(&self.plan, run, job, &mut positions);
        positions.sort_unstable();
        let mut best: Option<(i64, Position)> = None;
        let mut visits = Vec::new();
        for (tried, position) in positions.iter().enumerate() {
            let most = if best.is_some() { TIMED } else { TIMED_IF_NONE };
            if tried >= most {
                break;
            }
            place(&self.plan, job, *position, &mut visits);
            if let Some(price) = self.plan.try_order(run, &visits)
                && best.is_none_or(|(least, _)| price < least)
            {
                best = Some((price, *position));
            }
        }
        best.is_some_and(|(_, position)| {
            place(&self.plan, job, position, &mut visits);
            self.plan.set_order(run, &visits)
        })
    }
}
