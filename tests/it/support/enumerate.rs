//! The lowest highest share of a tiny site, by trying everything: every split of the rooms, every order of their stops, a fill, a
//! dump or a break at every gap.
//!
//! A second opinion on the search: it is written from the rules alone and shares no timing with the program, only what is due and
//! how long walks take. Every stop starts as early as it can. Left out are doors, machines, duties, groups and rooms larger
//! than a bucket or a cart, which tiny sites here do not have.

use evenrun::site::{Calendar, Cart, Method, Moves, PlaceId, RoomId, Site, Worker, WorkerId};
use evenrun::units::{Clock, Seconds, Span};
use evenrun::walk::{Times, Walker};
use evenrun::work::{DueTask, due_on};
use jiff::civil::Date;
use std::cmp::Ordering;

/// One stop of a room.
#[derive(Clone, Copy, Default)]
struct Piece {
    seconds: i64,
    mops: bool,
    litres: f64,
    /// Not before so long after the previous piece ended; may be negative.
    lag: i64,
}

/// One room's work as one worker does it.
struct Room {
    place: PlaceId,
    pieces: Vec<Piece>,
    area: f64,
    restroom: bool,
    needs_cart: bool,
    open: Option<Vec<Span>>,
}

/// Least load for each set of rooms, by bits; `None` where the worker cannot do that set.
type Loads = Vec<Option<i64>>;

/// The shares, highest first, of the plan with everything done whose highest is lowest, then its second highest, and so on; by trying
/// everything that stays within `cap`. `None` if nothing does.
pub(crate) fn lowest_shares(site: &Site, date: Date, cap: f64) -> Option<Vec<f64>> {
    let calendar = Calendar::new(date, None);
    let rooms = rooms_due(site, date);
    let crew: Vec<(Loads, i64)> = (0..site.crew.len())
        .map(|w| loads_of(site, WorkerId::from(w), &rooms, &calendar, cap))
        .collect();
    split(&crew, (1 << rooms.len()) - 1)
}

/// The least time that everybody together is busy without cleaning or getting ready, in any plan with everything done; in seconds. `None` if there is none.
pub(crate) fn least_not_cleaning(site: &Site, date: Date) -> Option<i64> {
    let calendar = Calendar::new(date, None);
    let rooms = rooms_due(site, date);
    let ready = site.policy.set_up.0 + site.policy.tear_down.0;
    let spent = |index: usize| -> Loads {
        let id = WorkerId::from(index);
        let work = rooms.iter().map(|tasks| {
            let pieces = room(site, &site.crew[index], tasks, &calendar).pieces;
            pieces.iter().map(|p| p.seconds).sum::<i64>()
        });
        let work: Vec<i64> = work.collect();
        let (loads, _) = loads_of(site, id, &rooms, &calendar, 1.0);
        let of_set = |(set, load): (usize, Option<i64>)| {
            let in_set = work.iter().enumerate().filter(|(r, _)| set >> r & 1 == 1);
            let own: i64 = in_set.map(|(_, seconds)| seconds).sum();
            load.map(|load| if set == 0 { 0 } else { load - own - ready })
        };
        loads.into_iter().enumerate().map(of_set).collect()
    };
    let crew: Vec<Loads> = (0..site.crew.len()).map(spent).collect();
    least_together(&crew, (1 << rooms.len()) - 1)
}

fn least_together(crew: &[Loads], set: usize) -> Option<i64> {
    let Some((own, others)) = crew.split_first() else {
        return (set == 0).then_some(0);
    };
    let parts = (0..=set).filter(|part| part & !set == 0);
    let sums = parts.filter_map(|part| Some(own[part]? + least_together(others, set & !part)?));
    sums.min()
}

/// What is due, by room.
fn rooms_due(site: &Site, date: Date) -> Vec<Vec<DueTask>> {
    let due = due_on(site, date);
    let rooms = due.chunk_by(|a, b| a.room == b.room);
    rooms.map(<[DueTask]>::to_vec).collect()
}

/// The best split of a set of rooms over the rest of the crew.
fn split(crew: &[(Loads, i64)], set: usize) -> Option<Vec<f64>> {
    let Some(((loads, available), others)) = crew.split_first() else {
        return (set == 0).then(Vec::new);
    };
    let parts = (0..=set).filter(|part| part & !set == 0);
    let shares = parts.filter_map(|part| {
        let own = loads[part]? as f64 / *available as f64;
        let mut all = split(others, set & !part)?;
        all.push(own);
        all.sort_by(|a, b| b.total_cmp(a));
        Some(all)
    });
    shares.min_by(|a, b| a.partial_cmp(b).unwrap_or(Ordering::Equal))
}

fn loads_of(
    site: &Site,
    id: WorkerId,
    due: &[Vec<DueTask>],
    calendar: &Calendar,
    cap: f64,
) -> (Loads, i64) {
    let worker = &site.crew[id.index()];
    let rest: i64 = worker.breaks.iter().map(|b| b.length.0).sum();
    let available = worker.shift.length().0 - rest - site.policy.reserve.0;
    let mut best: Loads = vec![None; 1 << due.len()];
    best[0] = Some(0);
    for with_cart in [false, true] {
        let cart = match worker.moves {
            Moves::Cart(cart) if with_cart => Some(cart),
            _ if with_cart => continue,
            _ => None,
        };
        let walker = Walker::of(site, id, with_cart, calendar);
        let times = Times::between_places(site, &walker, calendar);
        let rooms = due
            .iter()
            .map(|tasks| room(site, worker, tasks, calendar))
            .collect();
        let most = (cap * available as f64 + 1e-6).floor() as i64;
        let mut trial = Trial {
            site,
            worker,
            cart,
            times,
            rooms,
            most,
            best: &mut best,
        };
        trial.try_everything();
    }
    (best, available)
}

/// The stops of a room, as the rules cut them.
fn room(site: &Site, worker: &Worker, tasks: &[DueTask], calendar: &Calendar) -> Room {
    let id: RoomId = tasks[0].room;
    let room = &site.rooms[id.index()];
    let time = |minutes: f64| Seconds::of_work(minutes, worker.pace).0;
    let (mut first, mut second) = (Piece::default(), Piece::default());
    let (mut wet_after, mut dwell, mut drying) = (0, 0, 0);
    for due in tasks {
        let seconds = time(due.minutes(site));
        let method = due.task(site).method;
        if method.step() <= 2 {
            first.seconds += seconds;
            first.litres += due.waste_litres(site);
        } else {
            second.seconds += seconds;
            second.litres += due.waste_litres(site);
        }
        match method {
            Method::Open => wet_after += seconds,
            Method::Spray { dwell: needed } => {
                wet_after += seconds;
                dwell = dwell.max(needed.0);
                second.seconds += time(due.wipe_minutes(site));
            }
            Method::Mop { drying: needed } => {
                second.mops = true;
                drying = drying.max(needed.0);
            }
            Method::Dry | Method::Wipe => {}
        }
    }
    let mut pieces = if dwell > 0 {
        second.lag = wet_after + dwell - first.seconds;
        vec![first, second]
    } else {
        vec![Piece {
            seconds: first.seconds + second.seconds,
            mops: second.mops,
            litres: first.litres + second.litres,
            lag: 0,
        }]
    };
    let kind = &site.kinds[room.kind.index()];
    pieces.extend(kind.reopen.map(|reopen| Piece {
        seconds: time(reopen.as_minutes()),
        lag: drying,
        ..Piece::default()
    }));
    Room {
        place: site.place_of_room(id),
        pieces,
        area: room.area.0,
        restroom: kind.restroom,
        needs_cart: tasks.iter().any(|t| t.needs_cart(site)),
        open: room.open.as_ref().map(|hours| calendar.windows(hours)),
    }
}

/// A run so far.
#[derive(Clone)]
struct Run {
    place: PlaceId,
    time: i64,
    load: i64,
    /// By room: pieces done, and when the last of them ended.
    done: Vec<(usize, i64)>,
    /// By break.
    rested: Vec<bool>,
    /// Area, rooms left, and whether it has been in a restroom, once used.
    bucket: Option<(f64, u32, Option<bool>)>,
    litres: f64,
    just_filled: bool,
}

/// One worker, one way of moving.
struct Trial<'a> {
    site: &'a Site,
    worker: &'a Worker,
    cart: Option<Cart>,
    times: Times,
    rooms: Vec<Room>,
    most: i64,
    best: &'a mut Loads,
}

impl Trial<'_> {
    fn try_everything(&mut self) {
        let set_up = self.site.policy.set_up.0;
        let start = Run {
            place: self.worker.start,
            time: self.worker.shift.from.0 + set_up,
            load: set_up,
            done: vec![(0, 0); self.rooms.len()],
            rested: vec![false; self.worker.breaks.len()],
            bucket: None,
            litres: 0.0,
            just_filled: false,
        };
        self.go_on(&start);
    }

    /// Tries everything that can come next.
    fn go_on(&mut self, run: &Run) {
        let end = self.worker.shift.to.0 + self.site.policy.overtime.0;
        if run.time > end || run.load > self.most {
            return;
        }
        self.go_home(run, end);
        for room in 0..self.rooms.len() {
            self.work(run, room)
                .iter()
                .for_each(|next| self.go_on(next));
        }
        for index in 0..self.worker.breaks.len() {
            self.rest(run, index)
                .iter()
                .for_each(|next| self.go_on(next));
        }
        if self.cart.is_some() {
            self.at_closets(run)
                .iter()
                .for_each(|next| self.go_on(next));
        }
    }

    /// Walks to a place.
    fn walk(&self, run: &Run, to: PlaceId) -> Option<Run> {
        let seconds = self.times.get(run.place, to)?.0;
        let mut next = run.clone();
        (next.time, next.load, next.place) = (run.time + seconds, run.load + seconds, to);
        next.just_filled = false;
        Some(next)
    }

    fn go_home(&mut self, run: &Run, end: i64) {
        let begun = |i: &usize| run.done[*i].0 > 0;
        let whole = |i: usize| run.done[i].0 == self.rooms[i].pieces.len();
        let set: Vec<usize> = (0..self.rooms.len()).filter(begun).collect();
        let needs_cart = set.iter().any(|i| self.rooms[*i].needs_cart);
        let settled = set.iter().all(|i| whole(*i)) && run.rested.iter().all(|r| *r);
        if set.is_empty() || !settled || run.litres > 0.0 || needs_cart != self.cart.is_some() {
            return;
        }
        let Some(home) = self.walk(run, self.worker.start) else {
            return;
        };
        let tear_down = self.site.policy.tear_down.0;
        let load = home.load + tear_down;
        if home.time + tear_down <= end && load <= self.most {
            let best = &mut self.best[set.iter().fold(0, |bits, i| bits | 1 << i)];
            *best = Some(best.map_or(load, |known| known.min(load)));
        }
    }

    /// The next piece of a room.
    fn work(&self, run: &Run, index: usize) -> Option<Run> {
        let room = &self.rooms[index];
        let (count, ended) = run.done[index];
        let piece = *room.pieces.get(count)?;
        if room.needs_cart && self.cart.is_none() {
            return None;
        }
        let mut next = self.walk(run, room.place)?;
        let arrival = next.time;
        let lag_end = if count > 0 {
            ended + piece.lag
        } else {
            arrival
        };
        let from = begins(room.open.as_deref(), arrival.max(lag_end), piece.seconds)?;
        if count > 0 {
            // Staying only to wait for the room is load; waiting for its hours is not.
            next.load += (from.min(lag_end) - arrival).max(0);
        }
        next.time = from + piece.seconds;
        next.load += piece.seconds;
        next.done[index] = (count + 1, next.time);
        if piece.mops {
            let (area, rooms, class) = next.bucket?;
            let fits =
                area + 1e-9 >= room.area && rooms > 0 && class.is_none_or(|c| c == room.restroom);
            next.bucket = Some((area - room.area, rooms.checked_sub(1)?, Some(room.restroom)));
            fits.then_some(())?;
        }
        next.litres += piece.litres;
        let within = self
            .cart
            .is_none_or(|cart| next.litres <= cart.waste.0 + 1e-9);
        within.then_some(next)
    }

    fn rest(&self, run: &Run, index: usize) -> Option<Run> {
        let rest = &self.worker.breaks[index];
        let place = rest.place.unwrap_or(self.worker.start);
        if run.rested[index] {
            return None;
        }
        let mut next = self.walk(run, place)?;
        let from = next.time.max(rest.window.from.0);
        next.time = from + rest.length.0;
        next.rested[index] = true;
        (next.time <= rest.window.to.0).then_some(next)
    }

    /// A fill or a dump at every closet, unless that is what was just done.
    fn at_closets(&self, run: &Run) -> Vec<Run> {
        let mut all = Vec::new();
        let ahead = self
            .rooms
            .iter()
            .zip(&run.done)
            .flat_map(|(r, (done, _))| &r.pieces[*done..]);
        if !run.just_filled && ahead.into_iter().any(|p| p.mops) {
            let fill = |point| Some(self.filled(self.walk(run, point)?));
            all.extend(self.site.fill_points().filter_map(fill));
        }
        if run.litres > 0.0 {
            let dump = |point| Some(self.dumped(self.walk(run, point)?, run.just_filled));
            all.extend(self.site.waste_points().filter_map(dump));
        }
        all
    }

    fn filled(&self, mut run: Run) -> Run {
        let seconds = self.site.policy.fill.0;
        (run.time, run.load) = (run.time + seconds, run.load + seconds);
        run.bucket = self.cart.map(|c| (c.bucket.0, c.bucket_rooms, None));
        run.just_filled = true;
        run
    }

    /// Another fill right after a dump right after a fill would be one too many.
    fn dumped(&self, mut run: Run, just_filled: bool) -> Run {
        let seconds = self.site.policy.dump.0;
        (run.time, run.load) = (run.time + seconds, run.load + seconds);
        run.litres = 0.0;
        run.just_filled = just_filled;
        run
    }
}

/// The first moment from `earliest` on at which so many seconds fit into one window.
fn begins(windows: Option<&[Span]>, earliest: i64, seconds: i64) -> Option<i64> {
    let Some(windows) = windows else {
        return Some(earliest);
    };
    let starts = windows
        .iter()
        .map(|w| Span::new(w.from.max(Clock(earliest)), w.to));
    starts
        .filter(|s| s.from.0 + seconds <= s.to.0)
        .map(|s| s.from.0)
        .min()
}
