//! A first split: which worker owns which jobs, evenly and close together, for the search to start from.
//!
//! Everybody has a centre, the place from which the jobs owned are near. For given centres a linear program assigns:
//!
//! ```text
//! minimise    Σjw walk[j][w] x[j][w]  +  PULL z
//! subject to  Σw x[j][w] = 1                                      for every job j
//!             Σj seconds[j][w] x[j][w] <= z available[w]           for every worker w
//!             Σj over by t  seconds[j][w] x[j][w] <= t - start[w]  for every w and some times t: jobs that must be over by then
//!             Σj not before t  ...                <= end[w] - t    likewise: jobs that cannot begin before
//!             x >= 0,  x[j][w] = 0 where w may not do j, or the job's windows and the shift do not meet
//! ```
//!
//! `walk[j][w]` is the walk from the centre to the job, by way of a fill point if its floor is mopped, so that wet rooms go to
//! whoever has the water. Each job goes to the worker with the greatest part of it; then every centre moves to the place from which its
//! jobs are nearest, and the program is asked again: the alternation of Lloyd (1982, doi:10.1109/TIT.1982.1056489), with
//! capacities. The first centres are cut from a tour of the building.
//!
//! The answer is only a start: the search moves jobs as it sees fit, and whatever the solver says can make no plan unsound.

use crate::route::{Instance, NO_WAY, Secs, Stop};
use good_lp::{
    Expression, ProblemVariables, Solution, SolverModel, Variable, clarabel, constraint, variable,
};
use itertools::Itertools;

/// How often centres move.
const ROUNDS: usize = 4;

/// To how many near workers a job may go.
const NEAR: usize = 8;

/// Seconds of walking that a hundredth of the highest share is worth for each job.
const PULL: f64 = 20.0;

/// At how many times of the day work that must be over, or cannot have begun, is counted.
const TIMES: usize = 6;

/// No second round begins when so much of a budget of time is used: the search has to have most of it. The first one saves more time than it takes, for a job
/// that has an owner is soon put into a run.
const PART: f64 = 0.25;

/// By job, who owns it; nothing where nobody may do it.
///
/// # Complexity
/// A few linear programs of `jobs × 8` variables.
pub fn split(instance: &Instance, stop: Stop) -> Vec<Option<u16>> {
    let jobs = Jobs::read(instance);
    let mut owners = vec![None; instance.jobs.len()];
    if jobs.all.is_empty() || instance.workers.len() < 2 {
        return owners;
    }
    let mut centres = first_centres(&jobs);
    for round in 0..ROUNDS {
        if round > 0 && stop.has_used(PART) {
            break;
        }
        let Some(new) = assign(&jobs, &centres) else {
            break;
        };
        let same = new == owners;
        owners = new;
        if same {
            break;
        }
        centres = (0..centres.len())
            .map(|worker| jobs.centre(&owners, worker).unwrap_or(centres[worker]))
            .collect();
    }
    owners
}

/// What the split knows of jobs and workers.
struct Jobs<'a> {
    instance: &'a Instance,
    /// Those that somebody may do.
    all: Vec<u32>,
}

impl Jobs<'_> {
    fn read(instance: &Instance) -> Jobs<'_> {
        let mut jobs = Jobs {
            instance,
            all: Vec::new(),
        };
        let anyone =
            |job: &u32| (0..instance.workers.len()).any(|w| jobs.seconds(*job, w).is_some());
        let all = (0..instance.jobs.len() as u32).filter(anyone).collect();
        jobs.all = all;
        jobs
    }

    /// Seconds that a worker needs; nothing if they may not, or are not there while the room is open.
    fn seconds(&self, job: u32, worker: usize) -> Option<Secs> {
        let (asked, who) = (
            &self.instance.jobs[job as usize],
            &self.instance.workers[worker],
        );
        let how = self.instance.scope(worker, job, asked.full());
        let seconds = self.instance.work(worker, job, asked.full());
        let meets =
            |(from, to): &(Secs, Secs)| (*to).min(who.latest) - (*from).max(who.from) >= seconds;
        let may = asked.eligible[worker] && how.possible && asked.windows.iter().any(meets);
        may.then_some(seconds)
    }

    fn place(&self, job: u32) -> u32 {
        self.instance.jobs[job as usize].place
    }

    fn walk(&self, from: u32, to: u32) -> Secs {
        let walks = self.instance.walks.iter().map(|table| table.walk(from, to));
        walks.max().unwrap_or(0).min(NO_WAY / 1000)
    }

    fn is_wet(&self, job: u32, worker: usize) -> bool {
        let how = self
            .instance
            .scope(worker, job, self.instance.jobs[job as usize].full());
        how.parts.iter().any(|part| part.mop > 0)
    }

    /// From a centre to a job, by way of water if it needs any.
    fn way(&self, centre: u32, job: u32, worker: usize) -> Secs {
        let place = self.place(job);
        let table = self.instance.workers[worker]
            .with_cart
            .map(|t| &self.instance.walks[t]);
        let point = table
            .and_then(|t| t.fill_between(centre, place))
            .filter(|_| self.is_wet(job, worker));
        match point {
            Some(point) => self.walk(centre, point) + self.walk(point, place),
            None => self.walk(centre, place),
        }
    }

    /// The place of one of a worker's jobs from which the others are nearest.
    fn centre(&self, owners: &[Option<u16>], worker: usize) -> Option<u32> {
        let own = |job: &&u32| owners[**job as usize] == Some(worker as u16);
        let places = self
            .all
            .iter()
            .filter(own)
            .map(|j| self.place(*j))
            .collect_vec();
        let far = |from: &u32| -> i64 {
            places
                .iter()
                .map(|to| i64::from(self.walk(*from, *to)))
                .sum()
        };
        places
            .iter()
            .copied()
            .sorted()
            .dedup()
            .min_by_key(|p| (far(p), *p))
    }

    /// From when to when a job can be done at all.
    fn span(&self, job: u32) -> (Secs, Secs) {
        let windows = &self.instance.jobs[job as usize].windows;
        let from = windows.iter().map(|w| w.0).min().unwrap_or(0);
        (from, windows.iter().map(|w| w.1).max().unwrap_or(0))
    }
}

/// Cuts a tour from one place to the nearest next one into pieces of work that match what everybody has time for.
fn first_centres(jobs: &Jobs) -> Vec<u32> {
    let workers = &jobs.instance.workers;
    let mut left = jobs.all.clone();
    let mut here = workers[0].start;
    let mut tour = Vec::with_capacity(left.len());
    while let Some(next) = left
        .iter()
        .position_min_by_key(|j| (jobs.walk(here, jobs.place(**j)), **j))
    {
        let job = left.swap_remove(next);
        here = jobs.place(job);
        tour.push(job);
    }
    let work = |job: &u32| {
        let able = (0..workers.len()).filter_map(|w| jobs.seconds(*job, w));
        i64::from(able.min().unwrap_or(0))
    };
    let all: i64 = tour.iter().map(work).sum();
    let available: i64 = workers.iter().map(|w| i64::from(w.available)).sum();
    let mut stops = tour.iter();
    let (mut done, mut due) = (0, 0);
    let piece = |worker: usize| {
        due += i64::from(workers[worker].available);
        let mut places = Vec::new();
        while done * available < due * all
            && let Some(job) = stops.next()
        {
            done += work(job);
            places.push(jobs.place(*job));
        }
        places
            .get(places.len() / 2)
            .copied()
            .unwrap_or(workers[worker].start)
    };
    (0..workers.len()).map(piece).collect()
}

/// A near worker who may do a job, how much of it is theirs, and the seconds it takes them.
type Candidate = (usize, Variable, f64);

/// The linear program for given centres, rounded; nothing if the solver fails.
fn assign(jobs: &Jobs, centres: &[u32]) -> Option<Vec<Option<u16>>> {
    let instance = jobs.instance;
    let mut variables = ProblemVariables::new();
    let z = variables.add(variable().min(0));
    let mut options: Vec<(u32, Vec<Candidate>)> = Vec::new();
    let mut cost = PULL * 100.0 * jobs.all.len() as f64 * z;
    for job in &jobs.all {
        let able = (0..centres.len())
            .filter_map(|w| Some((jobs.way(centres[w], *job, w), w, jobs.seconds(*job, w)?)));
        let near = able.k_smallest(NEAR).map(|(way, worker, seconds)| {
            let part = variables.add(variable().min(0));
            cost += f64::from(way) * part;
            (worker, part, f64::from(seconds))
        });
        options.push((*job, near.collect()));
    }
    let mut model = variables.minimise(cost).using(clarabel);
    for (_, near) in &options {
        let all: Expression = near.iter().map(|(_, part, _)| *part).sum();
        model.add_constraint(constraint!(all == 1));
    }
    for (worker, who) in instance.workers.iter().enumerate() {
        let load = |counts: &dyn Fn(u32) -> bool| -> Expression {
            let own = options
                .iter()
                .filter(|(job, _)| counts(*job))
                .flat_map(|(_, near)| near);
            let own = own.filter(|(w, ..)| *w == worker);
            own.map(|(_, part, seconds)| *seconds / 3600.0 * *part)
                .sum()
        };
        let available = f64::from(who.available) / 3600.0;
        model.add_constraint(constraint!(load(&|_| true) <= available * z));
        let step = (who.to - who.from).max(0) / TIMES as Secs;
        for time in (1..TIMES as Secs).map(|i| who.from + i * step) {
            let (before, after) = (f64::from(time - who.from), f64::from(who.to - time));
            model.add_constraint(constraint!(
                load(&|j| jobs.span(j).1 <= time) <= before / 3600.0
            ));
            model.add_constraint(constraint!(
                load(&|j| jobs.span(j).0 >= time) <= after / 3600.0
            ));
        }
    }
    let solution = model.solve().ok()?;
    let mut owners = vec![None; instance.jobs.len()];
    for (job, near) in &options {
        let greatest = near.iter().max_by(|a, b| {
            // Parts that differ only by the solver's inexactness are alike.
            let part = |o: &Candidate| (solution.value(o.1) * 1e4).round();
            part(a).total_cmp(&part(b)).then(b.0.cmp(&a.0))
        });
        owners[*job as usize] = greatest.map(|(worker, ..)| *worker as u16);
    }
    Some(owners)
}
