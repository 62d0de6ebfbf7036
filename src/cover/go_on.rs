//! From where, when and with what everybody goes on, and what of the past still binds the rest of the night.

use super::make::Repair;
use super::state::{free_from, state_after, to_finish};
use crate::plan::{PlannedStop, What};
use crate::route::{Begun, Break, Instance, Secs, can_end};
use crate::site::{Method, Site, WorkerId};
use crate::units::Seconds;
use crate::work::DueTask;
use itertools::Itertools;

impl Repair<'_> {
    /// Puts everybody in the state in which they go on.
    pub(super) fn go_on(
        &self,
        instance: &mut Instance,
        present: &[WorkerId],
        open: &[(WorkerId, u32)],
    ) {
        let Some(now) = self.site.now else {
            return;
        };
        let mut begun: Vec<Option<Begun>> = vec![None; present.len()];
        for (index, worker) in present.iter().enumerate() {
            let who = &mut instance.workers[index];
            let Some(past) = self.frozen.past.get(worker) else {
                who.available -= (now.0 as Secs - who.from).max(0);
                who.available = who.available.max(1);
                who.from = who.from.max(now.0 as Secs);
                continue;
            };
            let jobs = open
                .iter()
                .filter(|(w, _)| w == worker)
                .map(|(_, job)| *job)
                .collect_vec();
            let mut state = state_after(&self.site, *worker, past, &jobs);
            state.visits = to_finish(past, &jobs, self.to_come(*worker));
            // Who has walked without a cart so far cannot turn out to have had one.
            if !past.with_cart && past.stops.len() > 1 {
                who.with_cart = None;
            }
            let taken = |b: &Break| {
                let this = What::Break(b.index);
                past.stops.iter().any(|s| s.what == this)
            };
            who.breaks.retain(|b| !taken(b));
            let moment = self.changes.moment(*worker).unwrap_or(now);
            who.from = free_from(past, moment).0 as Secs;
            who.set_up = 0;
            let rest: Secs = who.breaks.iter().map(|b| b.length).sum();
            let reserve = self.site.policy.reserve.0 as Secs;
            who.available = (who.to - who.from - rest - reserve).max(1);
            begun[index] = Some(state);
        }
        self.back_before_lock_up(instance, present);
        instance.before.begun = begun;
        instance.before.holds = self.holds();
        self.wait_for_the_past(instance, open);
    }

    /// Everybody else is back before the last duty begins, which its worker is on the way to.
    fn back_before_lock_up(&self, instance: &mut Instance, present: &[WorkerId]) {
        let Some((locks_up, stop)) = self.frozen.last_duty(&self.site) else {
            return;
        };
        let others = present.iter().zip(&mut instance.workers);
        for (_, other) in others.filter(|(w, _)| **w != locks_up) {
            other.latest = other.latest.min(stop.span.from.0 as Secs);
            other.latest_unless_last = other.latest_unless_last.min(other.latest);
        }
    }

    fn to_come(&self, worker: WorkerId) -> &[PlannedStop] {
        let run = self.earlier.plan.runs.iter().find(|r| r.worker == worker);
        let behind = self.frozen.past.get(&worker).map_or(0, |p| p.behind);
        run.map_or(&[], |r| &r.stops[behind.min(r.stops.len())..])
    }

    /// Closures that are over and floors that may still be wet, on the limits in the order of [`pose`].
    fn holds(&self) -> Vec<(u16, Secs, Secs)> {
        let policy = &self.site.policy;
        let mut holds = Vec::new();
        for past in self.frozen.past.values() {
            for stop in &past.stops {
                let Some(room) = stop.what.room() else {
                    continue;
                };
                let (from, to) = (stop.span.from.0 as Secs, stop.span.to.0 as Secs);
                let pairs = policy.exit_pairs.iter().enumerate();
                let dry = drying(&self.site, stop.what.tasks());
                for (index, _) in pairs.filter(|(_, p)| dry.is_some() && p.contains(&room)) {
                    let until = to + dry.unwrap_or_default().0 as Secs;
                    holds.push(((policy.groups.len() + index) as u16, from, until));
                }
                let closes = self.site.kinds[self.site.rooms[room.index()].kind.index()].reopen;
                let open = past.open.iter().any(|o| o.room == room);
                let groups = policy.groups.iter().enumerate();
                let of = groups.filter(|(_, g)| g.rooms.contains(&room));
                for (index, _) in of.filter(|_| closes.is_some() && !open) {
                    holds.push((index as u16, from, to));
                }
            }
        }
        holds
    }

    /// The rest of a room that several people do waits for what is under way there.
    fn wait_for_the_past(&self, instance: &mut Instance, open: &[(WorkerId, u32)]) {
        let stops = self.frozen.past.values().flat_map(|p| &p.stops);
        for stop in stops.filter(|s| s.what.room().is_some()) {
            let jobs = (0..).zip(&mut instance.jobs);
            let rest = jobs.filter(|(index, _)| !open.iter().any(|(_, job)| job == index));
            for (_, job) in rest.filter(|(_, j)| j.place == stop.place.0 && !j.last) {
                job.not_before = job.not_before.max(stop.span.to.0 as Secs);
            }
        }
    }

    /// Those who leave or lock up, or cannot be home in time with what they have begun, only finish that. They and those who are home already are answered:
    /// their shifts may have ended later than is now said.
    pub(super) fn let_go(&self, instance: &mut Instance, present: &[WorkerId]) -> Vec<WorkerId> {
        let mut late = Vec::new();
        let last_out = self.frozen.last_duty(&self.site).map(|(w, _)| w);
        for (index, worker) in present.iter().enumerate() {
            let gone = self.frozen.past.get(worker).is_some_and(|p| p.gone);
            let leaves = self.changes.has_left(*worker);
            let locks_up = last_out == Some(*worker);
            if !gone && !leaves && !locks_up && can_end(instance, index) {
                continue;
            }
            let who = &mut instance.workers[index];
            who.latest = who.from.max(who.latest) + 4 * 3600;
            (who.latest_unless_last, who.to) = (who.latest, who.latest);
            // Their share is settled; it must not hide what the others have left.
            who.available = 24 * 3600;
            let own = instance
                .before
                .begun(index)
                .map(|b| b.open.clone())
                .unwrap_or_default();
            for (job, source) in instance.jobs.iter_mut().enumerate() {
                source.eligible[index] &= own.iter().any(|o| o.job as usize == job);
            }
            late.push(*worker);
        }
        late
    }
}

/// How long the floor dries that is mopped with these tasks.
fn drying(site: &Site, tasks: &[DueTask]) -> Option<Seconds> {
    let each = tasks.iter().filter_map(|t| match t.task(site).method {
        Method::Mop { drying } => Some(drying),
        _ => None,
    });
    each.max()
}
