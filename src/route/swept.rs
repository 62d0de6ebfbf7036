//! What was swept before and need not be swept again: two orders of one run that begin alike are timed alike up to where they part, as long as the
//! other runs do the same where it matters.
//!
//! Nothing is guessed: a label is taken over only if all that went into the step that made it is the same. So plans are the same with and without, but for
//! the one chance in 2⁶⁴ that what other runs do looks the same and is not.

use super::instance::Secs;
use super::label::Label;
use super::order::{Facts, Order, Visit};
use super::timing::Sweep;

/// An order, and its labels as far as they are known.
#[derive(Debug, Default)]
pub(super) struct Swept {
    run: usize,
    thorough: bool,
    visits: Vec<Visit>,
    pub(super) order: Order,
    /// By stop, what the other runs did that matters to it.
    pub(super) around: Vec<u64>,
    /// By stop, the first for the beginning.
    pub(super) labels: Vec<Vec<Label>>,
    /// How many stops have labels.
    pub(super) reached: usize,
}

/// A copy knows nothing: to sweep again is cheaper than to copy everything each time.
impl Clone for Swept {
    fn clone(&self) -> Swept {
        Swept::default()
    }
}

impl Swept {
    /// How many stops of an order have the labels that they have here.
    pub(super) fn shared(&self, sweep: &Sweep) -> usize {
        let same_run = self.run == sweep.others.run
            && self.thorough == sweep.thorough
            && self.order.with_cart == sweep.order.with_cart;
        let most = self.reached.min(sweep.visits.len());
        let shared = |i: &usize| {
            let (old, new) = (&self.order.facts[*i], &sweep.order.facts[*i]);
            self.visits[*i] == sweep.visits[*i]
                && alike(old, new)
                && self.around[*i] == sweep.around(*i)
                && sweep.chooses_alike(&self.labels[*i], &old.to_come, &new.to_come)
        };
        (0..most).take_while(|i| same_run && shared(i)).count()
    }

    /// Takes over labels of the stops of another order from one up to another.
    pub(super) fn copy(&mut self, other: &Swept, from: usize, to: usize) {
        self.make_room(to);
        for stop in from + 1..=to {
            self.labels[stop].clone_from(&other.labels[stop]);
        }
        self.around.truncate(from);
        self.around.extend(&other.around[from..to]);
    }

    /// Becomes another order, swept so far; leaves an order of no use in its place.
    pub(super) fn become_order(
        &mut self,
        (run, thorough): (usize, bool),
        visits: &[Visit],
        order: &mut Order,
        reached: usize,
    ) {
        (self.run, self.thorough, self.reached) = (run, thorough, reached);
        self.visits.clear();
        self.visits.extend(visits);
        std::mem::swap(&mut self.order, order);
        self.around.truncate(reached);
        self.make_room(visits.len());
    }

    fn make_room(&mut self, stops: usize) {
        let more = self.labels.len().max(stops + 1);
        self.labels.resize_with(more, Vec::new);
    }
}

/// Whether all is the same that is known of a stop from its order, but for what is to come after it.
fn alike(a: &Facts, b: &Facts) -> bool {
    let Facts {
        place,
        ways,
        part,
        more,
        fill_here,
        dump_here,
        fetch,
        give_back,
        to_come: _,
        closed,
        own,
    } = a;
    (place, ways, part, more) == (&b.place, &b.ways, &b.part, &b.more)
        && (fill_here, dump_here, fetch, give_back)
            == (&b.fill_here, &b.dump_here, &b.fetch, &b.give_back)
        && (closed, own) == (&b.closed, &b.own)
}

impl Sweep<'_> {
    /// What the other runs do that matters to a stop, as one number: when they hold its limits, and when they do jobs that come before or after it.
    pub(super) fn around(&self, index: usize) -> u64 {
        let job = &self.instance.jobs[self.visits[index].job as usize];
        let mut sum = 0u64;
        for limit in job.closed_limits.iter().chain(&job.wet_limits) {
            let held = self.others.holds.of_others(*limit, self.others.run);
            held.for_each(|(from, to)| {
                sum = sum.wrapping_add(mixed(u64::from(*limit) + 2, from, to));
            });
        }
        for (kind, other) in [job.before, job.after].into_iter().enumerate() {
            if let Some((from, to)) = other.and_then(|job| self.elsewhere(job)) {
                sum = sum.wrapping_add(mixed(kind as u64, from, to));
            }
        }
        sum
    }
}

/// A stretch of time as a number that another one hardly has (Steele, Lea and Flood 2014, doi:10.1145/2660193.2660195).
fn mixed(kind: u64, from: Secs, to: Secs) -> u64 {
    let stretch = u64::from(from.cast_unsigned()) << 32 | u64::from(to.cast_unsigned());
    let seed = stretch.wrapping_add(kind.wrapping_mul(0x9e37_79b9_7f4a_7c15));
    let once = (seed ^ seed >> 30).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let twice = (once ^ once >> 27).wrapping_mul(0x94d0_49bb_1331_11eb);
    twice ^ twice >> 31
}
