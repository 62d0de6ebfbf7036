//! The standard: the site's kinds over the built-in ones, and the site's machines.

use super::Names;
use super::names::Index;
use super::values::count;
use crate::input::at::At;
use crate::input::log::{Log, Pos};
use crate::input::raw::{RawKind, RawMachine, RawTask};
use crate::site::{ClosetId, Machine};

/// A kind after merging: still as written.
pub(super) struct Merged<'a> {
    /// Where its id was written, the site's own place if it has one.
    pub(super) id: &'a At<String>,
    /// Whether water used here is used nowhere else.
    pub(super) restroom: bool,
    /// Minutes to open it again, if it is closed.
    pub(super) reopen_min: Option<&'a At<f64>>,
    /// Its tasks.
    pub(super) tasks: Vec<&'a RawTask>,
}

impl Merged<'_> {
    /// Where its tasks were written, in the order in which the site has them.
    pub(super) fn task_positions(&self) -> Vec<Pos> {
        self.in_order().iter().map(|t| t.task.pos).collect()
    }

    /// Tasks in the order in which they are done.
    pub(super) fn in_order(&self) -> Vec<&RawTask> {
        let mut tasks = self.tasks.clone();
        tasks.sort_by_key(|t| t.how.as_ref().map(|h| h.value).unwrap_or_default());
        tasks
    }
}

/// Lays the site's kinds over the built-in ones: what a kind does not say stays, a task of the same name is replaced.
pub(super) fn merge<'a>(builtin: &'a [RawKind], own: &'a [RawKind], log: &Log) -> Vec<Merged<'a>> {
    let mut merged: Vec<Merged<'a>> = Vec::new();
    twice(builtin, log);
    twice(own, log);
    for kind in builtin.iter().chain(own) {
        twice_in_kind(kind, log);
        let id = kind.kind.value.trim();
        let place = merged
            .iter()
            .position(|m| m.id.value.trim() == id)
            .unwrap_or_else(|| {
                merged.push(Merged {
                    id: &kind.kind,
                    restroom: false,
                    reopen_min: None,
                    tasks: Vec::new(),
                });
                merged.len() - 1
            });
        overlay(&mut merged[place], kind, log);
    }
    merged
}

fn overlay<'a>(merged: &mut Merged<'a>, kind: &'a RawKind, log: &Log) {
    merged.id = &kind.kind;
    merged.restroom = kind.restroom.unwrap_or(merged.restroom);
    merged.reopen_min = kind
        .reopen_min
        .as_ref()
        .or(merged.reopen_min)
        .filter(|_| kind.closes != Some(false));
    for name in kind.drop.iter().filter(|n| n.sound) {
        let known: Vec<String> = merged.tasks.iter().map(|t| t.task.value.clone()).collect();
        if !known.contains(&name.value) {
            let message = format!("`{}` has no task `{}` to drop", kind.kind.value, name.value);
            log.error("E312", name.pos, message, log.near(&name.value, &known));
        }
    }
    merged
        .tasks
        .retain(|t| !kind.drop.iter().any(|name| name.value == t.task.value));
    for task in &kind.tasks {
        match merged
            .tasks
            .iter_mut()
            .find(|t| t.task.value == task.task.value)
        {
            Some(place) => *place = task,
            None => merged.tasks.push(task),
        }
    }
}

fn twice(kinds: &[RawKind], log: &Log) {
    Index::of("room kind", "", kinds.iter().map(|k| &k.kind), log);
}

fn twice_in_kind(kind: &RawKind, log: &Log) {
    Index::of("task", "", kind.tasks.iter().map(|t| &t.task), log);
}

/// The ids of the merged kinds.
pub(super) fn index(merged: &[Merged<'_>]) -> Index {
    // Doubles were told while merging.
    Index::of(
        "room kind",
        "E305",
        merged.iter().map(|m| m.id),
        &Log::default(),
    )
}

/// The site's machines.
pub(super) fn machines(raw: &[RawMachine], names: &Names, log: &Log) -> Vec<Machine> {
    let machine = |m: &RawMachine| {
        if let Some(none) = m.units.as_ref().filter(|u| u.sound && u.value == 0) {
            let message = format!("there is no unit of machine `{}`", m.id.value);
            log.error(
                "E504",
                none.pos,
                message,
                "give the number of units, or leave the machine out",
            );
        }
        Machine {
            name: m.id.value.trim().to_string(),
            units: count(
                log,
                "units",
                m.units.as_ref().filter(|u| u.value > 0),
                1..=10_000,
                1,
            ),
            closet: ClosetId::from(names.closets.find(&m.closet, log).unwrap_or(0)),
        }
    };
    raw.iter().map(machine).collect()
}
