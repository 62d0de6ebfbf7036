//! Whether a site has more of something than is planned for: told where it begins to be too much, before anything is made of it.

use super::at::At;
use super::gather::Written;
use super::limits;
use super::log::{Log, Pos};
use std::iter::repeat_n;

/// Things of one sort: in words, how many there may be, and where they are.
type Amount<'a> = (&'static str, usize, Box<dyn Iterator<Item = Pos> + 'a>);

impl Written {
    /// Whether there is more of something than a site may have.
    pub(crate) fn is_too_much(&self, log: &Log) -> bool {
        let amounts = self.building().into_iter().chain(self.work());
        let mut any = false;
        for (what, most, mut places) in amounts.chain(self.parts()) {
            if let Some(pos) = places.nth(most) {
                let hint = format!("there may be {most}; divide the site into several");
                log.error("E110", pos, format!("too many {what}"), hint);
                any = true;
            }
        }
        any
    }

    fn building(&self) -> Vec<Amount<'_>> {
        let raw = &self.site;
        let rooms = self.rooms.iter().map(|r| r.id.pos);
        let closets = raw.closets.iter().map(|c| c.id.pos);
        let others = raw.places.iter().map(|p| p.id.pos);
        let places = rooms.clone().chain(closets).chain(others);
        let floors = raw.floors.iter().map(|f| f.id.pos);
        let halls = raw.halls.iter().map(|h| h.id.pos);
        let ways = || self.ways().into_iter();
        let pairs = ways().flat_map(|(pos, landings)| repeat_n(pos, landings * landings));
        vec![
            ("rooms", limits::ROOMS, Box::new(rooms)),
            ("places", limits::PLACES, Box::new(places)),
            ("floors", limits::FLOORS, Box::new(floors)),
            ("halls", limits::HALLS, Box::new(halls)),
            ("ways", limits::WAYS, Box::new(ways().map(|(pos, _)| pos))),
            ("landings of ways", limits::LANDING_PAIRS, Box::new(pairs)),
        ]
    }

    /// Every way, and how many landings it has.
    fn ways(&self) -> Vec<(Pos, usize)> {
        let raw = &self.site;
        let way = |id: &At<String>, landings: &[At<String>]| (id.pos, landings.len());
        let stairs = raw.stairs.iter().map(|w| way(&w.id, &w.landings));
        let lifts = raw.lifts.iter().map(|w| way(&w.id, &w.landings));
        let level = [&raw.ramps, &raw.links, &raw.outdoor];
        let level = level.into_iter().flatten();
        let level = level.map(|w| way(&w.id, &w.landings));
        stairs.chain(lifts).chain(level).collect()
    }

    fn work(&self) -> Vec<Amount<'_>> {
        let raw = &self.site;
        let crew = self.crew.iter().map(|w| w.name.pos);
        let kinds = self.standard.iter().map(|k| k.kind.pos);
        let machines = raw.machines.iter().map(|m| m.id.pos);
        let skills = raw.skills.iter().map(|s| s.pos);
        let access = raw.access.iter().map(|a| a.pos);
        let duties = raw.duties.iter().map(|d| d.name.pos);
        let policy = raw.policy.iter();
        let groups = policy.clone().flat_map(|p| &p.groups).map(|g| g.name.pos);
        let pairs = policy.flat_map(|p| &p.exit_pairs).map(|p| p.pos);
        vec![
            ("workers", limits::WORKERS, Box::new(crew)),
            ("room kinds", limits::KINDS, Box::new(kinds)),
            ("machines", limits::MACHINES, Box::new(machines)),
            ("skills", limits::KEYS, Box::new(skills)),
            ("keys and clearances", limits::KEYS, Box::new(access)),
            ("duties", limits::DUTIES, Box::new(duties)),
            (
                "groups and exit pairs",
                limits::GROUPS,
                Box::new(groups.chain(pairs)),
            ),
        ]
    }

    /// What each worker and each kind has.
    fn parts(&self) -> impl Iterator<Item = Amount<'_>> {
        let breaks = self.crew.iter().map(|worker| -> Amount<'_> {
            let places = worker.breaks.iter().map(|b| b.name.pos);
            ("breaks of a worker", limits::BREAKS, Box::new(places))
        });
        let tasks = self.standard.iter().map(|kind| -> Amount<'_> {
            let places = kind.tasks.iter().map(|t| t.task.pos);
            ("tasks of a room kind", limits::TASKS, Box::new(places))
        });
        breaks.chain(tasks)
    }
}
