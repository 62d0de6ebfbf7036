//! One way of having got so far along a run: when, at what load, with how much left in the bucket.
//!
//! For a fixed order of stops the only choices are where to fill, where to dump and when to rest. All of them that may
//! still turn out best are carried along as labels (dynamic programming with dominance; Desrochers 1988; Irnich and
//! Desaulniers 2005, doi:10.1007/0-387-25486-2_2).

use super::instance::{Job, Secs};
use super::order::ToCome;

/// A job begun and not yet finished.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Pending {
    pub(super) job: u32,
    /// Start of its first part.
    pub(super) start: Secs,
    /// End of its latest part.
    pub(super) end: Secs,
}

/// A floor of an exit pair that this run has mopped.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Wet {
    pub(super) limit: u16,
    pub(super) until: Secs,
}

/// How many jobs one run may have open at once. Three restrooms in turn is the most that dwell times leave room for.
pub(super) const PENDING: usize = 4;

/// How many wet floors of exit pairs are remembered; they are dry again a few stops later.
pub(super) const WET: usize = 4;

/// What was done in the gap before a stop.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Gap {
    pub(super) rests: u8,
    pub(super) dump: bool,
    pub(super) fill: bool,
    /// Whether the bucket is filled before the cart is emptied.
    pub(super) fill_first: bool,
}

/// What the water in the bucket was used for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Water {
    /// Fresh, or no water at all.
    #[default]
    Unused,
    /// A restroom.
    Restroom,
    /// Any other room.
    Elsewhere,
}

impl Water {
    /// What water is used for in a job's room.
    pub(super) fn used_in(job: &Job) -> Water {
        if job.restroom {
            Water::Restroom
        } else {
            Water::Elsewhere
        }
    }
}

/// One way of having got so far.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Label {
    /// When the worker is free.
    pub(super) time: Secs,
    /// Busy so far.
    pub(super) load: Secs,
    /// Neither busy nor resting so far.
    pub(super) idle: Secs,
    /// Closed room time so far.
    pub(super) closed: Secs,
    /// Change against the plan before so far, in points.
    pub(super) moved: i32,
    /// Rest taken so far.
    pub(super) rested: Secs,
    pub(super) waste: i32,
    /// Floor the bucket still mops, and rooms it still serves.
    pub(super) area: i32,
    pub(super) rooms: u8,
    pub(super) water: Water,
    /// Breaks taken.
    pub(super) rests: u8,
    pub(super) pendings: u8,
    pub(super) wets: u8,
    /// The label it came from, at the stop before.
    pub(super) parent: u8,
    pub(super) gap: Gap,
    pub(super) pending: [Pending; PENDING],
    pub(super) wet: [Wet; WET],
}

impl Label {
    fn water_at_least(&self, other: &Label) -> bool {
        other.rooms == 0
            || (self.rooms >= other.rooms
                && self.area >= other.area
                && (self.water == other.water || self.water == Water::Unused))
    }

    /// Whether the bucket serves everything that is still to be mopped.
    pub(super) fn water_lasts(&self, to_come: &ToCome) -> bool {
        let fits = match self.water {
            Water::Unused => !(to_come.restrooms && to_come.others),
            Water::Restroom => !to_come.others,
            Water::Elsewhere => !to_come.restrooms,
        };
        let enough = i64::from(self.area) >= to_come.area && u32::from(self.rooms) >= to_come.rooms;
        let untouched = self.water == Water::Unused && self.rooms > 0;
        fits && enough && (untouched || !to_come.big)
    }

    /// Whether nothing that can follow is better after `other` than after this.
    fn dominates(&self, other: &Label) -> bool {
        self.rests == other.rests
            && self.time <= other.time
            && self.load <= other.load
            && self.waste <= other.waste
            && self.water_at_least(other)
            && self
                .open_jobs()
                .iter()
                .zip(other.open_jobs())
                .all(|(a, b)| a.end <= b.end)
            && self
                .wet_floors()
                .iter()
                .zip(other.wet_floors())
                .all(|(a, b)| a.until <= b.until)
    }

    pub(super) fn open_jobs(&self) -> &[Pending] {
        &self.pending[..usize::from(self.pendings)]
    }

    pub(super) fn wet_floors(&self) -> &[Wet] {
        &self.wet[..usize::from(self.wets)]
    }

    /// Remembers a job that has parts to come. False if too many are open.
    pub(super) fn open(&mut self, pending: Pending) -> bool {
        let count = usize::from(self.pendings);
        if count == PENDING {
            return false;
        }
        self.pending[count] = pending;
        self.pendings += 1;
        true
    }

    /// Forgets a job, keeping the order of the others.
    pub(super) fn take(&mut self, job: u32) -> Option<Pending> {
        let count = usize::from(self.pendings);
        let at = self.open_jobs().iter().position(|p| p.job == job)?;
        let found = self.pending[at];
        self.pending.copy_within(at + 1..count, at);
        self.pendings -= 1;
        Some(found)
    }

    /// Remembers a wet floor, forgetting the oldest if need be. False if the oldest is not dry yet.
    pub(super) fn soak(&mut self, wet: Wet, now: Secs) -> bool {
        if usize::from(self.wets) == WET {
            if self.wet[0].until > now {
                return false;
            }
            self.wet.copy_within(1.., 0);
            self.wets -= 1;
        }
        self.wet[usize::from(self.wets)] = wet;
        self.wets += 1;
        true
    }

    /// What to keep first when there are too many: busy and late are bad, rest is not.
    fn badness(&self) -> Secs {
        self.load + self.time - self.rested
    }
}

/// How many labels are kept at a stop. With too few, the choice of fills and rests is no longer always the best one; with more,
/// the search is slower.
pub(super) const LABELS: usize = 4;

/// How many when a run is timed thoroughly.
pub(super) const MANY_LABELS: usize = 40;

/// Adds a label unless a kept one dominates it; drops those it dominates, and the worst if there are more than `most`.
pub(super) fn keep(labels: &mut Vec<Label>, new: &Label, most: usize) {
    if labels.iter().any(|l| l.dominates(new)) {
        return;
    }
    labels.retain(|l| !new.dominates(l));
    labels.push(*new);
    if labels.len() > most {
        let worst = (0..labels.len())
            .max_by_key(|i| labels[*i].badness())
            .unwrap_or(0);
        labels.remove(worst);
    }
}
