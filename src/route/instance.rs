//! The dense, integer, immutable problem that the search crunches. It knows nothing of files.
//!
//! Times are `i32` seconds since midnight or lengths in seconds (a plan spans under three days, so below 300,000);
//! floor area is in thousandths of a square metre and waste in thousandths of a litre, both rounded so that no rule is
//! ever broken by rounding.

use super::before::Before;
use itertools::Itertools;

/// Seconds, as length or as time since midnight.
pub type Secs = i32;

/// No way from here to there.
pub const NO_WAY: Secs = i32::MAX / 4;

/// A moment after every plan.
pub const FOREVER: Secs = i32::MAX / 4;

/// What the search is after, once as little as possible is left undone.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Goal {
    /// Even shares first, then little time not spent cleaning: a crew's plan.
    #[default]
    Even,
    /// Little walking over all runs together, whoever walks it: the vehicle routing problem of the literature.
    Shortest,
}

/// The whole problem.
#[derive(Clone, Debug)]
pub struct Instance {
    /// What is wanted.
    pub goal: Goal,
    /// Walking times, one table for each way of walking.
    pub walks: Vec<WalkTable>,
    /// The workers present.
    pub workers: Vec<Worker>,
    /// What is to be done.
    pub jobs: Vec<Job>,
    /// How each profile of worker does each job: `scopes[profile][job]`.
    pub scopes: Vec<Vec<Vec<Scope>>>,
    /// At most so many at once: closure groups and exit pairs.
    pub limits: Vec<Limit>,
    /// Machine kinds.
    pub machines: Vec<Machine>,
    /// Changing and filling a bucket.
    pub fill: Secs,
    /// Emptying a cart.
    pub dump: Secs,
    /// Fetching or bringing back a machine.
    pub fetch: Secs,
    /// Whether carts are emptied at the end of a run only, at no cost, and not on the way.
    pub waste_home: bool,
    /// Shares are compared in multiples of this fraction of available time, in millionths.
    pub band_ppm: i64,
    /// What there was before.
    pub before: Before,
}

/// Walking seconds between places for one way of walking, and where to fill and dump between two places.
#[derive(Clone, Debug)]
pub struct WalkTable {
    places: usize,
    seconds: Vec<Secs>,
    /// The same by destination: what leads to one place lies side by side.
    reversed: Vec<Secs>,
    fill_between: Vec<u16>,
    dump_between: Vec<u16>,
}

/// Marks a pair of places between which no fill or waste point can be reached.
const NOWHERE: u16 = u16::MAX;

impl WalkTable {
    /// From a row-major table and the places of fill and waste points.
    ///
    /// # Complexity
    /// `places²` times how many fill or waste points lie nearer to a place than the best one for the pair, all of them at worst; in parallel by rows.
    pub fn new(
        places: usize,
        seconds: Vec<Secs>,
        fill_points: &[u32],
        waste_points: &[u32],
    ) -> WalkTable {
        let row = |from: usize| &seconds[from * places..(from + 1) * places];
        let between = |points: &[u32]| {
            use rayon::prelude::*;
            let all = (0..places).into_par_iter();
            let nearest: Vec<_> = all
                .map(|to| nearest_first(points, |point| row(point)[to]))
                .collect();
            let all = (0..places).into_par_iter();
            let rows = all.map(|from| best_between(row(from), points, &nearest));
            rows.collect::<Vec<_>>().concat()
        };
        let (fill_between, dump_between) = (between(fill_points), between(waste_points));
        let column = |to: usize| seconds.iter().skip(to).step_by(places.max(1)).copied();
        WalkTable {
            places,
            reversed: (0..places).flat_map(column).collect(),
            seconds,
            fill_between,
            dump_between,
        }
    }

    /// Walking seconds; [`NO_WAY`] if there is none.
    #[inline]
    pub fn walk(&self, from: u32, to: u32) -> Secs {
        self.seconds[from as usize * self.places + to as usize]
    }

    /// Walking seconds from one place to every place.
    #[inline]
    pub(super) fn away_from(&self, place: u32) -> &[Secs] {
        let first = place as usize * self.places;
        &self.seconds[first..first + self.places]
    }

    /// Walking seconds to one place from every place.
    #[inline]
    pub(super) fn towards(&self, place: u32) -> &[Secs] {
        let first = place as usize * self.places;
        &self.reversed[first..first + self.places]
    }

    /// The fill point with the shortest detour between two places.
    #[inline]
    pub fn fill_between(&self, from: u32, to: u32) -> Option<u32> {
        let point = self.fill_between[from as usize * self.places + to as usize];
        (point != NOWHERE).then_some(u32::from(point))
    }

    /// The waste point with the shortest detour between two places.
    #[inline]
    pub fn dump_between(&self, from: u32, to: u32) -> Option<u32> {
        let point = self.dump_between[from as usize * self.places + to as usize];
        (point != NOWHERE).then_some(u32::from(point))
    }
}

/// Points with the walk from each to one place, nearest first.
fn nearest_first(points: &[u32], walk: impl Fn(usize) -> Secs) -> Vec<(Secs, u16)> {
    let walks = points.iter().map(|p| (walk(*p as usize), *p as u16));
    walks.sorted_unstable().collect()
}

/// For every place the point with the shortest detour from one place, whose walks are `row`; among equals the first.
fn best_between(row: &[Secs], points: &[u32], nearest: &[Vec<(Secs, u16)>]) -> Vec<u16> {
    let least = points.iter().map(|p| row[*p as usize]).min().unwrap_or(0);
    let best = |onwards: &Vec<(Secs, u16)>| {
        let mut best = (NO_WAY, NOWHERE);
        for (on, point) in onwards {
            // What lies farther from there is no better, however near it lies to here.
            if least.saturating_add(*on) > best.0 {
                break;
            }
            let via = (row[usize::from(*point)].saturating_add(*on), *point);
            if via.0 < NO_WAY {
                best = best.min(via);
            }
        }
        best.1
    };
    nearest.iter().map(best).collect()
}

/// A worker's shift, breaks and bucket.
#[derive(Clone, Debug)]
pub struct Worker {
    /// Table that holds on foot.
    pub on_foot: usize,
    /// Table that holds with the cart; `None` without one.
    pub with_cart: Option<usize>,
    /// Which profile does the jobs.
    pub profile: usize,
    /// Where runs start and end.
    pub start: u32,
    /// When the shift starts.
    pub from: Secs,
    /// When the shift ends, overtime not counted.
    pub to: Secs,
    /// When the run must be over, overtime counted.
    pub latest: Secs,
    /// When the run must be over if someone else locks up.
    pub latest_unless_last: Secs,
    /// Getting ready.
    pub set_up: Secs,
    /// Putting away.
    pub tear_down: Secs,
    /// Shift less breaks and reserve; at least 1.
    pub available: Secs,
    /// In order of their windows.
    pub breaks: Vec<Break>,
    /// Floor one fill mops.
    pub bucket: i32,
    /// Rooms one fill serves.
    pub bucket_rooms: u8,
    /// Waste the cart holds.
    pub cart: i32,
}

/// A break: whole, inside its window.
#[derive(Clone, Debug)]
pub struct Break {
    /// Which of the worker's breaks it is.
    pub index: usize,
    /// How long.
    pub length: Secs,
    /// Not before.
    pub from: Secs,
    /// Begun at the latest.
    pub latest: Secs,
    /// Where it may be taken.
    pub places: Vec<u32>,
}

/// A job and where and when it may be done.
#[derive(Clone, Debug)]
pub struct Job {
    /// Where.
    pub place: u32,
    /// The floor it is on, for counting floors of a run.
    pub floor: u32,
    /// Stops lie inside one of these, sorted.
    pub windows: Vec<(Secs, Secs)>,
    /// The closure lies inside one of these, sorted; `None` if the room is not closed.
    pub closure: Option<Vec<(Secs, Secs)>>,
    /// Limits on being closed.
    pub closed_limits: Vec<u16>,
    /// Limits on being wet.
    pub wet_limits: Vec<u16>,
    /// Whether water used here is used nowhere else.
    pub restroom: bool,
    /// Whether it must be the last of its run, after everyone else's end (as planned: not before `not_before`).
    pub last: bool,
    /// Earliest start, for a job that waits for others' ends.
    pub not_before: Secs,
    /// Seconds at pace 1 left undone at each scope, by priority; `undone[0]` is all of it, the last is zero.
    pub undone: Vec<[i64; 3]>,
    /// Who may do it, by worker.
    pub eligible: Vec<bool>,
    /// Small costs that break ties: by worker, 0 is welcome.
    pub dislike: Vec<i32>,
    /// A job that must be over before this starts.
    pub after: Option<u32>,
    /// A job that must not start before this is over.
    pub before: Option<u32>,
}

impl Job {
    /// A job of one stop, done or not, inside one window, that any of so many workers may do and nothing else limits.
    pub fn simple(place: u32, window: (Secs, Secs), workers: usize) -> Job {
        Job {
            place,
            floor: 0,
            windows: vec![window],
            closure: None,
            closed_limits: Vec::new(),
            wet_limits: Vec::new(),
            restroom: false,
            last: false,
            not_before: -FOREVER,
            undone: vec![[1, 0, 0], [0; 3]],
            eligible: vec![true; workers],
            dislike: vec![0; workers],
            after: None,
            before: None,
        }
    }

    /// The scope at which everything is done.
    #[inline]
    pub fn full(&self) -> u8 {
        (self.undone.len() - 1) as u8
    }
}

/// How a profile does a job when only its first so many tasks are done.
#[derive(Clone, Debug, Default)]
pub struct Scope {
    /// One to three parts; none if nothing is done.
    pub parts: Vec<Part>,
    /// Whether it needs the cart.
    pub cart: bool,
    /// Machines needed, by bit.
    pub machines: u32,
    /// Shortest time from the start of the first part to the end of the last.
    pub closed: Secs,
    /// Whether this profile can do it at all.
    pub possible: bool,
}

/// One stop.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Part {
    /// Its length.
    pub length: Secs,
    /// How much of it is fill and dump trips inside the stop.
    pub trips: Secs,
    /// At least so long after the end of the part before it.
    pub lag: Secs,
    /// Floor mopped; 0 is none.
    pub mop: i32,
    /// Whether what is mopped needs more than one bucket: a fresh one on arrival, `mop_left` left afterwards.
    pub mop_left: Option<i32>,
    /// Waste picked up.
    pub waste: i32,
    /// Whether the waste is more than the cart holds: an empty cart on arrival, this much in it afterwards.
    pub waste_left: Option<i32>,
    /// Wet from so long before its end; 0 with no drying is never wet.
    pub wet_before: Secs,
    /// Until so long after.
    pub wet_after: Secs,
}

/// At most so many at once.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limit {
    /// How many.
    pub capacity: i32,
}

/// A machine kind.
#[derive(Clone, Copy, Debug)]
pub struct Machine {
    /// How many runs may have one.
    pub units: u32,
    /// Where it stands.
    pub place: u32,
}

impl Instance {
    /// Whether the order of a run alone decides what it costs, and its times only whether it is possible: jobs of one part, without
    /// water, closing, machines, breaks or links between runs. Such runs are judged from forward and backward summaries,
    /// all others by exact timing.
    pub(super) fn is_plain(&self) -> bool {
        let one_stop = |how: &Scope| {
            let bare = |p: &Part| {
                Part {
                    length: 0,
                    waste: 0,
                    ..*p
                } == Part::default()
            };
            how.parts.len() <= 1 && how.machines == 0 && how.parts.iter().all(bare)
        };
        let free = |job: &Job| {
            job.closure.is_none()
                && !job.last
                && job.not_before == -FOREVER
                && job.after.is_none()
                && job.before.is_none()
        };
        let one_way = |w: &Worker| w.with_cart.is_none_or(|table| table == w.on_foot);
        let no_waste = || {
            let mut parts = self
                .scopes
                .iter()
                .flatten()
                .flatten()
                .flat_map(|s| &s.parts);
            parts.all(|p| p.waste == 0)
        };
        self.before.begun.is_empty()
            && !self.before.is_known()
            && self.scopes.iter().flatten().flatten().all(one_stop)
            && self.jobs.iter().all(free)
            && (self.workers.iter()).all(|w| w.breaks.is_empty() && one_way(w))
            && (self.waste_home || no_waste())
    }

    /// The same work for so many workers who are all like the first; none, without one.
    pub fn be_alike(&mut self, people: usize) {
        let first = self.workers.first().cloned();
        self.workers = first.into_iter().cycle().take(people).collect();
        let people = self.workers.len();
        for job in &mut self.jobs {
            let (eligible, dislike) = (job.eligible.first(), job.dislike.first());
            job.eligible = vec![eligible.copied().unwrap_or(false); people];
            job.dislike = vec![dislike.copied().unwrap_or(0); people];
        }
    }

    /// How a worker does a job at a scope.
    #[inline]
    pub fn scope(&self, worker: usize, job: u32, scope: u8) -> &Scope {
        &self.scopes[self.workers[worker].profile][job as usize][usize::from(scope)]
    }

    /// Shortest attended work of a job at a scope for a worker, stops only.
    pub fn work(&self, worker: usize, job: u32, scope: u8) -> Secs {
        self.scope(worker, job, scope)
            .parts
            .iter()
            .map(|p| p.length)
            .sum()
    }
}
