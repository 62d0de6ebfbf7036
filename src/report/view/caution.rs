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
    /// What it is about, and what to do.
    pub(in crate::report) fn words(self) -> (&'static str, &'static str) {
        match self {
            Caution::Chemicals => (
                "Chemicals",
                "Follow the product label, for gloves and eyes too. Never mix products. The contact time is the label's, \
                 not this sheet's.",
            ),
            Caution::WetFloor => (
                "Wet floors",
                "Signs out before mopping; they stay until the floor is dry. Keep exits and ways out clear of carts, \
                 buckets and cords.",
            ),
            Caution::Sharps => (
                "Sharps, blood, body fluids",
                "Do not touch. Never reach into a bin or press a bag down. Keep others away, report it, and follow the \
                 site's procedure.",
            ),
            Caution::Lifting => (
                "Lifting",
                "Fill buckets and bags only as far as you can carry safely, lift with straight back and bent knees, and \
                 ask for help with more.",
            ),
            Caution::Machine => (
                "Machines",
                "Only if you are trained on it. Look over cord and plug first; switch off and unplug before changing or \
                 emptying anything.",
            ),
            Caution::ClosedRoom => (
                "Closed rooms",
                "Knock, call and make sure the room is empty before closing it; keep the sign up until it is open again.",
            ),
            Caution::Alone => (
                "Working alone",
                "Keep a phone or radio on you and keep to the site's check-in times. Leave at once if something feels wrong.",
            ),
            Caution::LastWord => (
                "Who has the last word",
                "Product labels, the site's own rules and local codes come before this sheet; work that needs a licence is \
                 for those who hold it. Times are planning figures: never cut a contact or drying time short to keep one.",
            ),
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
