//! When each stop of a run takes place: every rule that a run must keep, in one forward sweep over its order.
//!
//! A run starts each stop as early as it may. At every stop the sweep keeps the few [`Label`]s that may still lead to the
//! best ending. Other runs' closures, wet floors and connected jobs stand still meanwhile and are kept clear of.
//!
//! # Complexity
//! Linear in the stops, times the labels kept at each, times the choices in a gap (at most a dozen).

use super::between::Via;
use super::instance::{FOREVER, Instance, Job, NO_WAY, Part, Secs, WalkTable, Worker};
use super::label::{Gap, LABELS, Label, MANY_LABELS, Pending, Water, Wet, keep};
use super::limits::Holds;
use super::order::{Facts, Order, ToCome, Visit};

/// What a run must keep clear of: what the other runs hold, and when they do jobs that must come before or after its own.
#[derive(Clone, Copy, Debug)]
pub(super) struct Others<'a> {
    pub(super) holds: &'a Holds,
    /// By job, from when to when it is done in the plan as it stands; `None` if it is not.
    pub(super) done: &'a [Option<(Secs, Secs)>],
    /// Which run is being timed.
    pub(super) run: usize,
}

/// How a run ends.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Ending {
    pub(super) load: Secs,
    pub(super) idle: Secs,
    pub(super) closed: Secs,
    pub(super) end: Secs,
    /// Change against the plan before by stops that moved, in points.
    pub(super) moved: i32,
}

/// Something that happens in a run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Event {
    /// Getting ready.
    SetUp,
    /// A part of a job, by index in the run's order.
    Visit(usize),
    /// Filling the bucket.
    Fill,
    /// Emptying the cart.
    Dump,
    /// Fetching a machine.
    Fetch(usize),
    /// Bringing it back.
    Return(usize),
    /// A break, by index in the worker's breaks.
    Break(usize),
    /// Putting away.
    TearDown,
}

/// An event with its place and time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Timed {
    /// What.
    pub event: Event,
    /// Where.
    pub place: u32,
    /// From.
    pub from: Secs,
    /// To.
    pub to: Secs,
}

/// A sweep over one order.
#[derive(Clone, Copy)]
pub(super) struct Sweep<'a> {
    pub(super) instance: &'a Instance,
    pub(super) worker: &'a Worker,
    pub(super) table: &'a WalkTable,
    pub(super) order: &'a Order,
    pub(super) visits: &'a [Visit],
    pub(super) others: Others<'a>,
    /// Whether everything is tried that a fixed order leaves open, or only what is likely to be best.
    pub(super) thorough: bool,
}

/// A position in time and place while a gap is being walked.
#[derive(Clone, Copy)]
struct Now<'a> {
    place: u32,
    label: Label,
    /// From here straight on to the next stop.
    onward: Secs,
    /// The gap, while nothing has been done in it yet.
    untouched: Option<&'a Facts>,
}

impl<'a> Sweep<'a> {
    pub(super) fn new(
        instance: &'a Instance,
        worker: usize,
        order: &'a Order,
        visits: &'a [Visit],
        others: Others<'a>,
    ) -> Sweep<'a> {
        let table = order.table(instance, worker);
        Sweep {
            instance,
            worker: &instance.workers[worker],
            table,
            order,
            visits,
            others,
            thorough: false,
        }
    }

    /// The same sweep, thorough.
    pub(super) fn thoroughly(self, thorough: bool) -> Sweep<'a> {
        Sweep { thorough, ..self }
    }

    /// The label before anything is done.
    pub(super) fn beginning(&self) -> Label {
        if let Some(begun) = self.instance.before.begun(self.others.run) {
            return begun.label(self.worker.from);
        }
        let set_up = self.worker.set_up;
        Label {
            time: self.worker.from + set_up,
            load: set_up,
            ..Label::default()
        }
    }

    /// All labels worth keeping after stop `index`, from those after the stop before it.
    pub(super) fn step(&self, index: usize, before: &[Label], after: &mut Vec<Label>) {
        after.clear();
        let facts = &self.order.facts[index];
        let most = if self.thorough { MANY_LABELS } else { LABELS };
        for (parent, label) in before.iter().enumerate() {
            self.each_gap(facts, label, index, &mut |gap| {
                let mut now = self.leave(index, *label);
                if self.cross(&mut now, gap, facts, &mut |_| {}) && self.stop(&mut now.label, index)
                {
                    (now.label.parent, now.label.gap) = (parent as u8, gap);
                    keep(after, &now.label, most);
                }
            });
        }
    }

    /// The best way to end after the last stop, and which label it follows; `cost` decides.
    pub(super) fn finish(
        &self,
        last: &[Label],
        cost: impl Fn(&Ending) -> i64,
    ) -> Option<(Ending, usize, i64)> {
        let ends = last.iter().enumerate().filter_map(|(i, label)| {
            let ending = self.end(label, &mut |_| {})?;
            Some((ending, i, cost(&ending)))
        });
        ends.min_by_key(|(_, i, cost)| (*cost, *i))
    }

    fn place_before(&self, index: usize) -> u32 {
        if index == 0 {
            self.sets_out()
        } else {
            self.order.facts[index - 1].place
        }
    }

    /// On the way to stop `index`, with nothing done yet.
    fn leave(&self, index: usize, label: Label) -> Now<'_> {
        let facts = &self.order.facts[index];
        Now {
            place: self.place_before(index),
            label,
            onward: facts.ways.straight,
            untouched: Some(facts),
        }
    }

    fn sets_out(&self) -> u32 {
        self.instance.before.sets_out(self.others.run, self.worker)
    }

    /// Everything that may be worth doing between the stop before and stop `index`.
    fn each_gap(&self, facts: &Facts, label: &Label, index: usize, visit: &mut impl FnMut(Gap)) {
        let part = &facts.part;
        let cart = self.worker.cart;
        let must_dump = part
            .waste_left
            .map_or(label.waste + part.waste > cart, |_| label.waste > 0);
        let early = || self.may_empty_early(label, &facts.to_come);
        let may_dump =
            label.waste > 0 && (must_dump || (facts.dump_here || self.thorough) && early());
        let may_fill = (facts.fill_here || self.thorough && self.order.with_cart)
            && !label.water_lasts(&facts.to_come);
        for rests in 0..=self.may_rest(label, facts, index) {
            let plain = Gap {
                rests,
                ..Gap::default()
            };
            let dump = Gap {
                dump: true,
                ..plain
            };
            let filled = |gap| Gap { fill: true, ..gap };
            if !must_dump || part.waste == 0 {
                visit(plain);
                if may_fill {
                    visit(filled(plain));
                }
            }
            if may_dump {
                visit(dump);
                if may_fill {
                    visit(filled(dump));
                    visit(Gap {
                        fill_first: true,
                        ..filled(dump)
                    });
                }
            }
        }
    }

    /// Emptying early helps only if the cart would run full later, or if nothing is picked up from here on.
    fn may_empty_early(&self, label: &Label, to_come: &ToCome) -> bool {
        i64::from(label.waste) + to_come.waste > i64::from(self.worker.cart) || to_come.waste == 0
    }

    /// Whether it makes no difference to the choices in a gap which of two things is to come.
    pub(super) fn chooses_alike(&self, before: &[Label], one: &ToCome, other: &ToCome) -> bool {
        let alike = |label: &Label| {
            label.water_lasts(one) == label.water_lasts(other)
                && self.may_empty_early(label, one) == self.may_empty_early(label, other)
        };
        one == other || before.iter().all(alike)
    }

    /// How many breaks may sensibly be taken before stop `index`: those that need no long wait, and those that would be missed
    /// otherwise.
    fn may_rest(&self, label: &Label, facts: &Facts, index: usize) -> u8 {
        /// Waiting longer than this for a break to begin is only done when there is no later chance.
        const PATIENCE: Secs = 600;
        let visit = self.visits[index];
        let job = &self.instance.jobs[visit.job as usize];
        let mut arrival = label.time + facts.ways.straight + facts.part.lag;
        if visit.part == 0 {
            arrival = arrival.max(self.first_start(job));
        }
        let after = || {
            self.find_start(label, facts, visit, job, arrival)
                .map_or(FOREVER, |start| start + facts.part.length)
        };
        let mut time = label.time;
        let to_come = self.worker.breaks.iter().skip(usize::from(label.rests));
        let sensible = to_come.take_while(|rest| {
            let soon = self.thorough || time + PATIENCE >= rest.from;
            let fits = time <= rest.latest && (soon || after() > rest.latest);
            time = time.max(rest.from) + rest.length;
            fits
        });
        sensible.count() as u8
    }

    /// Walks a gap: machines back, cart emptied, break, bucket filled, machines fetched, on to the stop. False if it cannot be done.
    fn cross(&self, now: &mut Now, gap: Gap, facts: &Facts, note: &mut impl FnMut(Timed)) -> bool {
        let next = facts.place;
        self.handle_machines(now, facts.give_back, false, next, note)
            && (!gap.dump || gap.fill_first || self.empty_cart(now, next, note))
            && (0..gap.rests).all(|_| self.rest(now, next, note))
            && (!gap.fill || self.fill_bucket(now, next, note))
            && (!gap.fill_first || self.empty_cart(now, next, note))
            && self.handle_machines(now, facts.fetch, true, next, note)
            && self.arrive(now, next)
    }

    /// Goes straight on to the next stop.
    fn arrive(&self, now: &mut Now, next: u32) -> bool {
        self.walk(now, next, now.onward, 0)
    }

    /// Goes to a place off the way that is then `onward` from the next stop.
    fn turn_off(&self, now: &mut Now, to: u32, next: u32) -> bool {
        let (time, onward) = (self.table.walk(now.place, to), self.table.walk(to, next));
        self.walk(now, to, time, onward)
    }

    fn walk(&self, now: &mut Now, to: u32, time: Secs, onward: Secs) -> bool {
        (now.place, now.onward, now.untouched) = (to, onward, None);
        now.label.load += time;
        now.label.time += time;
        time < NO_WAY && now.label.time <= self.worker.latest
    }

    fn spend(now: &mut Now, event: Event, length: Secs, note: &mut impl FnMut(Timed)) {
        note(Timed {
            event,
            place: now.place,
            from: now.label.time,
            to: now.label.time + length,
        });
        now.label.time += length;
        now.label.load += length;
    }

    fn handle_machines(
        &self,
        now: &mut Now,
        machines: u32,
        fetch: bool,
        next: u32,
        note: &mut impl FnMut(Timed),
    ) -> bool {
        let mut left = machines;
        while left != 0 {
            let machine = left.trailing_zeros() as usize;
            left &= left - 1;
            if !self.turn_off(now, self.instance.machines[machine].place, next) {
                return false;
            }
            let event = if fetch {
                Event::Fetch(machine)
            } else {
                Event::Return(machine)
            };
            Self::spend(now, event, self.instance.fetch, note);
        }
        true
    }

    fn empty_cart(&self, now: &mut Now, next: u32, note: &mut impl FnMut(Timed)) -> bool {
        let via = match now.untouched {
            Some(facts) => facts.ways.dump,
            None => Via::waste_point(self.table, now.place, next),
        };
        if !via.is_some_and(|by| self.walk(now, by.point, by.to, by.on)) {
            return false;
        }
        Self::spend(now, Event::Dump, self.instance.dump, note);
        now.label.waste = 0;
        true
    }

    fn fill_bucket(&self, now: &mut Now, next: u32, note: &mut impl FnMut(Timed)) -> bool {
        let via = match now.untouched {
            Some(facts) => facts.ways.fill,
            None => Via::fill_point(self.table, now.place, next),
        };
        if !via.is_some_and(|by| self.walk(now, by.point, by.to, by.on)) {
            return false;
        }
        Self::spend(now, Event::Fill, self.instance.fill, note);
        let label = &mut now.label;
        (label.area, label.rooms, label.water) =
            (self.worker.bucket, self.worker.bucket_rooms, Water::Unused);
        true
    }

    fn rest(&self, now: &mut Now, next: u32, note: &mut impl FnMut(Timed)) -> bool {
        let index = usize::from(now.label.rests);
        let Some(rest) = self.worker.breaks.get(index) else {
            return false;
        };
        let detour = |p: &u32| {
            self.table
                .walk(now.place, *p)
                .saturating_add(self.table.walk(*p, next))
        };
        let Some(place) = rest.places.iter().copied().min_by_key(|p| (detour(p), *p)) else {
            return false;
        };
        if !self.turn_off(now, place, next) {
            return false;
        }
        let label = &mut now.label;
        let start = label.time.max(rest.from);
        note(Timed {
            event: Event::Break(index),
            place,
            from: start,
            to: start + rest.length,
        });
        label.idle += start - label.time;
        label.time = start + rest.length;
        label.rested += rest.length;
        label.rests += 1;
        start <= rest.latest
    }

    /// Does a stop, starting as early as it may. False if it cannot be done.
    fn stop(&self, label: &mut Label, index: usize) -> bool {
        let facts = &self.order.facts[index];
        let (part, visit) = (&facts.part, self.visits[index]);
        let job = &self.instance.jobs[visit.job as usize];
        let begun = if visit.part == 0 {
            None
        } else {
            label.take(visit.job)
        };
        if visit.part > 0 && begun.is_none()
            || !self.use_water(label, facts, job)
            || !self.take_waste(label, facts)
        {
            return false;
        }
        let arrived = label.time;
        let ready = begun.map_or(-FOREVER, |b| b.end + part.lag);
        let earliest = arrived.max(ready).max(if visit.part == 0 {
            self.first_start(job)
        } else {
            -FOREVER
        });
        let Some(start) = self.find_start(label, facts, visit, job, earliest) else {
            return false;
        };
        let end = start + part.length;
        label.moved += self.instance.before.moved(self.others.run, visit, start);
        let attended = (start.min(ready) - arrived).max(0);
        label.idle += start - arrived - attended;
        label.load += attended + part.length;
        label.time = end;
        if part.mop > 0 && !soak(label, job, part) {
            return false;
        }
        let opened = begun.map_or(start, |b| b.start);
        if facts.more {
            return label.open(Pending {
                job: visit.job,
                start: opened,
                end,
            });
        }
        if job.closure.is_some() {
            label.closed += end - opened;
        }
        self.closes_well(facts, visit, job, opened, end)
            && job
                .before
                .is_none_or(|next| self.elsewhere(next).is_none_or(|(from, _)| end <= from))
    }

    /// When a job may first begin: not before what must precede it in another run, nor before it is time to lock up.
    fn first_start(&self, job: &Job) -> Secs {
        let after = job
            .after
            .and_then(|id| self.elsewhere(id))
            .map_or(-FOREVER, |(_, to)| to);
        job.not_before.max(after)
    }

    /// When a job is done, if another run does it.
    pub(super) fn elsewhere(&self, job: u32) -> Option<(Secs, Secs)> {
        self.others.done[job as usize].filter(|_| !self.visits.iter().any(|v| v.job == job))
    }

    fn use_water(&self, label: &mut Label, facts: &Facts, job: &Job) -> bool {
        let part = &facts.part;
        if part.mop == 0 {
            return true;
        }
        let use_of = Water::used_in(job);
        let fresh = label.water == Water::Unused && label.rooms == self.worker.bucket_rooms;
        if label.rooms == 0 || (label.water != use_of && label.water != Water::Unused) {
            return false;
        }
        label.rooms -= 1;
        label.water = use_of;
        if let Some(left) = part.mop_left {
            label.area = left;
            return fresh;
        }
        label.area -= part.mop;
        label.area >= 0
    }

    fn take_waste(&self, label: &mut Label, facts: &Facts) -> bool {
        if let Some(left) = facts.part.waste_left {
            let empty = label.waste == 0;
            label.waste = left;
            return empty;
        }
        label.waste += facts.part.waste;
        facts.part.waste == 0 || label.waste <= self.worker.cart
    }

    /// The earliest start, from `earliest` on, that keeps the room's windows, its closure windows and all limits.
    fn find_start(
        &self,
        label: &Label,
        facts: &Facts,
        visit: Visit,
        job: &Job,
        earliest: Secs,
    ) -> Option<Secs> {
        let (part, run) = (&facts.part, self.others.run);
        let closes = visit.part == 0 && job.closure.is_some();
        let mut start = earliest;
        loop {
            let mut later = in_windows(&job.windows, start, part.length)?;
            if let Some(closure) = job.closure.as_ref().filter(|_| closes) {
                later = in_windows(closure, later, facts.closed)?;
            }
            if closes {
                for limit in &job.closed_limits {
                    if let Some(free) =
                        self.others
                            .holds
                            .clash(*limit, run, facts.own, later, later + facts.closed)
                    {
                        later = later.max(free);
                    }
                }
            }
            if later > self.worker.latest {
                return None;
            }
            for limit in job.wet_limits.iter().filter(|_| part.mop > 0) {
                later = later.max(self.dry_start(label, part, *limit, later));
            }
            if later == start {
                return Some(start);
            }
            start = later;
        }
    }

    /// The start at or after `start` from which the floor of the other half of an exit pair stays clear.
    fn dry_start(&self, label: &Label, part: &Part, limit: u16, start: Secs) -> Secs {
        let wet_from = start + part.length - part.wet_before;
        let own = label
            .wet_floors()
            .iter()
            .filter(|w| w.limit == limit)
            .map(|w| w.until)
            .max()
            .unwrap_or(-FOREVER);
        let until = start + part.length + part.wet_after;
        let free = self
            .others
            .holds
            .clash(limit, self.others.run, 0, wet_from, until)
            .unwrap_or(-FOREVER);
        start.max(own.max(free).saturating_sub(part.length - part.wet_before))
    }

    /// Whether a closure that has just ended kept one closure window and all limits, and remembers floors that are wet now.
    fn closes_well(&self, facts: &Facts, visit: Visit, job: &Job, opened: Secs, end: Secs) -> bool {
        let Some(closure) = &job.closure else {
            return true;
        };
        if visit.part == 0 {
            return true;
        }
        let own = self.first_facts(visit.job).map_or(facts.own, |f| f.own);
        closure
            .iter()
            .any(|(from, to)| *from <= opened && end <= *to)
            && job.closed_limits.iter().all(|l| {
                self.others
                    .holds
                    .clash(*l, self.others.run, own, opened, end)
                    .is_none()
            })
    }

    fn first_facts(&self, job: u32) -> Option<&Facts> {
        let first = Visit { job, part: 0 };
        self.visits
            .iter()
            .position(|v| *v == first)
            .map(|i| &self.order.facts[i])
    }

    /// Ends a run: machines back, cart emptied, breaks still owed, back to the start, putting away.
    fn end(&self, label: &Label, note: &mut impl FnMut(Timed)) -> Option<Ending> {
        let place = self
            .order
            .facts
            .last()
            .map_or_else(|| self.sets_out(), |f| f.place);
        let home = self.worker.start;
        let mut now = Now {
            place,
            label: *label,
            onward: self.table.walk(place, home),
            untouched: None,
        };
        let rests =
            self.worker.breaks.len() as u8 - label.rests.min(self.worker.breaks.len() as u8);
        let arrived = self.handle_machines(&mut now, self.order.give_back_last, false, home, note)
            && (now.label.waste == 0
                || self.instance.waste_home
                || self.empty_cart(&mut now, home, note))
            && (0..rests).all(|_| self.rest(&mut now, home, note))
            && self.arrive(&mut now, home);
        Self::spend(&mut now, Event::TearDown, self.worker.tear_down, note);
        let Label {
            load,
            idle,
            closed,
            time,
            pendings,
            moved,
            ..
        } = now.label;
        let latest = if self.order.ends_last {
            self.worker.latest
        } else {
            self.worker.latest_unless_last
        };
        (arrived && pendings == 0 && time <= latest).then_some(Ending {
            load,
            idle,
            closed,
            end: time,
            moved,
        })
    }

    /// The whole run, spelled out: follows the labels kept at each stop back from the best ending.
    pub(super) fn trace(&self, kept: &[Vec<Label>], last: usize) -> Vec<Timed> {
        let mut chosen = Vec::with_capacity(kept.len());
        let mut at = last;
        for labels in kept.iter().rev() {
            chosen.push(labels[at]);
            at = usize::from(labels[at].parent);
        }
        chosen.reverse();
        let mut events = vec![Timed {
            event: Event::SetUp,
            place: self.sets_out(),
            from: self.worker.from,
            to: self.worker.from + self.worker.set_up,
        }];
        let mut label = chosen.first().copied().unwrap_or_else(|| self.beginning());
        for (index, next) in chosen.iter().enumerate().skip(1) {
            let facts = &self.order.facts[index - 1];
            let mut now = self.leave(index - 1, label);
            self.cross(&mut now, next.gap, facts, &mut |event| events.push(event));
            let (to, place) = (next.time, facts.place);
            events.push(Timed {
                event: Event::Visit(index - 1),
                place,
                from: to - facts.part.length,
                to,
            });
            label = *next;
        }
        self.end(&label, &mut |event| events.push(event));
        events
    }
}

/// The earliest start at or after `from` of a stretch that lies inside one window.
pub(super) fn in_windows(windows: &[(Secs, Secs)], from: Secs, length: Secs) -> Option<Secs> {
    windows
        .iter()
        .map(|(open, shut)| (from.max(*open), *shut))
        .find(|(start, shut)| start + length <= *shut)
        .map(|(s, _)| s)
}

/// The latest start, up to `by`, of a stretch that lies inside one window.
pub(super) fn last_start(windows: &[(Secs, Secs)], by: Secs, length: Secs) -> Secs {
    let starts = windows
        .iter()
        .map(|(from, to)| ((*to - length).min(by), *from));
    let inside = starts.filter(|(start, from)| start >= from);
    inside.map(|(start, _)| start).max().unwrap_or(-FOREVER)
}

/// Notes floors of exit pairs that are wet from now on. False if too many are.
fn soak(label: &mut Label, job: &Job, part: &Part) -> bool {
    let (now, until) = (label.time, label.time + part.wet_after);
    job.wet_limits.iter().all(|limit| {
        label.soak(
            Wet {
                limit: *limit,
                until,
            },
            now,
        )
    })
}
