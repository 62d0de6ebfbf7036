//! The best plan of a tiny site by trying all of them: every way of sharing out the rooms, every order of stops, every fill, dump
//! and break at every moment and place.
//!
//! Written from the rules alone, without any code of the program. Stops start as early as their order allows: who waits
//! on purpose elsewhere could let a floor dry meanwhile and call that waiting idle, which no plan is meant to do.

use super::tiny::{Spot, Tiny, TinyCart, TinyRoom, TinyWorker, Window};

/// Before every plan; its negative is after every plan.
const LONG_AGO: i64 = -1_000_000_000;

/// The best that is possible.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Optimum {
    /// Shares in whole bands, rounded up, highest first, of the plan whose are the smallest, compared from the front.
    pub(super) bands: Vec<i64>,
    /// The lowest highest share, not rounded.
    pub(super) highest: f64,
}

/// How many bands of two thousandths of `available` a load fills, the last one counted whole.
pub(super) fn bands(load: i64, available: i64) -> i64 {
    (load * 500).div_euclid(available) + i64::from((load * 500).rem_euclid(available) > 0)
}

/// The optimum over all ways of sharing out the rooms; `None` if not everything can be done.
pub(super) fn optimum(tiny: &Tiny) -> Option<Optimum> {
    let sets = 1usize << tiny.rooms.len();
    let loads = |worker: &TinyWorker| -> Vec<Option<i64>> {
        (0..sets).map(|set| least_load(tiny, worker, set)).collect()
    };
    let tables: Vec<Vec<Option<i64>>> = tiny.workers.iter().map(loads).collect();
    let [first, second] = tables.as_slice() else {
        panic!("two workers share a tiny site");
    };
    let mut best: Option<Optimum> = None;
    for set in 0..sets {
        let (Some(a), Some(b)) = (first[set], second[sets - 1 - set]) else {
            continue;
        };
        let pairs = [
            (a, tiny.workers[0].available()),
            (b, tiny.workers[1].available()),
        ];
        let mut full: Vec<i64> = pairs.iter().map(|(l, a)| bands(*l, *a)).collect();
        full.sort_unstable_by(|a, b| b.cmp(a));
        let highest = pairs
            .iter()
            .map(|(l, a)| *l as f64 / *a as f64)
            .fold(0.0, f64::max);
        best = Some(match best {
            None => Optimum {
                bands: full,
                highest,
            },
            Some(so_far) => Optimum {
                bands: so_far.bands.min(full),
                highest: so_far.highest.min(highest),
            },
        });
    }
    best
}

/// The least load with which a worker does exactly these rooms; `None` if there is no way.
fn least_load(tiny: &Tiny, worker: &TinyWorker, set: usize) -> Option<i64> {
    if set == 0 {
        return Some(0);
    }
    let rooms: Vec<&TinyRoom> = (0..tiny.rooms.len())
        .filter(|i| set >> i & 1 == 1)
        .map(|i| &tiny.rooms[i])
        .collect();
    let with_cart = rooms
        .iter()
        .any(|r| r.work.mop.is_some() || r.work.waste > 0);
    if with_cart && worker.cart.is_none() {
        return None;
    }
    let run = Run {
        tiny,
        worker,
        with_cart,
        rooms,
    };
    let mut least = None;
    run.go_on(&run.beginning(), &mut least);
    least
}

/// One worker with some rooms.
struct Run<'a> {
    tiny: &'a Tiny,
    worker: &'a TinyWorker,
    with_cart: bool,
    rooms: Vec<&'a TinyRoom>,
}

/// How far a run has got.
#[derive(Clone, Debug)]
struct State {
    at: Spot,
    time: i64,
    load: i64,
    rooms: Vec<Progress>,
    bucket: Bucket,
    waste: i64,
    breaks_taken: Vec<bool>,
}

#[derive(Clone, Copy, Debug, Default)]
struct Progress {
    /// Stops done.
    stops: usize,
    /// The next stop starts at or after this.
    ready: i64,
    /// The closure window chosen.
    closure: Option<Window>,
}

/// Square metres and rooms left, and whether it served restrooms; unused if that is not known.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Bucket {
    area: i64,
    rooms: i64,
    restroom: Option<bool>,
}

impl Bucket {
    fn full(cart: TinyCart) -> Bucket {
        Bucket {
            area: cart.bucket,
            rooms: cart.bucket_rooms,
            restroom: None,
        }
    }

    /// What is left after mopping; `None` if the water is not enough or the wrong one.
    fn mop(self, cart: TinyCart, area: i64, restroom: bool) -> Option<Bucket> {
        let buckets = trips(area, cart.bucket) + 1;
        let left = Bucket {
            area: self.area.max(0) + (buckets - 1) * cart.bucket - area,
            rooms: self.rooms - 1,
            restroom: Some(restroom),
        };
        let fits = if buckets == 1 {
            self.restroom.is_none_or(|used| used == restroom)
        } else {
            self == Bucket::full(cart)
        };
        (fits && left.area >= 0 && left.rooms >= 0).then_some(left)
    }
}

/// Trips in the middle of a stop.
fn trips(amount: i64, capacity: i64) -> i64 {
    ((amount + capacity - 1) / capacity - 1).max(0)
}

/// One stop of a room, before anything about its start is known.
struct Stop {
    length: i64,
    /// From its start to the earliest start of the next one.
    next_after: i64,
    mops: bool,
    waste: i64,
}

impl Run<'_> {
    fn beginning(&self) -> State {
        State {
            at: (0, 0),
            time: self.worker.shift.0 + self.tiny.set_up,
            load: self.tiny.set_up,
            rooms: vec![
                Progress {
                    ready: LONG_AGO,
                    ..Progress::default()
                };
                self.rooms.len()
            ],
            bucket: Bucket::default(),
            waste: 0,
            breaks_taken: vec![false; self.worker.breaks.len()],
        }
    }

    /// Tries everything that can come next.
    fn go_on(&self, state: &State, least: &mut Option<i64>) {
        if state.time > self.worker.shift.1 || least.is_some_and(|l| state.load >= l) {
            return;
        }
        for room in 0..self.rooms.len() {
            self.work(state, room, least);
        }
        if let Some(cart) = self.worker.cart.filter(|_| self.with_cart) {
            self.fill(state, cart, least);
            self.dump(state, least);
        }
        for index in 0..self.worker.breaks.len() {
            self.rest(state, index, least);
        }
        self.go_home(state, least);
    }

    fn walked(&self, state: &State, to: Spot) -> State {
        let walk = self.tiny.walk(self.with_cart, state.at, to);
        State {
            at: to,
            time: state.time + walk,
            load: state.load + walk,
            ..state.clone()
        }
    }

    fn seconds(&self, at_pace_one: i64) -> i64 {
        (at_pace_one as f64 / self.worker.pace - 1e-6).ceil() as i64
    }

    /// The stops of a room.
    fn stops(&self, room: &TinyRoom) -> Vec<Stop> {
        let (work, dry) = (&room.work, self.seconds(room.work.dry));
        let [mopping, drying] = work.mop.unwrap_or_default();
        let mop_trips = if work.mop.is_some() {
            self.trips(room, room.area, |c| c.bucket, self.tiny.fill)
        } else {
            0
        };
        let waste_trips = self.trips(room, work.waste, |c| c.waste, self.tiny.dump);
        let mop = self.seconds(mopping) + mop_trips;
        let last = |length: i64, waste: i64| Stop {
            length,
            next_after: length + drying,
            mops: work.mop.is_some(),
            waste,
        };
        let mut stops = match work.spray {
            None => vec![last(dry + waste_trips + mop, work.waste)],
            Some([spraying, wiping, dwell]) => {
                let spraying = self.seconds(spraying);
                let length = spraying + dry + waste_trips;
                let wet = Stop {
                    length,
                    next_after: spraying + dwell,
                    mops: false,
                    waste: work.waste,
                };
                vec![wet, last(self.seconds(wiping) + mop, 0)]
            }
        };
        if let Some(reopen) = work.reopen {
            stops.push(Stop {
                length: self.seconds(reopen),
                next_after: 0,
                mops: false,
                waste: 0,
            });
        }
        stops
    }

    fn trips(
        &self,
        room: &TinyRoom,
        amount: i64,
        capacity: impl Fn(TinyCart) -> i64,
        handling: i64,
    ) -> i64 {
        let Some(cart) = self.worker.cart else {
            return 0;
        };
        let round = |c: &Spot| 2 * self.tiny.walk(true, room.spot, *c);
        let nearest = self.tiny.closets.iter().map(round).min().unwrap_or(0);
        trips(amount, capacity(cart)) * (nearest + handling)
    }

    /// The next stop of a room, in each closure window it may begin in.
    fn work(&self, state: &State, index: usize, least: &mut Option<i64>) {
        let (room, progress) = (self.rooms[index], state.rooms[index]);
        let stops = self.stops(room);
        let Some(stop) = stops.get(progress.stops) else {
            return;
        };
        let closes = room.work.reopen.is_some();
        let always = vec![(LONG_AGO, -LONG_AGO)];
        let closures = match (progress.closure, &room.closure) {
            (Some(chosen), _) => vec![chosen],
            (None, Some(closures)) if closes => closures.clone(),
            _ => always.clone(),
        };
        let mut next = self.walked(state, room.spot);
        let arrival = next.time;
        if !self.carries(&mut next, room, stop) {
            return;
        }
        for closure in closures {
            let earliest = arrival.max(progress.ready).max(closure.0);
            let opens = room.open.as_ref().unwrap_or(&always).iter();
            let start = opens
                .map(|w| (w.0.max(earliest), w.1))
                .filter(|(s, to)| s + stop.length <= *to)
                .map(|(s, _)| s)
                .min();
            let Some(start) = start.filter(|s| s + stop.length <= closure.1) else {
                continue;
            };
            let attended = (start.min(progress.ready) - arrival).max(0);
            let mut after = next.clone();
            after.time = start + stop.length;
            after.load += attended + stop.length;
            after.rooms[index] = Progress {
                stops: progress.stops + 1,
                ready: start + stop.next_after,
                closure: Some(closure),
            };
            self.go_on(&after, least);
        }
    }

    /// Water and waste of a stop. False if the bucket or the cart is not fit for it.
    fn carries(&self, next: &mut State, room: &TinyRoom, stop: &Stop) -> bool {
        let Some(cart) = self.worker.cart else {
            return true;
        };
        if stop.mops {
            match next.bucket.mop(cart, room.area, room.work.restroom) {
                Some(bucket) => next.bucket = bucket,
                None => return false,
            }
        }
        let trips = trips(stop.waste, cart.waste);
        let fits = trips == 0 || next.waste == 0;
        next.waste += stop.waste - trips * cart.waste;
        fits && next.waste <= cart.waste
    }

    fn fill(&self, state: &State, cart: TinyCart, least: &mut Option<i64>) {
        let mops_left = |(room, progress): (&&TinyRoom, &Progress)| {
            room.work.mop.is_some() && progress.stops <= usize::from(room.work.spray.is_some())
        };
        if state.bucket == Bucket::full(cart) || !self.rooms.iter().zip(&state.rooms).any(mops_left)
        {
            return;
        }
        for closet in &self.tiny.closets {
            let mut next = self.walked(state, *closet);
            next.time += self.tiny.fill;
            next.load += self.tiny.fill;
            next.bucket = Bucket::full(cart);
            self.go_on(&next, least);
        }
    }

    fn dump(&self, state: &State, least: &mut Option<i64>) {
        if state.waste == 0 {
            return;
        }
        for closet in &self.tiny.closets {
            let mut next = self.walked(state, *closet);
            next.time += self.tiny.dump;
            next.load += self.tiny.dump;
            next.waste = 0;
            self.go_on(&next, least);
        }
    }

    fn rest(&self, state: &State, index: usize, least: &mut Option<i64>) {
        let rest = self.worker.breaks[index];
        if state.breaks_taken[index] {
            return;
        }
        for place in &self.tiny.break_places {
            let mut next = self.walked(state, *place);
            next.time = next.time.max(rest.window.0) + rest.length;
            next.breaks_taken[index] = true;
            if next.time <= rest.window.1 {
                self.go_on(&next, least);
            }
        }
    }

    fn go_home(&self, state: &State, least: &mut Option<i64>) {
        let all_done = self
            .rooms
            .iter()
            .zip(&state.rooms)
            .all(|(r, p)| p.stops == self.stops(r).len());
        if !all_done || state.waste > 0 || state.breaks_taken.contains(&false) {
            return;
        }
        let home = self.walked(state, (0, 0));
        let (time, load) = (
            home.time + self.tiny.tear_down,
            home.load + self.tiny.tear_down,
        );
        if time <= self.worker.shift.1 && least.is_none_or(|l| load < l) {
            *least = Some(load);
        }
    }
}
