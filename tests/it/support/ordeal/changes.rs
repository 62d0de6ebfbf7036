//! Random nights that change at random.

use crate::support::planner::{date_of, planned};
use crate::support::random::{random_site, short_night};
use evenrun::cover::Changes;
use evenrun::plan::Plan;
use evenrun::site::{Site, WorkerId};
use evenrun::units::{Clock, Seconds, Span};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// A site, a plan for it that may be rough, and what changed.
#[derive(Debug)]
pub(crate) struct Night {
    pub(crate) site: Site,
    pub(crate) plan: Plan,
    pub(crate) changes: Changes,
}

/// The night of a seed; every third is one for which there is hardly time. The last of the crew is off duty on every fifth.
pub(crate) fn night(seed: u64) -> Night {
    let rng = &mut Pcg64Mcg::seed_from_u64(seed.wrapping_mul(977));
    let mut site = if seed.is_multiple_of(3) {
        short_night(seed)
    } else {
        random_site(seed)
    };
    let off = (seed.is_multiple_of(5) && site.crew.len() > 2).then(|| {
        let last = site.crew.len() - 1;
        let other_days = [jiff::civil::Weekday::Saturday];
        site.crew[last].days = evenrun::site::Weekdays::of(other_days);
        WorkerId::from(last)
    });
    let plan = planned(&site, 20 + seed % 30, seed).plan;
    let mut changes = changes(rng, &site);
    changes.extra.extend(off.filter(|_| rng.random_bool(0.7)));
    Night {
        site,
        plan,
        changes,
    }
}

/// What chance changes. Nothing, if nobody is there.
pub(super) fn changes(rng: &mut Pcg64Mcg, site: &Site) -> Changes {
    let present = site.present(date_of(site), &[]);
    if present.is_empty() {
        return Changes::default();
    }
    let mut free = present.clone();
    let mut someone = |rng: &mut Pcg64Mcg| {
        let at = rng.random_range(0..free.len());
        free.swap_remove(at)
    };
    let within = |rng: &mut Pcg64Mcg, worker: WorkerId| {
        let shift = site.crew[worker.index()].shift;
        Clock(rng.random_range(shift.from.0 - 600..shift.to.0))
    };
    let mut changes = Changes::default();
    let night = |rng: &mut Pcg64Mcg| Clock::at(16, 0) + Seconds::minutes(rng.random_range(0..480));
    match rng.random_range(0..4) {
        0 | 1 => changes.absent.push(someone(rng)),
        2 => {
            let who = someone(rng);
            changes.leaves.push((who, within(rng, who)));
        }
        _ => {
            let who = someone(rng);
            let shift = site.crew[who.index()].shift;
            let late = shift.from + Seconds::minutes(rng.random_range(10..90));
            changes.late.push((who, late.min(shift.to - Seconds(60))));
        }
    }
    if rng.random_bool(0.25) && present.len() > 1 {
        let who = someone(rng);
        changes.leaves.push((who, within(rng, who)));
    }
    if rng.random_bool(0.3) {
        changes.now = Some(night(rng));
    }
    if rng.random_bool(0.3) {
        changes.overtime = Some(Seconds::minutes(rng.random_range(0..45)));
    }
    if site.rooms.is_empty() {
        return changes;
    }
    let room = |rng: &mut Pcg64Mcg| rng.random_range(0..site.rooms.len()).into();
    if rng.random_bool(0.3) {
        let from = night(rng);
        let span = Span::new(from, from + Seconds::minutes(rng.random_range(10..180)));
        changes.closed.push((room(rng), span));
    }
    if rng.random_bool(0.4) {
        changes.added.push((
            room(rng),
            "spill".to_string(),
            Some(f64::from(rng.random_range(3..20))),
        ));
    }
    changes
}
