//! What rooms ask of buckets and carts, and how many fills and emptyings no plan avoids for some of them.
//!
//! Water of restrooms and of other rooms is never mixed, so each kind has buckets of its own. How many: rooms are packed into buckets, as things
//! into bins, and the bound `L2` of Martello and Toth (1990, Knapsack Problems, chapter 8) says how few will do; no bucket serves more
//! rooms than is allowed, either. All in whole numbers, and where the dense problem has rounded an amount, rounded back to the safe side.

use crate::route::{Instance, Part, Worker};
use itertools::Itertools;

/// What one stop of a job asks for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Need {
    /// How much of a bucket it uses up at least, in thousandths of a square metre; none if nothing is mopped.
    pub(super) mopped: Option<i64>,
    /// Whether its water is used in restrooms only.
    pub(super) restroom: bool,
    /// Waste that it adds to the cart at least, in thousandths of a litre.
    pub(super) waste: i64,
}

/// What a bucket and a cart hold at most.
#[derive(Clone, Copy, Debug)]
pub(super) struct Holds {
    /// Floor a fill mops, in thousandths of a square metre.
    pub(super) bucket: i64,
    /// Rooms a fill serves.
    pub(super) rooms: i64,
    /// Waste, in thousandths of a litre.
    pub(super) cart: i64,
}

impl Holds {
    /// The largest of all carts; none if nobody has one.
    pub(super) fn of(instance: &Instance) -> Option<Holds> {
        let carts = instance.workers.iter().filter(|w| w.with_cart.is_some());
        let most = |of: fn(&Worker) -> i64| carts.clone().map(of).max();
        Some(Holds {
            // They were rounded down.
            bucket: most(|w| i64::from(w.bucket))? + 1,
            rooms: most(|w| i64::from(w.bucket_rooms))?.max(1),
            cart: most(|w| i64::from(w.cart))? + 1,
        })
    }

    /// The least fills for some jobs.
    ///
    /// # Complexity
    /// `n log n`.
    pub(super) fn fills(self, needs: &[Need]) -> i64 {
        let of_kind = |restroom: bool| {
            let kind = needs.iter().filter(|n| n.restroom == restroom);
            let sizes = kind.filter_map(|n| n.mopped).collect_vec();
            let by_rooms = (sizes.len() as i64 + self.rooms - 1) / self.rooms;
            by_rooms.max(least_bins(sizes, self.bucket))
        };
        of_kind(false) + of_kind(true)
    }

    /// How often carts have to be emptied at least for some jobs.
    pub(super) fn dumps(self, needs: &[Need]) -> i64 {
        let waste: i64 = needs.iter().map(|n| n.waste).sum();
        (waste + self.cart - 1) / self.cart
    }
}

/// What a job asks of everybody who does it with a cart: one need for each of its stops that mops or adds waste, for between two of them there may be a
/// fill or an emptying; one of nothing if there is no such stop.
pub(super) fn needs(instance: &Instance, job: u32, scope: u8) -> Vec<Need> {
    let workers = 0..instance.workers.len();
    let with_cart = workers.filter(|w| instance.workers[*w].with_cart.is_some());
    let ways = with_cart
        .map(|w| (&instance.workers[w], &instance.scope(w, job, scope).parts))
        .collect_vec();
    let stops = ways.iter().map(|(_, parts)| parts.len()).max().unwrap_or(0);
    let restroom = instance.jobs[job as usize].restroom;
    let of_stop = |stop: usize| {
        let parts = ways
            .iter()
            .map(|(worker, parts)| (*worker, parts.get(stop)));
        // None if there is anybody who mops nothing.
        let mopped = parts
            .clone()
            .map(|(worker, part)| part.and_then(|part| mopped(worker, part)));
        let waste = parts.map(|(_, part)| part.map_or(0, waste));
        Need {
            mopped: mopped.min().flatten(),
            restroom,
            waste: waste.min().filter(|_| !instance.waste_home).unwrap_or(0),
        }
    };
    let asks = |need: &Need| need.mopped.is_some() || need.waste > 0;
    let needs = (0..stops).map(of_stop).filter(asks).collect_vec();
    if needs.is_empty() {
        return vec![Need::default()];
    }
    needs
}

/// How much of a bucket a stop uses up. A room larger than a bucket leaves the rest of its last one.
fn mopped(worker: &Worker, part: &Part) -> Option<i64> {
    let left = part.mop_left.map(|left| worker.bucket - left);
    (part.mop > 0).then(|| i64::from(left.unwrap_or(part.mop) - 1).max(0))
}

/// Waste that leaves in trips of its own stop is not counted again. Both tasks before and after a dwell were rounded up.
fn waste(part: &Part) -> i64 {
    i64::from(part.waste_left.unwrap_or(part.waste) - 2).max(0)
}

/// The fewest bins of a size that hold all of these: `L2`. For every threshold, what leaves less than that much room has a bin of its own, what takes more
/// than half has one, too, and the others that are not smaller than it share what room is left.
fn least_bins(mut sizes: Vec<i64>, bin: i64) -> i64 {
    sizes.sort_unstable_by(|a, b| b.cmp(a));
    let sums = std::iter::once(0)
        .chain(sizes.iter().scan(0, |sum, size| {
            *sum += size;
            Some(*sum)
        }))
        .collect_vec();
    let first_at_most = |most: i64| sizes.partition_point(|s| *s > most);
    let over_half = sizes.partition_point(|s| 2 * s > bin);
    let bins = |threshold: i64| {
        let alone = first_at_most(bin - threshold).min(over_half);
        let end = first_at_most(threshold - 1).max(over_half);
        let room = (over_half - alone) as i64 * bin - (sums[over_half] - sums[alone]);
        let more = (sums[end] - sums[over_half] - room).max(0);
        over_half as i64 + (more + bin - 1) / bin
    };
    let thresholds = sizes[over_half..].iter().copied().dedup();
    thresholds.chain([0]).map(bins).max().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use rand::{RngExt, SeedableRng};
    use rand_pcg::Pcg64Mcg;

    /// The fewest bins, by putting each thing into every bin that is open or into a new one.
    fn by_trying(left: &[i64], open: &mut Vec<i64>, bin: i64) -> i64 {
        let Some((size, rest)) = left.split_first() else {
            return open.len() as i64;
        };
        let mut best = i64::MAX;
        for at in 0..open.len() {
            if open[at] + size <= bin {
                open[at] += size;
                best = best.min(by_trying(rest, open, bin));
                open[at] -= size;
            }
        }
        open.push(*size);
        best = best.min(by_trying(rest, open, bin));
        open.pop();
        best
    }

    #[test]
    fn the_bound_on_bins_is_never_above_the_fewest_and_mostly_there() {
        let rng = &mut Pcg64Mcg::seed_from_u64(3);
        let mut tight = 0;
        for _ in 0..400 {
            let sizes: Vec<i64> = (0..7).map(|_| rng.random_range(1..=100)).collect();
            let fewest = by_trying(&sizes, &mut Vec::new(), 100);
            let bound = least_bins(sizes.clone(), 100);
            assert!(bound <= fewest, "{sizes:?}: {bound} > {fewest}");
            tight += i32::from(bound == fewest);
        }
        assert!(tight > 350, "{tight} of 400");
    }

    /// By hand: three corridors of 142 m² need a bucket each; two rooms of 68 m² share one; of five small ones three do.
    #[test]
    fn buckets_are_packed_by_floor_and_by_rooms() {
        let holds = Holds {
            bucket: 150,
            rooms: 3,
            cart: 100,
        };
        let rooms = |sizes: &[i64], restroom: bool| {
            let need = |size: &i64| Need {
                mopped: Some(*size),
                restroom,
                waste: 0,
            };
            sizes.iter().map(need).collect_vec()
        };
        assert_eq!(holds.fills(&rooms(&[142, 142, 142], false)), 3);
        assert_eq!(holds.fills(&rooms(&[142, 68, 68], false)), 2);
        assert_eq!(holds.fills(&rooms(&[5; 5], false)), 2);
        let both = [rooms(&[5], false), rooms(&[5], true)].concat();
        assert_eq!(holds.fills(&both), 2, "water is never mixed");
        assert_eq!(holds.fills(&[]), 0);
    }
}
