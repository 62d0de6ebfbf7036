//! Which positions of a job in a run are promising: guessed from the run as it is timed now, before any exact timing.
//!
//! A guess follows the job's parts through the run: when each could start, how much later everything after it would be, less the
//! waiting that swallows delay, and whether that is in time. It knows nothing of waste: that would keep jobs from where the cart is full now,
//! though emptying it can be moved. What it lets through is timed exactly, and what it stops is rarely possible.

use super::between::Via;
use super::insert::Position;
use super::instance::{FOREVER, Job, NO_WAY, Scope, Secs, WalkTable};
use super::label::Water;
use super::run::Run;
use super::solution::Solution;
use super::timing::in_windows;

/// How far apart, in stops of the run, the parts of one job are tried.
const REACH: usize = 3;

/// Adds the positions of a run in which a job may fit.
pub(super) fn guess_positions(
    solution: &Solution,
    run: usize,
    job: u32,
    positions: &mut Vec<Position>,
) {
    let instance = solution.instance;
    let how = instance.scope(run, job, solution.scope[job as usize]);
    if !instance.jobs[job as usize].eligible[run] || !how.possible {
        return;
    }
    let now = &solution.runs[run];
    let guesser = Guesser {
        solution,
        now,
        run,
        job: &instance.jobs[job as usize],
        how,
        table: solution.table(run, now.with_cart || how.cart),
        closures: closures(solution, now, &instance.jobs[job as usize]),
    };
    let stops = now.visits.len();
    let first = if guesser.job.last { stops } else { 0 };
    for one in first..=stops {
        if let Some(begun) = guesser.begin(one) {
            guesser.follow(begun, positions);
        }
    }
}

struct Guesser<'a> {
    solution: &'a Solution<'a>,
    now: &'a Run,
    run: usize,
    job: &'a Job,
    how: &'a Scope,
    table: &'a WalkTable,
    /// From which to which stop the run has rooms of the job's closure groups closed.
    closures: Vec<(u16, u16)>,
}

/// A job with some of its parts put into a run.
#[derive(Clone, Copy)]
struct Begun {
    at: [u16; 3],
    parts: usize,
    /// When the first part starts.
    from: Secs,
    /// When the latest part ends.
    to: Secs,
    /// By how much the stop after it is late.
    late: Secs,
    /// Time walked, filled and waited for it.
    extra: Secs,
    /// What else there is to do in the gap of the latest part, after it: breaks, fills, machines.
    work: Secs,
}

fn closures(solution: &Solution, now: &Run, job: &Job) -> Vec<(u16, u16)> {
    if job.closed_limits.is_empty() {
        return Vec::new();
    }
    let same = |id: u32| {
        let other = &solution.instance.jobs[id as usize];
        other
            .closed_limits
            .iter()
            .any(|l| job.closed_limits.contains(l))
    };
    let first = now
        .visits
        .iter()
        .enumerate()
        .filter(|(_, v)| v.part == 0 && same(v.job));
    let last = |id: u32| now.visits.iter().rposition(|v| v.job == id);
    first
        .map(|(i, v)| (i as u16, last(v.job).unwrap_or(i) as u16))
        .collect()
}

impl Guesser<'_> {
    /// The first part before stop `index`; `None` if it seems not to fit.
    fn begin(&self, index: usize) -> Option<Begun> {
        let fills = self.fills(index, 0, self.before(index));
        let arrival = self.now.free[index] + self.to_job(index) + fills;
        let from = self.first_start(arrival)?;
        let begun = Begun {
            at: [index as u16; 3],
            parts: 1,
            from,
            to: from + self.how.parts[0].length,
            late: 0,
            extra: self.detour(index) + self.set_up() + fills,
            work: self.work_after(index, arrival, from),
        };
        self.go_on(begun, index)
    }

    /// All further parts, at most [`REACH`] stops apart.
    fn follow(&self, begun: Begun, positions: &mut Vec<Position>) {
        if begun.parts == self.how.parts.len() {
            if self.closes_well(&begun) {
                positions.push(self.position(&begun));
            }
            return;
        }
        let last = usize::from(begun.at[begun.parts - 1]);
        for index in last..=self.now.visits.len().min(last + REACH) {
            if let Some(next) = self.add(begun, last, index) {
                self.follow(next, positions);
            }
        }
    }

    /// One more part before stop `index`, the part before it being before stop `last`.
    fn add(&self, begun: Begun, last: usize, index: usize) -> Option<Begun> {
        let part = &self.how.parts[begun.parts];
        let (mut arrival, mut extra, mut here) = (begun.to, begun.extra, self.job.place);
        if index > last {
            arrival =
                self.now.free[index] + self.delay(begun.late, last, index) + self.to_job(index);
            extra = extra.saturating_add(self.detour(index));
            here = self.before(index);
        }
        let fills = self.fills(index, begun.parts, here);
        let ready = begun.to + part.lag;
        arrival += fills;
        extra += fills + (ready - arrival).max(0);
        let from = in_windows(&self.job.windows, arrival.max(ready), part.length)?;
        let work = if index == last {
            begun.work
        } else {
            self.work_after(index, arrival, from)
        };
        let mut next = Begun {
            parts: begun.parts + 1,
            to: from + part.length,
            extra,
            work,
            ..begun
        };
        next.at[begun.parts..].fill(index as u16);
        self.go_on(next, index)
    }

    /// On to stop `index`: how late it is now; `None` if that is too late.
    fn go_on(&self, begun: Begun, index: usize) -> Option<Begun> {
        let onward = self
            .table
            .walk(self.job.place, self.after(index))
            .min(NO_WAY);
        let arrival = begun.to + onward + begun.work;
        let late = (arrival - self.now.starts[index]).max(0);
        // More parts may still go into the same gap, before it is too late.
        (arrival <= self.latest(index)).then_some(Begun { late, ..begun })
    }

    /// What there is to do in the gap before stop `index` after a part put there; nothing if there is time for it while the part has to wait.
    fn work_after(&self, index: usize, arrival: Secs, from: Secs) -> Secs {
        let work = self.now.gap_work[index];
        if from - arrival >= work { 0 } else { work }
    }

    /// When stop `index`, or the tear-down, may begin at the latest; later for the one who locks up.
    fn latest(&self, index: usize) -> Secs {
        if self.job.last {
            let worker = &self.solution.instance.workers[self.run];
            return worker.latest - worker.tear_down;
        }
        self.now.latest[index]
    }

    /// What fetching water for part `part` before stop `index` usually takes, coming from `here`: nothing, if what the bucket holds anyhow
    /// is enough; and what was in it before is then to be fetched again for other rooms.
    fn fills(&self, index: usize, part: usize, here: u32) -> Secs {
        let (part, water) = (&self.how.parts[part], Water::used_in(self.job));
        let either = &self.now.spare[2 * index..2 * index + 2];
        if part.mop == 0 || either.iter().any(|spare| spare.serves(part, water)) {
            return 0;
        }
        let Some(by) = Via::fill_point(self.table, here, self.job.place) else {
            return 0;
        };
        let detour = by.to + by.on - self.table.walk(here, self.job.place);
        let again = self.now.water_kept[index] && !either[0].holds(water);
        (1 + Secs::from(again)) * (detour + self.solution.instance.fill)
    }

    /// What is left at stop `to` of a delay at stop `from`, waits between them swallowing some.
    fn delay(&self, late: Secs, from: usize, to: usize) -> Secs {
        (late - (self.now.waited[to - 1] - self.now.waited[from])).max(0)
    }

    /// Whether the closure lies in one window and leaves enough other rooms open.
    fn closes_well(&self, begun: &Begun) -> bool {
        let Some(closure) = &self.job.closure else {
            return true;
        };
        let closed = begun.to - begun.from;
        let own = self.own_closures(begun);
        in_windows(closure, begun.from, closed) == Some(begun.from)
            && self.job.closed_limits.iter().all(|limit| {
                let holds = &self.solution.holds;
                holds
                    .clash(*limit, self.run, own, begun.from, begun.to)
                    .is_none()
            })
    }

    /// How many rooms of the same closure groups the run itself has closed meanwhile.
    fn own_closures(&self, begun: &Begun) -> i32 {
        let (first, last) = (begun.at[0], begun.at[self.how.parts.len() - 1]);
        let meanwhile = |(from, to): &&(u16, u16)| *from < last && first <= *to;
        self.closures.iter().filter(meanwhile).count() as i32
    }

    /// The first moment from `arrival` on at which the room's windows and the closures of other runs leave room.
    fn first_start(&self, arrival: Secs) -> Option<Secs> {
        let mut start = arrival.max(self.job.not_before);
        loop {
            let mut later = in_windows(&self.job.windows, start, self.how.parts[0].length)?;
            if let Some(closure) = &self.job.closure {
                later = in_windows(closure, later, self.how.closed)?;
                for limit in &self.job.closed_limits {
                    let until = later + self.how.closed;
                    let free = self.solution.holds.clash(*limit, self.run, 0, later, until);
                    later = later.max(free.unwrap_or(later));
                }
            }
            if later >= FOREVER {
                return None;
            }
            if later == start {
                return Some(start);
            }
            start = later;
        }
    }

    fn before(&self, index: usize) -> u32 {
        self.now.path[index]
    }

    fn after(&self, index: usize) -> u32 {
        self.now.path[index + 1]
    }

    fn to_job(&self, index: usize) -> Secs {
        self.table
            .walk(self.before(index), self.job.place)
            .min(NO_WAY)
    }

    fn detour(&self, index: usize) -> Secs {
        let there = self
            .to_job(index)
            .saturating_add(self.table.walk(self.job.place, self.after(index)));
        let straight = if self.now.visits.is_empty() {
            0
        } else {
            self.table.walk(self.before(index), self.after(index))
        };
        there.saturating_sub(straight)
    }

    /// A new run also needs its set-up and tear-down.
    fn set_up(&self) -> Secs {
        let worker = &self.solution.instance.workers[self.run];
        if self.now.visits.is_empty() {
            worker.set_up + worker.tear_down
        } else {
            0
        }
    }

    fn position(&self, begun: &Begun) -> Position {
        let (instance, prices) = (self.solution.instance, &self.solution.prices);
        let work = self.how.parts.iter().map(|p| p.length).sum();
        let load = self.now.ending.load;
        Position {
            guess: prices.guess(instance, self.run, load, work, begun.extra),
            run: self.run,
            at: begun.at,
        }
    }
}
