//! What some worker has to spend time on besides work and walking, in every plan and whoever it is: fills and dumps.
//!
//! All in whole seconds, and where the dense problem has rounded an amount, rounded back to the safe side.

use crate::route::{Instance, Secs};
use itertools::Itertools;

/// Seconds of filling and dumping that no plan avoids: by rooms per bucket for each kind of water, and by volume of waste.
pub(super) fn fills(instance: &Instance, jobs: &[u32], scope: &[u8]) -> i64 {
    let with_cart = instance
        .workers
        .iter()
        .enumerate()
        .filter(|(_, w)| w.with_cart.is_some())
        .collect_vec();
    let Some(rooms_per_fill) = with_cart
        .iter()
        .map(|(_, w)| i64::from(w.bucket_rooms))
        .max()
    else {
        return 0;
    };
    let cart = with_cart
        .iter()
        // It was rounded down.
        .map(|(_, w)| i64::from(w.cart) + 1)
        .max()
        .unwrap_or(1)
        .max(1);
    let mut mopped = [0i64; 2];
    let mut waste = 0i64;
    for job in jobs {
        let parts = |w: usize| instance.scope(w, *job, scope[*job as usize]).parts.iter();
        let mops = with_cart.iter().all(|(w, _)| parts(*w).any(|p| p.mop > 0));
        mopped[usize::from(instance.jobs[*job as usize].restroom)] += i64::from(mops);
        // Waste that leaves in trips of its own stop is not counted again. Both tasks before and after a dwell were rounded up.
        let left = |w: usize| -> i64 {
            parts(w)
                .map(|p| i64::from(p.waste_left.unwrap_or(p.waste) - 2).max(0))
                .sum()
        };
        waste += with_cart.iter().map(|(w, _)| left(*w)).min().unwrap_or(0);
    }
    let up = |amount: i64, per: i64| if per > 0 { (amount + per - 1) / per } else { 0 };
    let fills: i64 = mopped.iter().map(|rooms| up(*rooms, rooms_per_fill)).sum();
    fills * i64::from(instance.fill) + up(waste, cart) * secs(instance.dump)
}

fn secs(time: Secs) -> i64 {
    i64::from(time)
}
