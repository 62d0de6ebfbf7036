//! Rule 11: work with a machine lies between fetching one from its closet and bringing it back; no more runs fetch a machine
//! than there are units of it.

use super::findings::{Findings, exact};
use super::rule::Rule;
use crate::plan::What;
use crate::plan::reading::{ReadRun, Reading};
use crate::site::MachineId;
use itertools::Itertools;
use std::collections::BTreeSet;

/// The machines of one run.
pub(super) fn of_run(_: &Reading, run: &ReadRun, found: &mut Findings) {
    let mut held: BTreeSet<MachineId> = BTreeSet::new();
    for (at, stop) in run.stops.iter().enumerate() {
        let name = |machine: MachineId| &run.site.machines[machine.index()].name;
        match stop.what {
            What::Fetch(machine) => {
                is_at_its_closet(run, at, machine, found);
                if !held.insert(machine) {
                    found.at_stop(
                        Rule::Machines,
                        run,
                        at,
                        &format!("`{}` is fetched already", name(machine)),
                    );
                }
            }
            What::Return(machine) => {
                is_at_its_closet(run, at, machine, found);
                if !held.remove(&machine) {
                    found.at_stop(
                        Rule::Machines,
                        run,
                        at,
                        &format!("`{}` was not fetched before", name(machine)),
                    );
                }
            }
            _ => is_at_hand(run, at, &held, found),
        }
    }
    for machine in held {
        let problem = format!(
            "`{}` is not brought back",
            run.site.machines[machine.index()].name
        );
        found.in_run(Rule::Machines, run, &problem);
    }
}

fn is_at_its_closet(run: &ReadRun, at: usize, machine: MachineId, found: &mut Findings) {
    let (stop, machine) = (&run.stops[at], &run.site.machines[machine.index()]);
    let closet = run.site.place_of_closet(machine.closet);
    if stop.place != closet {
        let (name, right) = (&machine.name, &run.site.places[closet.index()].id);
        found.at_stop(
            Rule::Machines,
            run,
            at,
            &format!("`{name}` is kept in `{right}`"),
        );
    }
    let (needed, planned) = (run.site.policy.fetch, stop.span.to - stop.span.from);
    if planned != needed {
        let problem = format!("takes {}, planned are {}", exact(needed), exact(planned));
        found.at_stop(Rule::Machines, run, at, &problem);
    }
}

fn is_at_hand(run: &ReadRun, at: usize, held: &BTreeSet<MachineId>, found: &mut Findings) {
    for task in run.stops[at].what.tasks().iter().map(|t| t.task(run.site)) {
        if let Some(machine) = task.machine.filter(|m| !held.contains(m)) {
            let machine = &run.site.machines[machine.index()].name;
            let problem = format!("`{}` needs `{machine}`, which is not at hand", task.name);
            found.at_stop(Rule::Machines, run, at, &problem);
        }
    }
}

/// The units of each machine against the runs that fetch one.
pub(super) fn across(reading: &Reading, found: &mut Findings) {
    for (index, machine) in reading.site.machines.iter().enumerate() {
        let fetches = |run: &&ReadRun| {
            run.stops
                .iter()
                .any(|s| s.what == What::Fetch(MachineId::from(index)))
        };
        let users: Vec<&str> = reading
            .runs
            .iter()
            .filter(fetches)
            .map(|run| run.worker.name.as_str())
            .collect();
        if users.len() > machine.units as usize {
            let (name, units, users) = (&machine.name, machine.units, users.iter().join(", "));
            found.in_plan(
                Rule::Machines,
                format!("`{name}`: there are {units}, but it is fetched by {users}"),
            );
        }
    }
}
