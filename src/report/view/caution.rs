//! The usual cautions, and which of them a stop calls for.
//!
//! They are reminders, common practice in the trade (no source): the product label, the site's own rules and local codes
//! decide, and every card says so.

use crate::plan::{PlannedStop, What};
use crate::site::{Method, Site};
use std::collections::BTreeSet;

/// A caution for a card, in the order printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::report) enum Caution {
    /// Cleaning products are used.
    Chemicals,
    /// A floor is left wet.
    WetFloor,
    /// Bins are emptied or restrooms cleaned.
    Sharps,
    /// Buckets, bags or heavy things are lifted.
    Lifting,
    /// A machine is used.
    Machine,
    /// A room is closed to its users.
    ClosedRoom,
    /// Everyone, at night.
    Alone,
    /// Who has the last word.
    LastWord,
}

impl Caution {
    /// What it is about, and what to do: the names of two messages.
    pub(in crate::report) fn messages(self) -> (&'static str, &'static str) {
        match self {
            Caution::Chemicals => ("mind-chemicals", "mind-chemicals-do"),
            Caution::WetFloor => ("mind-wet", "mind-wet-do"),
            Caution::Sharps => ("mind-sharps", "mind-sharps-do"),
            Caution::Lifting => ("mind-lifting", "mind-lifting-do"),
            Caution::Machine => ("mind-machine", "mind-machine-do"),
            Caution::ClosedRoom => ("mind-closed", "mind-closed-do"),
            Caution::Alone => ("mind-alone", "mind-alone-do"),
            Caution::LastWord => ("mind-last", "mind-last-do"),
        }
    }

    /// What a stop calls for.
    pub(in crate::report) fn of_stop(site: &Site, stop: &PlannedStop) -> BTreeSet<Caution> {
        let mut cautions = BTreeSet::from([Caution::Alone, Caution::LastWord]);
        match &stop.what {
            What::Fill => cautions.extend([Caution::Lifting, Caution::Chemicals]),
            What::Dump => cautions.extend([Caution::Lifting, Caution::Sharps]),
            What::Fetch(_) | What::Return(_) => cautions.extend([Caution::Machine]),
            _ => {}
        }
        if let Some(room) = stop.what.room() {
            let kind = &site.kinds[site.rooms[room.index()].kind.index()];
            cautions.extend(kind.restroom.then_some(Caution::Sharps));
            cautions.extend(kind.reopen.is_some().then_some(Caution::ClosedRoom));
        }
        for due in stop.what.tasks() {
            let task = due.task(site);
            match task.method {
                Method::Mop { .. } => cautions.extend([Caution::Chemicals, Caution::WetFloor]),
                Method::Spray { .. } | Method::Wipe => cautions.extend([Caution::Chemicals]),
                Method::Open | Method::Dry => {}
            }
            let waste = due.waste_litres(site) > 0.0;
            cautions.extend(waste.then_some(Caution::Sharps));
            cautions.extend((waste || task.heavy).then_some(Caution::Lifting));
            cautions.extend(task.machine.map(|_| Caution::Machine));
        }
        cautions
    }
}
