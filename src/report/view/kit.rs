//! What to take along: keys, what the work of a run uses, and machines, grouped by what each is for.

use super::{floor_id, names};
use crate::plan::{Run, What};
use crate::report::words::Words;
use crate::site::{AccessId, MachineId, PlaceId, Site};
use std::collections::BTreeSet;

/// Things for one purpose.
#[derive(Clone, Debug)]
pub(in crate::report) struct Kit {
    /// What for.
    pub(in crate::report) purpose: String,
    /// The things.
    pub(in crate::report) things: Vec<String>,
}

/// Purposes by the step of work that a thing is first used in: open, spray, dry, wipe, mop.
const PURPOSES: [&str; 5] = ["kit-close", "kit-wipe", "kit-dry", "kit-wipe", "kit-floor"];

/// Everything, keys first; groups without anything are left out, and what several need is listed once.
pub(super) fn kit(site: &Site, words: &Words, run: &Run) -> Vec<Kit> {
    let mut groups = vec![Kit {
        purpose: words.say("kit-keys"),
        things: keys(site, run),
    }];
    let mut listed = BTreeSet::new();
    for purpose in ["kit-close", "kit-wipe", "kit-dry", "kit-floor"] {
        let tasks = run.stops.iter().flat_map(|s| s.what.tasks());
        let here = tasks
            .map(|due| due.task(site))
            .filter(|t| PURPOSES.get(usize::from(t.method.step())) == Some(&purpose));
        let named: BTreeSet<&String> = here.flat_map(|task| &task.supplies).collect();
        let new = named
            .into_iter()
            .filter(|thing| listed.insert((*thing).clone()));
        groups.push(Kit {
            purpose: words.say(purpose),
            things: new.map(|thing| words.known(thing)).collect(),
        });
    }
    groups.push(Kit {
        purpose: words.say("kit-machines"),
        things: machines(site, run),
    });
    groups.retain(|group| !group.things.is_empty());
    groups
}

fn keys(site: &Site, run: &Run) -> Vec<String> {
    let mut needed: BTreeSet<AccessId> = BTreeSet::new();
    for stop in &run.stops {
        needed.extend(door_keys(site, stop.place));
        let room = stop.what.room();
        needed.extend(room.iter().flat_map(|r| &site.rooms[r.index()].needs));
    }
    needed
        .into_iter()
        .map(|a| site.access[a.index()].clone())
        .collect()
}

fn door_keys(site: &Site, place: PlaceId) -> impl Iterator<Item = &AccessId> {
    site.places[place.index()]
        .door
        .iter()
        .flat_map(|d| d.needs.iter())
}

/// Each with the closet it is fetched from.
fn machines(site: &Site, run: &Run) -> Vec<String> {
    let fetched = run.stops.iter().filter_map(|s| match s.what {
        What::Fetch(machine) => Some(machine),
        _ => None,
    });
    let machines: BTreeSet<MachineId> = fetched.collect();
    let told = |machine: MachineId| {
        let machine = &site.machines[machine.index()];
        let closet = site.place_of_closet(machine.closet);
        let floor = &site.floors[floor_id(site, closet).index()].id;
        format!("{} ({}, {floor})", machine.name, names::place(site, closet))
    };
    machines.into_iter().map(told).collect()
}
