//! Whether a site has more of something than is planned for: told before anything is made of it.

use super::gather::Written;
use super::limits;
use super::log::{Log, Pos};

impl Written {
    /// Whether there is more of something than a site may have; that is told where it begins to be too much.
    pub(crate) fn is_too_much(&self, log: &Log) -> bool {
        let before = log.errors();
        let raw = &self.site;
        let told = |what: &str, most: usize, pos: Pos| {
            let hint = format!("a site has at most {most}; divide it into several");
            log.error("E110", pos, format!("too many {what}"), hint);
        };
        let mut at_most = |what: &str, most: usize, ids: &mut dyn Iterator<Item = Pos>| {
            if let Some(pos) = ids.nth(most) {
                told(what, most, pos);
            }
        };
        let rooms = || self.rooms.iter().map(|r| r.id.pos);
        let closets = || raw.closets.iter().map(|c| c.id.pos);
        at_most("rooms", limits::ROOMS, &mut rooms());
        let others = raw.places.iter().map(|p| p.id.pos);
        at_most(
            "rooms, closets and places together",
            limits::PLACES,
            &mut rooms().chain(closets()).chain(others),
        );
        at_most(
            "workers",
            limits::WORKERS,
            &mut self.crew.iter().map(|w| w.name.pos),
        );
        at_most(
            "floors",
            limits::FLOORS,
            &mut raw.floors.iter().map(|f| f.id.pos),
        );
        at_most(
            "halls",
            limits::HALLS,
            &mut raw.halls.iter().map(|h| h.id.pos),
        );
        at_most(
            "machines",
            limits::MACHINES,
            &mut raw.machines.iter().map(|m| m.id.pos),
        );
        at_most(
            "skills",
            limits::KEYS,
            &mut raw.skills.iter().map(|s| s.pos),
        );
        at_most(
            "keys and clearances",
            limits::KEYS,
            &mut raw.access.iter().map(|a| a.pos),
        );
        at_most(
            "duties",
            limits::DUTIES,
            &mut raw.duties.iter().map(|d| d.name.pos),
        );
        at_most(
            "room kinds",
            limits::KINDS,
            &mut self.standard.iter().map(|k| k.kind.pos),
        );
        for worker in &self.crew {
            at_most(
                "breaks of a worker",
                limits::BREAKS,
                &mut worker.breaks.iter().map(|b| b.name.pos),
            );
        }
        for kind in &self.standard {
            at_most(
                "tasks of a room kind",
                limits::TASKS,
                &mut kind.tasks.iter().map(|t| t.task.pos),
            );
        }
        if let Some(policy) = &raw.policy {
            let pairs = policy.exit_pairs.iter().map(|p| p.pos);
            let mut all = policy.groups.iter().map(|g| g.name.pos).chain(pairs);
            at_most("groups and exit pairs together", limits::GROUPS, &mut all);
        }
        self.ways(&mut at_most);
        log.errors() > before
    }

    /// Ways, and the pairs of their landings.
    fn ways(&self, at_most: &mut dyn FnMut(&str, usize, &mut dyn Iterator<Item = Pos>)) {
        let raw = &self.site;
        let level = [&raw.ramps, &raw.links, &raw.outdoor].into_iter().flatten();
        let ways = raw.stairs.iter().map(|w| (w.id.pos, w.landings.len()));
        let ways = ways.chain(raw.lifts.iter().map(|w| (w.id.pos, w.landings.len())));
        let ways: Vec<(Pos, usize)> = ways
            .chain(level.map(|w| (w.id.pos, w.landings.len())))
            .collect();
        at_most("ways", limits::WAYS, &mut ways.iter().map(|(pos, _)| *pos));
        let pairs = ways.iter().flat_map(|(pos, landings)| {
            std::iter::repeat_n(*pos, landings.saturating_mul(*landings))
        });
        at_most(
            "pairs of landings",
            limits::LANDING_PAIRS,
            &mut pairs.into_iter(),
        );
    }
}
