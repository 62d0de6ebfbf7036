//! Today's plan: everybody does the rooms they own.
//!
//! Without a given order the engine looks for the best one, all rules kept but the end of the shift. A given order is taken as it is: the
//! site's windows, closures, groups, exit pairs and machines are set aside for it, fills, dumps and breaks go where they cost least,
//! and a stop with a start begins then or, if its worker cannot be there, as soon as they can. What that breaks, the checker tells.

use super::AuditRequest;
use crate::plan::{Ground, Plan, ReadWalks};
use crate::route::{Budget, FOREVER, Handover, Instance, Question, Settings, Start, Visit, pose};
use crate::site::{RoomId, Site, WorkerId};
use crate::units::{Clock, Seconds, Span};
use crate::work::{Job, Target};
use itertools::Itertools;

/// A room's place in the order that is used today.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GivenStop {
    /// Whose.
    pub worker: WorkerId,
    /// The room; several times in a row of a worker for each of its stops.
    pub room: RoomId,
    /// When it begins, on the clock on the wall; may be past 24:00.
    pub start: Option<Clock>,
}

/// A stop that cannot begin when it is said to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Late {
    /// Whose.
    pub worker: WorkerId,
    /// Where.
    pub room: RoomId,
    /// When it is said to begin, elapsed.
    pub said: Clock,
    /// When it can.
    pub can: Clock,
}

/// How far runs may go beyond the shift here: half a day, more than anybody works on.
const BEYOND: Seconds = Seconds(43_200);

/// What today's plan is looked for in: everybody's own jobs, and the site with what is set aside.
pub(super) struct Today {
    pub(super) site: Site,
    pub(super) ground: Ground,
}

impl Today {
    /// Of an audit.
    pub(super) fn of(request: &AuditRequest, ground: &Ground) -> Today {
        let mut ground = ground.clone();
        ground.jobs =
            request
                .split
                .kept_to(request.site, ground.jobs, &ground.present, &ground.walks);
        let longer = longer(request.site);
        let site = request
            .given
            .map_or_else(|| longer.clone(), |_| at_any_hour(&longer));
        Today { site, ground }
    }

    /// As the search is asked.
    pub(super) fn instance(&self, request: &AuditRequest) -> Instance {
        let question = self.ground.question(&self.site);
        let mut instance = pose(&question);
        if let Some(given) = request.given {
            not_before(&mut instance, &question, given);
        }
        instance
    }

    /// Today's plan, as the rules want it that were kept to, and the stops that are late.
    pub(super) fn plan<'a>(
        &self,
        request: &AuditRequest,
        instance: &'a Instance,
        settings: Settings,
        walks: &mut ReadWalks,
    ) -> (Handover<'a>, Plan, Vec<Late>) {
        let owned = super::owned(request.split);
        let mut planned = |start: Option<&Start>, settings| {
            let (orders, found) = Handover::by_search(instance, start, settings, &mut |_, _| {});
            let ground = &self.ground;
            let (plan, _) = ground.settled(&self.site, instance, &found, &owned, walks);
            (orders, plan)
        };
        let Some(given) = request.given else {
            let (orders, plan) = planned(None, settings);
            return (orders, plan, Vec::new());
        };
        let question = self.ground.question(&self.site);
        let start = orders(instance, &question, given);
        let as_given = super::with_budget(settings, Budget::Iterations(0));
        let (orders, plan) = planned(Some(&start), as_given);
        let late = late(&question, &plan, given);
        (orders, plan, late)
    }
}

/// The site with shifts that may be overrun.
fn longer(site: &Site) -> Site {
    let mut longer = site.clone();
    longer.policy.overtime = longer.policy.overtime.max(BEYOND);
    longer
}

/// The site without anything that says when, or with how many others at once, a thing may be done.
fn at_any_hour(site: &Site) -> Site {
    let mut loose = site.clone();
    for room in &mut loose.rooms {
        (room.open, room.closure) = (None, None);
    }
    for duty in &mut loose.duties {
        duty.last = false;
    }
    loose.policy.groups.clear();
    loose.policy.exit_pairs.clear();
    for machine in &mut loose.machines {
        machine.units = loose.crew.len() as u32;
    }
    for worker in &mut loose.crew {
        for rest in &mut worker.breaks {
            rest.window = Span::new(worker.shift.from, worker.shift.to + BEYOND);
        }
    }
    loose
}

fn is_in(job: &Job, room: RoomId) -> bool {
    matches!(&job.target, Target::Room(tasks) if tasks.first().is_some_and(|t| t.room == room))
}

/// The jobs of a room that a worker of the question does.
fn jobs_of(question: &Question, worker: WorkerId, room: RoomId) -> Vec<u32> {
    let own = |job: &&Job| is_in(job, room) && job.eligible.contains(&worker);
    let jobs = question.jobs.iter().enumerate();
    jobs.filter(|(_, job)| own(job))
        .map(|(index, _)| index as u32)
        .collect()
}

/// No job begins before its first stop is said to.
fn not_before(instance: &mut Instance, question: &Question, given: &[GivenStop]) {
    let first = given.iter().unique_by(|g| (g.worker, g.room));
    for (stop, start) in first.filter_map(|g| Some((g, g.start?))) {
        let moment = question.calendar.elapsed(start).0;
        for job in jobs_of(question, stop.worker, stop.room) {
            instance.jobs[job as usize].windows = vec![(moment as i32, FOREVER)];
        }
    }
}

/// The given orders as stops. A room that is written as often as it has stops has them where it stands; any other is done in one go
/// where it stands first.
fn orders(instance: &Instance, question: &Question, given: &[GivenStop]) -> Start {
    let order = |(index, worker): (usize, &WorkerId)| {
        let own = given.iter().filter(|g| g.worker == *worker);
        let jobs = own
            .flat_map(|g| jobs_of(question, *worker, g.room))
            .collect_vec();
        let counts = jobs.iter().counts();
        let mut visits: Vec<Visit> = Vec::new();
        for job in &jobs {
            let parts = {
                let full = instance.jobs[*job as usize].full();
                instance.scope(index, *job, full).parts.len()
            };
            let seen = visits.iter().filter(|v| v.job == *job).count();
            let now = match counts[job] {
                count if count == parts => seen..seen + 1,
                _ if seen == 0 => 0..parts,
                _ => continue,
            };
            visits.extend(now.map(|part| Visit {
                job: *job,
                part: part as u8,
            }));
        }
        visits
    };
    question.present.iter().enumerate().map(order).collect()
}

fn late(question: &Question, plan: &Plan, given: &[GivenStop]) -> Vec<Late> {
    let begins = |stop: &GivenStop, seen: usize| {
        let run = plan.runs.iter().find(|r| r.worker == stop.worker)?;
        let mut stops = run
            .stops
            .iter()
            .filter(|s| s.what.room() == Some(stop.room));
        stops.nth(seen).map(|s| s.span.from)
    };
    let mut all = Vec::new();
    for (index, stop) in given.iter().enumerate() {
        let same = |g: &&GivenStop| (g.worker, g.room) == (stop.worker, stop.room);
        let seen = given[..index].iter().filter(same).count();
        let Some((start, can)) = stop.start.zip(begins(stop, seen)) else {
            continue;
        };
        let said = question.calendar.elapsed(start);
        if can > said {
            all.push(Late {
                worker: stop.worker,
                room: stop.room,
                said,
                can,
            });
        }
    }
    all
}
