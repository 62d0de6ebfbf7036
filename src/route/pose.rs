//! Turns a site and its jobs into the dense problem: the one place where words become numbers.

use super::before::Before;
use super::instance::{
    Break, FOREVER, Goal, Instance, Job, Limit, Machine, NO_WAY, Secs, WalkTable, Worker,
};
use super::scopes::scopes_of;
use crate::site::{Calendar, Cart, Hours, Moves, PlaceId, RoomId, Site, WorkerId};
use crate::units::{Clock, Seconds, Span};
use crate::walk::{Times, Walks};
use crate::work;
use crate::work::Target;
use itertools::Itertools;

/// Everything the dense problem is made from.
#[derive(Clone, Copy, Debug)]
pub struct Question<'a> {
    /// The site.
    pub site: &'a Site,
    /// Its calendar on the date.
    pub calendar: &'a Calendar,
    /// Who is on duty; worker `i` of the problem is `present[i]`.
    pub present: &'a [WorkerId],
    /// How they walk.
    pub walks: &'a Walks,
    /// What is to be done; job `i` of the problem is `jobs[i]`.
    pub jobs: &'a [work::Job],
}

/// A second of work that has waited too long counts as so many of its priority.
const OVERDUE: i64 = 20;

/// What a worker must be like for two workers to do every job in the same time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Profile {
    pub(super) pace: f64,
    pub(super) cart: Option<Cart>,
    pub(super) cart_walks: usize,
}

/// The dense problem of a question.
pub fn pose(question: &Question) -> Instance {
    let site = question.site;
    let places = |ids: Vec<PlaceId>| ids.iter().map(|p| p.0).collect_vec();
    let (fill_points, waste_points) = (
        places(site.fill_points().collect()),
        places(site.waste_points().collect()),
    );
    let walks = question
        .walks
        .tables()
        .iter()
        .map(|t| table(site, t, &fill_points, &waste_points))
        .collect();
    let mut profiles: Vec<Profile> = Vec::new();
    let workers = question
        .present
        .iter()
        .map(|w| worker(question, *w, &mut profiles))
        .collect_vec();
    let scopes = profiles
        .iter()
        .map(|p| {
            question
                .jobs
                .iter()
                .map(|j| scopes_of(question, p, j))
                .collect()
        })
        .collect();
    let mut limits = Vec::new();
    let (closed, wet) = limits_of_rooms(site, &mut limits);
    let jobs = (0..question.jobs.len())
        .map(|i| job(question, i, &closed, &wet))
        .collect();
    let machine = |m: &crate::site::Machine| Machine {
        units: m.units,
        place: site.place_of_closet(m.closet).0,
    };
    let mut instance = Instance {
        goal: Goal::Even,
        walks,
        workers,
        jobs,
        scopes,
        limits,
        machines: site.machines.iter().map(machine).collect(),
        fill: secs(site.policy.fill),
        dump: secs(site.policy.dump),
        fetch: secs(site.policy.fetch),
        waste_home: false,
        band_ppm: ((site.policy.band * 1e6).round() as i64).max(1),
        before: Before::default(),
    };
    instance
        .jobs
        .iter_mut()
        .for_each(|j| j.eligible.resize(question.present.len(), false));
    settle_eligibility(&mut instance);
    settle_last_out(&mut instance);
    instance
}

pub(super) fn secs(time: Seconds) -> Secs {
    time.0.clamp(-i64::from(NO_WAY), i64::from(NO_WAY)) as Secs
}

fn moment(clock: Clock) -> Secs {
    secs(Seconds(clock.0))
}

fn table(site: &Site, times: &Times, fill_points: &[u32], waste_points: &[u32]) -> WalkTable {
    let count = site.places.len();
    let known = |s: &u32| {
        if *s == Times::NO_WAY {
            NO_WAY
        } else {
            (*s).min(NO_WAY as u32) as Secs
        }
    };
    let seconds = (0..count)
        .flat_map(|from| times.row(PlaceId::from(from)).iter().map(known))
        .collect();
    WalkTable::new(count, seconds, fill_points, waste_points)
}

fn worker(question: &Question, id: WorkerId, profiles: &mut Vec<Profile>) -> Worker {
    let site = question.site;
    let who = &site.crew[id.index()];
    let cart = match who.moves {
        Moves::Cart(cart) => Some(cart),
        Moves::Foot => None,
    };
    let walks = |with_cart| question.walks.index(id, with_cart).unwrap_or(0);
    let profile = Profile {
        pace: who.pace,
        cart,
        cart_walks: walks(true),
    };
    let index = profiles
        .iter()
        .position(|p| *p == profile)
        .unwrap_or_else(|| {
            profiles.push(profile);
            profiles.len() - 1
        });
    let shift = question.calendar.elapsed_span(who.shift);
    let rest: Seconds = who.breaks.iter().map(|b| b.length).sum();
    let latest = shift.to + site.policy.overtime;
    Worker {
        on_foot: walks(false),
        with_cart: cart.map(|_| walks(true)),
        profile: index,
        start: who.start.0,
        from: moment(shift.from),
        to: moment(shift.to),
        latest: moment(latest),
        latest_unless_last: moment(latest),
        set_up: secs(site.policy.set_up),
        tear_down: secs(site.policy.tear_down),
        available: secs(shift.length() - rest - site.policy.reserve).max(1),
        breaks: breaks(question, id),
        bucket: cart.map_or(0, |c| (c.bucket.0 * 1000.0 + 1e-6).floor() as i32),
        bucket_rooms: cart.map_or(0, |c| c.bucket_rooms.min(250) as u8),
        cart: cart.map_or(0, |c| (c.waste.0 * 1000.0 + 1e-6).floor() as i32),
    }
}

fn breaks(question: &Question, id: WorkerId) -> Vec<Break> {
    let site = question.site;
    let who = &site.crew[id.index()];
    let anywhere = site
        .places
        .iter()
        .positions(|p| p.break_place)
        .map(|i| i as u32)
        .collect_vec();
    let one = |(index, b): (usize, &crate::site::Break)| {
        let window = question.calendar.elapsed_span(b.window);
        let places = match b.place {
            Some(place) => vec![place.0],
            None if anywhere.is_empty() => vec![who.start.0],
            None => anywhere.clone(),
        };
        Break {
            index,
            length: secs(b.length),
            from: moment(window.from),
            latest: moment(window.to - b.length),
            places,
        }
    };
    let mut breaks = who.breaks.iter().enumerate().map(one).collect_vec();
    breaks.sort_by_key(|b| (b.latest, b.from));
    breaks
}

/// By room: its limits on being closed, and on being wet.
fn limits_of_rooms(site: &Site, limits: &mut Vec<Limit>) -> (Vec<Vec<u16>>, Vec<Vec<u16>>) {
    let mut closed = vec![Vec::new(); site.rooms.len()];
    let mut wet = vec![Vec::new(); site.rooms.len()];
    for group in &site.policy.groups {
        let capacity = group.rooms.len() as i32 - group.keep_open as i32;
        group
            .rooms
            .iter()
            .for_each(|r| closed[r.index()].push(limits.len() as u16));
        limits.push(Limit { capacity });
    }
    for pair in &site.policy.exit_pairs {
        for room in pair {
            wet[room.index()].push(limits.len() as u16);
        }
        limits.push(Limit { capacity: 1 });
    }
    (closed, wet)
}

fn windows(question: &Question, hours: Option<&Hours>) -> Vec<(Secs, Secs)> {
    let pair = |s: &Span| (moment(s.from), moment(s.to));
    hours.map_or_else(
        || vec![(-FOREVER, FOREVER)],
        |h| question.calendar.windows(h).iter().map(pair).collect(),
    )
}

fn job(question: &Question, index: usize, closed: &[Vec<u16>], wet: &[Vec<u16>]) -> Job {
    let site = question.site;
    let source = &question.jobs[index];
    let eligible = question
        .present
        .iter()
        .map(|w| source.eligible.contains(w))
        .collect();
    let mut job = Job {
        place: 0,
        floor: 0,
        windows: Vec::new(),
        closure: None,
        closed_limits: Vec::new(),
        wet_limits: Vec::new(),
        restroom: false,
        last: false,
        not_before: -FOREVER,
        undone: undone(question, source),
        eligible,
        dislike: vec![0; question.present.len()],
        after: source.after.map(|a| a as u32),
        before: question
            .jobs
            .iter()
            .position(|j| j.after == Some(index))
            .map(|b| b as u32),
    };
    match &source.target {
        Target::Duty(duty) => {
            let duty = &site.duties[*duty];
            job.place = duty.place.0;
            job.windows = windows(question, duty.window.as_ref());
            job.last = duty.last;
        }
        Target::Room(tasks) => {
            if let Some(task) = tasks.first() {
                describe_room(question, task.room, closed, wet, &mut job);
            }
        }
    }
    job.floor = site.halls[site.places[job.place as usize].spot.hall.index()]
        .floor
        .0;
    job
}

/// What the room says about when, where and by whom a job is done.
fn describe_room(
    question: &Question,
    id: RoomId,
    closed: &[Vec<u16>],
    wet: &[Vec<u16>],
    job: &mut Job,
) {
    let site = question.site;
    let room = &site.rooms[id.index()];
    let kind = &site.kinds[room.kind.index()];
    job.place = site.place_of_room(id).0;
    job.windows = windows(question, room.open.as_ref());
    if kind.reopen.is_some() {
        job.closure = Some(windows(question, room.closure.as_ref()));
        job.closed_limits.clone_from(&closed[id.index()]);
    }
    job.wet_limits.clone_from(&wet[id.index()]);
    job.restroom = kind.restroom;
    if !room.prefer.is_empty() {
        let present = question.present.iter();
        job.dislike = present
            .map(|w| i32::from(!room.prefer.contains(w)))
            .collect();
    }
    if site.policy.rotate.contains(&room.kind) {
        let present = question.present.iter().zip(&mut job.dislike);
        present.for_each(|(w, dislike)| *dislike += i32::from(!has_turn(question, *w)));
    }
}

/// Whether a worker is in the half of the crew that has the work that goes round on this date. The half moves on by one person a day.
fn has_turn(question: &Question, worker: WorkerId) -> bool {
    let crew = question.site.crew.len() as i64;
    let days = (question.calendar.date() - jiff::civil::date(2000, 1, 3)).get_days();
    (worker.index() as i64 + i64::from(days)).rem_euclid(crew.max(1)) < (crew + 1) / 2
}

/// Seconds at pace 1 left undone when only the first so many tasks are done.
fn undone(question: &Question, job: &work::Job) -> Vec<[i64; 3]> {
    let site = question.site;
    let mut left = vec![[0i64; 3]];
    match &job.target {
        Target::Duty(index) => left.push([
            Seconds::of_work(site.duties[*index].minutes, 1.0).0.max(1),
            0,
            0,
        ]),
        Target::Room(tasks) => {
            for task in tasks.iter().rev() {
                let mut sum = left[left.len() - 1];
                let seconds = Seconds::of_work(task.minutes(site) + task.wipe_minutes(site), 1.0).0;
                // A task of no time still counts as something left undone.
                let weight = if task.is_overdue(site) { OVERDUE } else { 1 };
                sum[task.priority(site) as usize] += seconds.max(1) * weight;
                left.push(sum);
            }
        }
    }
    left.reverse();
    left
}

/// A worker who cannot do even one scope of a job in the time it takes is not eligible for it.
fn settle_eligibility(instance: &mut Instance) {
    for job in 0..instance.jobs.len() {
        for worker in 0..instance.workers.len() {
            let possible = (1..=instance.jobs[job].full())
                .any(|s| instance.scope(worker, job as u32, s).possible);
            instance.jobs[job].eligible[worker] &= possible;
        }
    }
}

/// The one who locks up goes last: that is planned for the latest moment anyone eligible can do it, and all others are to be
/// back by then. Afterwards it is moved forward to when the others really are back.
fn settle_last_out(instance: &mut Instance) {
    for index in 0..instance.jobs.len() {
        if !instance.jobs[index].last {
            continue;
        }
        let latest = |w: usize| -> Secs {
            let (worker, job) = (&instance.workers[w], &instance.jobs[index]);
            let length = instance.work(w, index as u32, 1);
            let home = instance.walks[worker.with_cart.unwrap_or(worker.on_foot)]
                .walk(job.place, worker.start);
            let ready = worker.from + worker.set_up;
            let by_shift = worker.latest - worker.tear_down - home.min(NO_WAY) - length;
            let starts = job
                .windows
                .iter()
                .map(|(from, to)| ((*to - length).min(by_shift), *from));
            starts
                // A window of the night before is over when the shift begins.
                .filter(|(start, from)| start >= from && *start >= ready)
                .map(|(start, _)| start)
                .max()
                .unwrap_or(-FOREVER)
        };
        let all = (0..instance.workers.len()).map(latest).collect_vec();
        let eligible = instance.jobs[index].eligible.clone();
        let best = all
            .iter()
            .zip(&eligible)
            .filter(|(_, e)| **e)
            .map(|(l, _)| *l)
            .max()
            .unwrap_or(-FOREVER);
        instance.jobs[index].not_before = best;
        for (worker, latest) in all.iter().enumerate() {
            instance.jobs[index].eligible[worker] &= *latest >= best && best > -FOREVER;
            if best > -FOREVER {
                let cap = &mut instance.workers[worker].latest_unless_last;
                *cap = (*cap).min(best);
            }
        }
    }
}
