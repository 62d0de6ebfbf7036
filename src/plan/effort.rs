//! How hard a run is beyond its minutes: wet work, restrooms, stairs, distance, waste and heavy work. Reported, never optimised.
//!
//! | figure | what is counted |
//! |---|---|
//! | wet | time for spraying, damp wiping and mopping, and for filling buckets |
//! | restrooms | time of stops in rooms of a kind that counts as a restroom, reopening included |
//! | steps up | steps of stairs climbed between stops; going down and lifts are not counted |
//! | metres | walked between stops, on the level; trips in the middle of a stop and stairs are not counted |
//! | waste | litres collected; a site does not say what they weigh |
//! | heavy | time for tasks marked heavy |

use super::reading::{ReadRun, Reading};
use super::{Plan, ReadWalks, What};
use crate::site::{Method, Site, WayKind, WorkerId};
use crate::units::{Metres, Seconds};
use crate::walk::{Leg, Path, Paths, Walker};

/// The hard work of one run, or of several of one worker.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Effort {
    /// Spraying, damp wiping, mopping, filling.
    pub wet: Seconds,
    /// In restrooms.
    pub restrooms: Seconds,
    /// Steps climbed.
    pub steps_up: u64,
    /// Walked on the level.
    pub walked: Metres,
    /// Waste collected, in litres.
    pub waste_litres: f64,
    /// Tasks marked heavy.
    pub heavy: Seconds,
}

impl Effort {
    /// The figures as plain numbers, in the order of [`Effort::NAMES`]: minutes, steps, metres, litres.
    pub fn figures(&self) -> [f64; 6] {
        [
            self.wet.as_minutes(),
            self.restrooms.as_minutes(),
            self.steps_up as f64,
            self.walked.0,
            self.waste_litres,
            self.heavy.as_minutes(),
        ]
    }

    /// What the figures are called in files.
    pub const NAMES: [&'static str; 6] = [
        "wet_minutes",
        "restroom_minutes",
        "steps_up",
        "metres",
        "waste_l",
        "heavy_minutes",
    ];

    /// Together with another.
    #[must_use]
    pub fn and(self, other: Effort) -> Effort {
        Effort {
            wet: self.wet + other.wet,
            restrooms: self.restrooms + other.restrooms,
            steps_up: self.steps_up + other.steps_up,
            walked: Metres(self.walked.0 + other.walked.0),
            waste_litres: self.waste_litres + other.waste_litres,
            heavy: self.heavy + other.heavy,
        }
    }
}

/// The efforts of a plan's runs, in its order.
///
/// # Complexity
/// One shortest path for every stop.
pub fn efforts(site: &Site, plan: &Plan) -> Vec<(WorkerId, Effort)> {
    efforts_with(site, plan, &mut ReadWalks::default())
}

/// The same with walks that are known already.
pub(crate) fn efforts_with(
    site: &Site,
    plan: &Plan,
    walks: &mut ReadWalks,
) -> Vec<(WorkerId, Effort)> {
    let reading = Reading::again(site, plan, walks);
    let of_run = |run: &ReadRun| {
        let walker = Walker::of(site, run.id, run.cart.is_some(), &reading.calendar);
        let paths = Paths::of(site, &walker, &reading.calendar);
        (run.id, effort(site, run, &paths))
    };
    reading.runs.iter().map(of_run).collect()
}

fn effort(site: &Site, run: &ReadRun, paths: &Paths) -> Effort {
    let mut all = Effort::default();
    for stop in run.stops {
        if stop.what == What::Fill {
            all.wet += stop.span.length();
        }
        for task in stop.what.tasks() {
            let time = run.task_time(&stop.what, *task);
            let need = task.task(site);
            if matches!(
                need.method,
                Method::Spray { .. } | Method::Wipe | Method::Mop { .. }
            ) {
                all.wet += time;
            }
            if need.heavy {
                all.heavy += time;
            }
        }
        let is_restroom = stop
            .what
            .room()
            .is_some_and(|room| site.kinds[site.rooms[room.index()].kind.index()].restroom);
        if is_restroom {
            all.restrooms += stop.span.length();
        }
        all.waste_litres += run.waste(stop);
    }
    for pair in run.stops.windows(2) {
        if let Some(path) = paths.between(pair[0].place, pair[1].place) {
            all.walked = Metres(all.walked.0 + path.distance.0);
            all.steps_up += steps_up(site, &path);
        }
    }
    all
}

fn steps_up(site: &Site, path: &Path) -> u64 {
    let climbed = |leg: &Leg| -> u64 {
        let Leg::Way { way, from, to } = leg else {
            return 0;
        };
        let way = &site.ways[*way];
        let WayKind::Stairs { steps, .. } = &way.kind else {
            return 0;
        };
        let floor = |landing: usize| site.halls[way.landings[landing].hall.index()].floor;
        if floor(*to) <= floor(*from) {
            return 0;
        }
        let flights = &steps[*from.min(to)..*from.max(to)];
        flights.iter().map(|s| u64::from(*s)).sum()
    };
    path.legs.iter().map(climbed).sum()
}
