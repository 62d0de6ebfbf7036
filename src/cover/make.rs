//! The recipe of a cover plan.

use super::changes::Changes;
use super::frozen::{Frozen, freeze};
use super::known::stay_near;
use super::night;
use super::saved_by::{Saver, saved_by};
use super::state::{free_from, state_after, to_finish};
use crate::balance::{Bound, Certificate, bound};
use crate::plan::{
    Afterwards, Made, Misfit, Plan, PlannedStop, Tonight, Undone, UndoneWork, compose, measure,
    settle,
};
use crate::route::{
    Begun, Found, Instance, Question, Secs, Settings, Standing, Stop, can_end, pose, search,
};
use crate::site::{Calendar, Method, PlaceId, RoomId, Site, WorkerId};
use crate::units::{Clock, Seconds};
use crate::walk::{Walks, ideal_times};
use crate::work::{DueTask, Job, Jobs, Target, due_on, gather};
use itertools::Itertools;
use std::collections::BTreeSet;

/// The plan before, and the night it was made for.
#[derive(Clone, Copy, Debug)]
pub struct Earlier<'a> {
    /// The plan.
    pub plan: &'a Plan,
    /// Who was away then.
    pub absent: &'a [WorkerId],
    /// How that night differed from what the site says.
    pub tonight: &'a Tonight,
}

/// What a cover plan is made for.
#[derive(Clone, Copy, Debug)]
pub struct Request<'a> {
    /// The site as it is written.
    pub site: &'a Site,
    /// What people know.
    pub earlier: Earlier<'a>,
    /// What changed.
    pub changes: &'a Changes,
    /// How much calm is worth against evenness, from 0 to 10.
    pub steady: u8,
    /// How long and how to search.
    pub settings: Settings<'a>,
}

/// A cover plan.
#[derive(Clone, Debug)]
pub struct Covered {
    /// The night's copy of the site.
    pub site: Site,
    /// How it differs.
    pub tonight: Tonight,
    /// Who is away for the whole night.
    pub absent: Vec<WorkerId>,
    /// The plan before, its breaks counted as those of the new one; breaks that nobody takes any more are left out.
    pub before: Plan,
    /// The plan.
    pub made: Made,
    /// Whether its bound holds: not when part of the night is behind.
    pub proven: bool,
    /// For each entry of the plan's undone work the smallest thing that would have saved it.
    pub savers: Vec<Option<Saver>>,
}

/// Repairs a plan.
///
/// `watch` is told now and then how far the search is (0 to 1) and where its best plan stands.
///
/// # Errors
/// Changes that name what the site does not have, or leave nothing of a shift.
///
/// # Complexity
/// As [`crate::plan::make`].
pub fn cover(
    request: &Request,
    watch: &mut dyn FnMut(f64, &Standing),
) -> Result<Covered, Vec<Misfit>> {
    let Request { site, earlier, .. } = *request;
    let date = earlier.plan.date;
    let calendar = Calendar::new(date, site.time_zone.as_deref());
    let changes = &request.changes.clone().never_come(site, &calendar);
    let request = &Request {
        changes,
        ..*request
    };
    let frozen = frozen_of(request, &calendar)?;
    let tonight = night::tonight(site, &calendar, &earlier, changes, &frozen);
    let mut absent = earlier.absent.to_vec();
    absent.retain(|w| !changes.extra.contains(w));
    absent.extend(&changes.absent);
    let absent = absent.into_iter().sorted_unstable().dedup().collect_vec();
    let mut repair = Repair {
        site: tonight.apply(site, date)?,
        written: site,
        calendar,
        earlier,
        tonight,
        absent,
        changes,
        frozen,
    };
    repair.recount();
    repair.made(request, watch)
}

/// What has begun in the plan before.
fn frozen_of(request: &Request, calendar: &Calendar) -> Result<Frozen, Vec<Misfit>> {
    let Request {
        site,
        earlier,
        changes,
        ..
    } = *request;
    let Some(now) = changes.now() else {
        return Ok(Frozen::default());
    };
    let before = earlier.tonight.apply(site, earlier.plan.date)?;
    let present = before.present(earlier.plan.date, earlier.absent);
    let walks = Walks::of(&before, calendar, &present);
    let leaving = leaving(changes);
    let mut frozen = freeze(&before, earlier.plan, now, &leaving, &walks);
    if let Some(done) = &changes.done {
        frozen
            .only(done)
            .map_err(|room| vec![ahead(&before, room, now)])?;
    }
    // Who has not come has not begun either.
    let came =
        |w: &WorkerId| !changes.absent.contains(w) && changes.late.iter().all(|(l, _)| l != w);
    frozen.past.retain(|w, _| came(w));
    Ok(frozen)
}

/// A room that is done though the plan has it later.
fn ahead(site: &Site, room: RoomId, now: Clock) -> Misfit {
    let id = &site.rooms[room.index()].id;
    let now = now.hour_minute();
    Misfit::new("done", format!("`{id}` is said to be done, but in the plan nobody has begun it by {now}"))
        .hint("only rooms that the plan has begun by then can be listed; one done ahead of its time is done again, so leave it out and tell its worker")
}

/// Who leaves right then.
fn leaving(changes: &Changes) -> Vec<WorkerId> {
    let gone = |(_, at): &&(WorkerId, Clock)| changes.now().is_some_and(|now| *at <= now);
    changes
        .leaves
        .iter()
        .filter(gone)
        .map(|(w, _)| *w)
        .collect()
}

/// A night under repair.
struct Repair<'a> {
    site: Site,
    written: &'a Site,
    calendar: Calendar,
    earlier: Earlier<'a>,
    tonight: Tonight,
    absent: Vec<WorkerId>,
    changes: &'a Changes,
    frozen: Frozen,
}

impl Repair<'_> {
    /// Breaks of the past are counted by what is left of each worker's list.
    fn recount(&mut self) {
        let nights = (self.earlier.tonight, &self.tonight);
        for (worker, past) in &mut self.frozen.past {
            night::recount(self.written, *worker, nights, &mut past.stops);
        }
    }

    fn made(
        mut self,
        request: &Request,
        watch: &mut dyn FnMut(f64, &Standing),
    ) -> Result<Covered, Vec<Misfit>> {
        let present = self.site.present(self.calendar.date(), &self.absent);
        let walks = Walks::of(&self.site, &self.calendar, &present);
        let staying = self.staying(&present);
        let (jobs, missed) = self.jobs(&staying, &walks);
        let question = Question {
            site: &self.site,
            calendar: &self.calendar,
            present: &present,
            walks: &walks,
            jobs: &jobs.jobs,
        };
        let mut instance = pose(&question);
        let open = self.open_jobs(&jobs);
        self.go_on(&mut instance, &present, &open);
        let late = self.let_go(&mut instance, &present);
        let start = stay_near(&mut instance, &question, self.earlier.plan, request.steady);
        let after = Afterwards::of(request.settings.stop);
        let settings = request.settings.leaving(after.all());
        let mut found = search(&instance, Some(&start), &[], settings, watch);
        let stop = request.settings.stop.leaving(after.files);
        let past = self.past(&present, &mut found);
        let mut plan = compose(&question, &jobs, &instance, &found, &past);
        plan.undone.extend(missed);
        plan.undone.sort_by_key(|u| u.what);
        let bound = self.bound(&instance, &found.scope, stop);
        let savers = saved_by(
            &question,
            &staying,
            &jobs,
            (&instance, &found),
            &plan.undone,
            stop,
        );
        let known: Vec<UndoneWork> = plan.undone.iter().map(|u| u.what).collect();
        self.stay_as_needed(&plan, &late)?;
        let violations = settle(&self.site, &mut plan, &present, &|_, _| true);
        let at = |what: &UndoneWork| known.iter().position(|k| k == what);
        let saver = |u: &Undone| at(&u.what).and_then(|i| savers[i].clone());
        Ok(Covered {
            savers: plan.undone.iter().map(saver).collect(),
            proven: self.frozen.past.is_empty(),
            before: self.before(),
            made: Made {
                measures: measure(&self.site, &plan),
                bound,
                violations,
                iterations: found.iterations,
                plan,
                calendar: self.calendar,
            },
            site: self.site,
            tonight: self.tonight,
            absent: self.absent,
        })
    }

    /// Who is there to take something on.
    fn staying(&self, present: &[WorkerId]) -> Vec<WorkerId> {
        let leaving = leaving(self.changes);
        let gone = |w: &WorkerId| self.frozen.past.get(w).is_some_and(|p| p.gone);
        let all = present.iter().copied();
        all.filter(|w| !leaving.contains(w) && !gone(w)).collect()
    }

    /// What each of those present has behind them. Nothing happens any more to those who have gone.
    fn past(&self, present: &[WorkerId], found: &mut Found) -> Vec<Vec<PlannedStop>> {
        let each = present.iter().zip(&mut found.runs).map(|(worker, run)| {
            let past = self.frozen.past.get(worker)?;
            if past.gone {
                run.events.clear();
            }
            Some(past.stops.clone())
        });
        each.map(Option::unwrap_or_default).collect()
    }

    /// What is still to be done, with rooms begun at the end; and what cannot be done any more.
    fn jobs(&self, staying: &[WorkerId], walks: &Walks) -> (Jobs, Vec<Undone>) {
        let (date, done) = (self.calendar.date(), self.frozen.tasks());
        let rooms = self.frozen.rooms();
        let runs = &self.earlier.plan.runs;
        let planned: BTreeSet<DueTask> = runs
            .iter()
            .flat_map(|r| &r.stops)
            .flat_map(|s| s.what.tasks())
            .copied()
            .collect();
        let due = due_on(&self.site, date);
        let due = due.into_iter().filter(|t| !done.contains(t)).collect_vec();
        // A room is visited once: what was left undone in one that is behind stays so.
        let is_missed = |t: &DueTask| rooms.contains(&t.room) && !planned.contains(t);
        let (missed, due): (Vec<_>, Vec<_>) = due.into_iter().partition(is_missed);
        let mut jobs = gather(&self.site, &due, date, staying, walks);
        let duties = self.frozen.duties();
        jobs.jobs
            .retain(|j| !matches!(j.target, Target::Duty(duty) if duties.contains(&duty)));
        jobs.nobody_duty.retain(|duty| !duties.contains(duty));
        for (worker, past) in &self.frozen.past {
            for room in &past.open {
                let mut tasks = room.tasks.clone();
                tasks.sort_by_key(|t| t.priority(&self.site));
                let index = jobs.jobs.len();
                for job in &mut jobs.jobs {
                    let same = |t: &[DueTask]| t.iter().any(|t| t.room == room.room);
                    if job.after.is_none() && matches!(&job.target, Target::Room(t) if same(t)) {
                        job.after = Some(index);
                    }
                }
                jobs.jobs.push(Job {
                    target: Target::Room(tasks),
                    eligible: vec![*worker],
                    after: None,
                });
            }
        }
        let before = |task: &DueTask| {
            let undone = self.earlier.plan.undone.iter();
            undone
                .clone()
                .find(|u| u.what == UndoneWork::Task(*task))
                .cloned()
        };
        let missed = missed.iter().map(|task| {
            before(task).unwrap_or(Undone {
                what: UndoneWork::Task(*task),
                reason: crate::plan::Reason::NoTime,
            })
        });
        (jobs, missed.collect())
    }

    /// Workers with rooms begun, and the jobs of these.
    fn open_jobs(&self, jobs: &Jobs) -> Vec<(WorkerId, u32)> {
        let open: usize = self.frozen.past.values().map(|p| p.open.len()).sum();
        let first = jobs.jobs.len() - open;
        let workers = self.frozen.past.iter();
        let workers = workers.flat_map(|(w, p)| std::iter::repeat_n(*w, p.open.len()));
        workers
            .enumerate()
            .map(|(i, w)| (w, (first + i) as u32))
            .collect()
    }

    /// Puts everybody in the state in which they go on.
    fn go_on(&self, instance: &mut Instance, present: &[WorkerId], open: &[(WorkerId, u32)]) {
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
            let taken = |b: &crate::route::Break| {
                let this = crate::plan::What::Break(b.index);
                past.stops.iter().any(|s| s.what == this)
            };
            who.breaks.retain(|b| !taken(b));
            who.from = free_from(past, now).0 as Secs;
            who.set_up = 0;
            let rest: Secs = who.breaks.iter().map(|b| b.length).sum();
            let reserve = self.site.policy.reserve.0 as Secs;
            who.available = (who.to - who.from - rest - reserve).max(1);
            begun[index] = Some(state);
        }
        instance.before.begun = begun;
        instance.before.holds = self.holds();
        self.wait_for_the_past(instance, open);
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

    /// Those who leave, or cannot be home in time with what they have begun, only finish that.
    fn let_go(&self, instance: &mut Instance, present: &[WorkerId]) -> Vec<WorkerId> {
        let leaving = leaving(self.changes);
        let mut late = Vec::new();
        for (index, worker) in present.iter().enumerate() {
            let gone = self.frozen.past.get(worker).is_some_and(|p| p.gone);
            let leaves = leaving.contains(worker);
            if !gone && !leaves && can_end(instance, index) {
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
            if !gone {
                late.push(*worker);
            }
        }
        late
    }

    /// Shifts of those who finish what they have begun end when they are done with it.
    fn stay_as_needed(&mut self, plan: &Plan, late: &[WorkerId]) -> Result<(), Vec<Misfit>> {
        let mut changed = false;
        for worker in late {
            let run = plan.runs.iter().find(|r| r.worker == *worker);
            if let Some(last) = run.and_then(|r| r.stops.last()) {
                let end = last.span.to;
                changed |= night::stay_until(&mut self.tonight, self.written, *worker, end);
            }
        }
        if changed {
            self.site = self.tonight.apply(self.written, plan.date)?;
        }
        Ok(())
    }

    fn before(&self) -> Plan {
        let mut plan = self.earlier.plan.clone();
        let nights = (self.earlier.tonight, &self.tonight);
        for run in &mut plan.runs {
            night::recount(self.written, run.worker, nights, &mut run.stops);
        }
        plan
    }

    fn bound(&self, instance: &Instance, scope: &[u8], stop: Stop) -> Bound {
        if !self.frozen.past.is_empty() {
            return Bound {
                share: 0.0,
                certificate: Certificate::default(),
            };
        }
        let ideal = ideal_times(&self.site, &self.calendar);
        let way = |from, to| {
            ideal
                .get(PlaceId(from), PlaceId(to))
                .map_or(0, |time| time.0)
        };
        bound(instance, scope, &way, stop)
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
