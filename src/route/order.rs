//! What can be said of an order of stops before any time is known: where the bucket may best be filled, where machines are
//! fetched and given back, how much is still to be mopped.

use super::between::Ways;
use super::instance::{Instance, NO_WAY, Part, Scope, Secs, WalkTable};
use super::prices::OrderCosts;

/// One stop of a run's order: a part of a job.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Visit {
    /// Which job.
    pub job: u32,
    /// Which of its parts.
    pub part: u8,
}

/// What is known of one stop, from the order alone.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Facts {
    pub(super) place: u32,
    /// The ways to it from the stop before, or from the start.
    pub(super) ways: Ways,
    pub(super) part: Part,
    /// Whether more parts of the job follow.
    pub(super) more: bool,
    /// Whether the gap before it is the cheapest one for the fill that the next mopped floor may need.
    pub(super) fill_here: bool,
    /// Whether emptying the cart costs less in the gap before it than in both next to it.
    pub(super) dump_here: bool,
    /// Machines fetched in the gap before it, and given back.
    pub(super) fetch: u32,
    pub(super) give_back: u32,
    /// What the bucket and the cart are needed for, this stop included.
    pub(super) to_come: ToCome,
    /// For a first part: the closure lasts at least so long in this order.
    pub(super) closed: Secs,
    /// How often the run itself is in the same limit meanwhile.
    pub(super) own: i32,
}

/// What is mopped and picked up from one stop of an order on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct ToCome {
    /// Floor, in the instance's units.
    pub(super) area: i64,
    /// Rooms with a floor to mop.
    pub(super) rooms: u32,
    /// Whether restrooms are among them,
    pub(super) restrooms: bool,
    /// and whether other rooms are.
    pub(super) others: bool,
    /// Whether some floor needs a fresh bucket whatever is left.
    pub(super) big: bool,
    /// Waste, in the instance's units.
    pub(super) waste: i64,
}

impl ToCome {
    fn and(self, part: &Part, restroom: bool) -> ToCome {
        let mopped = part.mop > 0;
        ToCome {
            area: self.area + i64::from(part.mop),
            rooms: self.rooms + u32::from(mopped),
            restrooms: self.restrooms || (mopped && restroom),
            others: self.others || (mopped && !restroom),
            big: self.big || part.mop_left.is_some(),
            waste: self.waste + i64::from(part.waste),
        }
    }
}

/// An order of stops of one worker, ready to be timed.
#[derive(Clone, Debug, Default)]
pub(super) struct Order {
    pub(super) facts: Vec<Facts>,
    pub(super) with_cart: bool,
    /// Given back in the last gap.
    pub(super) give_back_last: u32,
    pub(super) machines: u32,
    pub(super) work: Secs,
    pub(super) floors: u32,
    pub(super) dislike: i32,
    /// Change against the plan before, in points.
    pub(super) change: i32,
    /// Whether it ends with a job that everyone else is to be back for.
    pub(super) ends_last: bool,
}

impl Order {
    /// Reads an order. False if no timing can make it sound: the worker may not, or has no cart, or parts are missing.
    pub(super) fn read(
        &mut self,
        instance: &Instance,
        worker: usize,
        visits: &[Visit],
        scope: &[u8],
    ) -> bool {
        self.facts.clear();
        (
            self.with_cart,
            self.machines,
            self.work,
            self.dislike,
            self.ends_last,
        ) = (false, 0, 0, 0, false);
        if let Some(begun) = instance.before.begun(worker) {
            (self.with_cart, self.machines) = (begun.with_cart, begun.fetched);
        }
        self.change = instance.before.change(worker, visits);
        let mut floors = 0u128;
        for (index, visit) in visits.iter().enumerate() {
            let job = &instance.jobs[visit.job as usize];
            let how = instance.scope(worker, visit.job, scope[visit.job as usize]);
            let Some(part) = how.parts.get(usize::from(visit.part)) else {
                return false;
            };
            if !job.eligible[worker] || !how.possible || (job.last && index + 1 != visits.len()) {
                return false;
            }
            let more = usize::from(visit.part) + 1 < how.parts.len();
            self.facts.push(Facts {
                place: job.place,
                part: *part,
                more,
                ..Facts::default()
            });
            self.with_cart |= how.cart;
            self.machines |= how.machines;
            self.work += part.length - part.trips;
            self.ends_last |= job.last;
            floors |= 1 << (job.floor & 127);
            if visit.part == 0 {
                self.dislike += job.dislike[worker];
            }
        }
        self.floors = floors.count_ones();
        if self.with_cart && instance.workers[worker].with_cart.is_none() {
            return false;
        }
        self.look_between(instance, worker);
        self.place_dumps(instance, visits);
        self.look_back(instance, visits);
        self.place_fills(instance, visits);
        self.place_machines(instance, worker, visits, scope);
        self.measure_closures(instance, worker, visits, scope);
        true
    }

    pub(super) fn costs(&self) -> OrderCosts {
        OrderCosts {
            work: self.work,
            floors: self.floors,
            dislike: self.dislike,
            change: self.change,
        }
    }

    /// The walking table that holds for it.
    pub(super) fn table<'a>(&self, instance: &'a Instance, worker: usize) -> &'a WalkTable {
        let worker = &instance.workers[worker];
        let with_cart = worker.with_cart.filter(|_| self.with_cart);
        &instance.walks[with_cart.unwrap_or(worker.on_foot)]
    }

    fn look_between(&mut self, instance: &Instance, worker: usize) {
        let table = self.table(instance, worker);
        let mut here = (instance.before).sets_out(worker, &instance.workers[worker]);
        for facts in &mut self.facts {
            facts.ways = Ways::new(table, here, facts.place, self.with_cart);
            here = facts.place;
        }
    }

    fn look_back(&mut self, instance: &Instance, visits: &[Visit]) {
        let mut after = ToCome::default();
        for (facts, visit) in self.facts.iter_mut().zip(visits).rev() {
            let restroom = instance.jobs[visit.job as usize].restroom;
            facts.to_come = after.and(&facts.part, restroom);
            after = facts.to_come;
        }
    }

    /// Emptying the cart costs least at waste points that are passed by and while a floor dwells or dries: in gaps that are cheaper than those
    /// next to them. Elsewhere it is emptied only where it must be.
    fn place_dumps(&mut self, instance: &Instance, visits: &[Visit]) {
        let first = self.facts.first();
        let first = first.map_or(NO_WAY, |_| self.dump_cost(instance, visits, 0));
        let (mut before, mut here) = (NO_WAY, first);
        for index in 0..self.facts.len() {
            let after =
                (index + 1 < self.facts.len()).then(|| self.dump_cost(instance, visits, index + 1));
            self.facts[index].dump_here = here <= before && after.is_none_or(|after| here < after);
            (before, here) = (here, after.unwrap_or(NO_WAY));
        }
    }

    fn dump_cost(&self, instance: &Instance, visits: &[Visit], index: usize) -> Secs {
        let ways = &self.facts[index].ways;
        ways.dump.map_or(NO_WAY, |by| {
            (by.detour(ways) + instance.dump - self.wait_before(visits, index)).max(0)
        })
    }

    /// Between one mopped floor and the next the fill costs least in one gap, whatever else is chosen: a fill is a detour, and a
    /// detour while a floor dwells or dries costs only what exceeds the wait.
    fn place_fills(&mut self, instance: &Instance, visits: &[Visit]) {
        if !self.with_cart {
            return;
        }
        let mut best: Option<(Secs, usize)> = None;
        for index in 0..self.facts.len() {
            let Facts { ways, part, .. } = self.facts[index];
            if let Some(via) = ways.fill {
                let detour = via.detour(&ways) + instance.fill;
                let cost = (detour - self.wait_before(visits, index)).max(0);
                if best.is_none_or(|(least, _)| cost <= least) {
                    best = Some((cost, index));
                }
            }
            if part.mop > 0
                && let Some((_, gap)) = best.take()
            {
                self.facts[gap].fill_here = true;
            }
        }
    }

    /// How long a worker who is nowhere held up would wait at stop `index` for the dwell or drying since the part before it.
    fn wait_before(&self, visits: &[Visit], index: usize) -> Secs {
        let Facts { part, .. } = self.facts[index];
        if part.lag == 0 {
            return 0;
        }
        let same = |i: &usize| visits[*i].job == visits[index].job;
        let Some(before) = (0..index).rev().find(same) else {
            return 0;
        };
        let walks: Secs = self.walks(before + 1..=index);
        let stops: Secs = (before + 1..index).map(|i| self.facts[i].part.length).sum();
        (part.lag - walks - stops).max(0)
    }

    /// Walking straight to each of some stops from the one before it.
    fn walks(&self, stops: std::ops::RangeInclusive<usize>) -> Secs {
        let walks = self.facts[stops].iter().map(|f| f.ways.straight);
        walks.map(|walk| walk.min(NO_WAY / 100)).sum()
    }

    fn place_machines(
        &mut self,
        instance: &Instance,
        worker: usize,
        visits: &[Visit],
        scope: &[u8],
    ) {
        self.give_back_last = 0;
        let begun = instance.before.begun(worker);
        let held = begun.map_or(0, |b| b.machines);
        // A machine held and not needed any more goes back once the rooms begun are finished.
        let finishes = |v: &Visit| begun.is_some_and(|b| b.visits.contains(v));
        let free = visits.iter().rposition(finishes).map_or(0, |at| at + 1);
        let needs = |v: &Visit| -> u32 {
            let how: &Scope = instance.scope(worker, v.job, scope[v.job as usize]);
            how.machines
        };
        for machine in (0..instance.machines.len())
            .map(|m| 1u32 << m)
            .filter(|m| self.machines & m != 0)
        {
            let uses = |v: &Visit| needs(v) & machine != 0;
            if let Some(first) = visits.iter().position(uses)
                && held & machine == 0
            {
                self.facts[first].fetch |= machine;
            }
            match visits.iter().rposition(uses) {
                // Brought back already.
                None if held & machine == 0 => {}
                None if free < visits.len() => self.facts[free].give_back |= machine,
                Some(last) if last + 1 < visits.len() => self.facts[last + 1].give_back |= machine,
                _ => self.give_back_last |= machine,
            }
        }
    }

    /// How long each closure lasts at least, and what else the run keeps closed meanwhile.
    fn measure_closures(
        &mut self,
        instance: &Instance,
        worker: usize,
        visits: &[Visit],
        scope: &[u8],
    ) {
        for first in 0..visits.len() {
            let Visit { job: id, part } = visits[first];
            let job = &instance.jobs[id as usize];
            if job.closure.is_none() {
                continue;
            }
            let how = instance.scope(worker, id, scope[id as usize]);
            let last = (first..visits.len())
                .rev()
                .find(|i| visits[*i].job == id)
                .unwrap_or(first);
            if part != 0 {
                if is_begun(visits, first) {
                    self.facts[last].own = own_closures(instance, visits, None, last);
                }
                continue;
            }
            let walks = self.walks(first + 1..=last);
            let stops: Secs = self.facts[first..=last].iter().map(|f| f.part.length).sum();
            self.facts[first].closed = how.closed.max(walks + stops);
            self.facts[first].own = own_closures(instance, visits, Some(first), last);
        }
    }
}

/// Whether a part is the first one here of a room that was begun before the night was replanned: it has been closed all along.
fn is_begun(visits: &[Visit], at: usize) -> bool {
    let Visit { job, part } = visits[at];
    part > 0 && !visits[..at].iter().any(|v| v.job == job)
}

/// How many other rooms of the same limits the run has closed at some time between two stops of a room, at most; `first` is none for a room that was begun before.
fn own_closures(instance: &Instance, visits: &[Visit], first: Option<usize>, last: usize) -> i32 {
    let id = visits[last].job;
    let job = &instance.jobs[id as usize];
    if job.closed_limits.is_empty() {
        return 0;
    }
    let same = |other: u32| {
        let limits = &instance.jobs[other as usize].closed_limits;
        other != id && limits.iter().any(|l| job.closed_limits.contains(l))
    };
    let mut count = 0;
    for (index, visit) in visits.iter().enumerate() {
        let begins = is_begun(visits, index) || visit.part == 0 && index < last;
        if same(visit.job) && begins {
            let ends = visits
                .iter()
                .rposition(|v| v.job == visit.job)
                .unwrap_or(index);
            count += i32::from(first.is_none_or(|first| ends > first));
        }
    }
    count
}
