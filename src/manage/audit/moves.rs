//! The fewest rooms that have to change hands for most of the gain.
//!
//! A set of moves is judged by the engine: each room goes where it costs least in its new owner's run, all else staying in order, and a
//! run that is still too long is put in a better order. It is good enough if at every level of goals, undone work, overtime and the highest
//! share, it makes up [`PART`] of what lies between today and the best plan.
//!
//! The set is found in four steps. (1) From today's plan, one room at a time that is in too long or too late a run, or not wholly done, goes to
//! the run with which the plan then misses the goal least, until that is good enough; the shortest beginning of this list that is good enough
//! is kept. (2) If there is none, rooms are given back to today's owners from the best plan, for as long as what is left is good enough.
//! (3) Every move is left out, and stays out if the rest is good enough, until none can be left out. (4) Where there are few enough, all smaller
//! sets are tried, smallest first; that proves the set the smallest, by this way of judging.

use super::AuditRequest;
use crate::plan::Ground;
use crate::route::{Handover, Instance, Question, Standing, Stop};
use crate::site::{RoomId, WorkerId};
use crate::work::{Job, Target};
use itertools::Itertools;
use std::collections::BTreeMap;

/// The part of the gain that is to be had.
pub(super) const PART: f64 = 0.8;

/// Smaller sets are all tried while there are at most so many over the rooms squared, which is how long it takes to judge one.
const ALL_TRIED: usize = 100_000;

/// Longest list of moves that is looked for: no crew changes more than a few dozen rooms at once.
const MOST: usize = 60;

/// A room that changes hands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hand {
    /// Which room.
    pub room: RoomId,
    /// Whose it is today.
    pub from: WorkerId,
    /// Whose it becomes.
    pub to: WorkerId,
}

/// The rooms that have to change hands, and what that brings.
#[derive(Clone, Debug, Default)]
pub struct Moves {
    /// In the order of the site's rooms; empty if there is nothing to gain.
    pub hands: Vec<Hand>,
    /// Highest share today, of the best plan, and after the moves.
    pub today: f64,
    /// Of the best plan.
    pub best: f64,
    /// After the moves.
    pub after: f64,
    /// Loads after the moves, by worker.
    pub loads: Vec<(WorkerId, i64)>,
    /// Whether 80 % of the gain is had.
    pub enough: bool,
    /// Whether all smaller sets were tried and none was good enough.
    pub smallest: bool,
}

/// Everything that a set of moves is judged with.
struct Bench<'a> {
    today: Handover<'a>,
    rooms: Vec<Owned>,
    goal: Standing,
    stop: Stop<'a>,
    workers: usize,
    instance: &'a Instance,
}

/// A room's jobs and who has them today, by worker of the question.
struct Owned {
    room: RoomId,
    jobs: Vec<u32>,
    owner: usize,
}

/// A move: index of the room, and its new owner.
type Move = (usize, usize);

/// A plan after some moves.
struct Tried<'a> {
    moves: Vec<Move>,
    plan: Handover<'a>,
}

/// Today's instance with every job open to all who may do it, and to whoever does it today, whatever the rules say.
pub(super) fn wide(today: &Instance, kept: &Ground, anyone: &Ground) -> Instance {
    let mut wide = today.clone();
    for (job, source) in wide.jobs.iter_mut().zip(&kept.jobs.jobs) {
        let same = anyone.jobs.jobs.iter().find(|a| a.target == source.target);
        for (worker, may) in kept.present.iter().zip(&mut job.eligible) {
            *may |= same.is_some_and(|s| s.eligible.contains(worker));
        }
    }
    wide
}

/// The fewest moves from today's plan towards the best one. `best` is that plan in the same instance, if it can be put so.
pub(super) fn moves<'a>(
    request: &'a AuditRequest,
    question: &Question,
    today: Handover<'a>,
    best: Option<Handover<'a>>,
    standing: &Standing,
    share: f64,
) -> Moves {
    let instance = today.instance();
    let bench = Bench {
        goal: goal(&today.standing(), standing),
        rooms: owned(request, question, &today),
        workers: question.present.len(),
        stop: super::after(request.settings, super::BEST, 1.0).stop,
        instance,
        today,
    };
    let shares = [highest(instance, &bench.today), share];
    let found = bench.found(best);
    bench.told(question, shares, found)
}

/// Where a plan has to stand.
fn goal(today: &Standing, best: &Standing) -> Standing {
    let towards = |today: i64, best: i64| {
        let gain = (today - best).max(0);
        today - (gain as f64 * PART).ceil() as i64
    };
    let mut undone = today.undone;
    for (own, best) in undone.iter_mut().zip(best.undone) {
        *own = towards(*own, best);
    }
    let first = |standing: &Standing| standing.shares.first().copied().unwrap_or(0);
    Standing {
        undone,
        overtime: towards(today.overtime, best.overtime),
        shares: vec![towards(first(today), first(best))],
        change_first: 0,
        change: 0,
        not_cleaning: 0,
        calm: 0,
    }
}

fn owned(request: &AuditRequest, question: &Question, today: &Handover) -> Vec<Owned> {
    let mut by_room: BTreeMap<RoomId, Vec<u32>> = BTreeMap::new();
    for (index, job) in question.jobs.iter().enumerate() {
        if let Some(room) = room_of(job) {
            by_room.entry(room).or_default().push(index as u32);
        }
    }
    let own = |(room, jobs): (RoomId, Vec<u32>)| {
        let worker = request.split.owner(room)?;
        let owner = question.present.iter().position(|w| *w == worker)?;
        // Parts that others do today, for a skill, stay with them.
        let jobs = jobs
            .into_iter()
            .filter(|j| today.owner(*j).is_none_or(|o| o == owner))
            .collect_vec();
        (!jobs.is_empty()).then_some(Owned { room, jobs, owner })
    };
    by_room.into_iter().filter_map(own).collect()
}

fn room_of(job: &Job) -> Option<RoomId> {
    match &job.target {
        Target::Room(tasks) => tasks.first().map(|t| t.room),
        Target::Duty(_) => None,
    }
}

fn highest(instance: &Instance, plan: &Handover) -> f64 {
    let loads = plan.loads();
    let shares = loads.iter().zip(&instance.workers);
    shares
        .map(|(load, worker)| *load as f64 / f64::from(worker.available))
        .fold(0.0, f64::max)
}

impl<'a> Bench<'a> {
    fn reaches(&self, standing: &Standing) -> bool {
        let within =
            |own: &[i64], goal: &[i64]| own.iter().zip(goal).all(|(own, goal)| own <= goal);
        within(&standing.undone, &self.goal.undone)
            && standing.overtime <= self.goal.overtime
            && within(
                &standing.shares[..standing.shares.len().min(1)],
                &self.goal.shares,
            )
    }

    fn may(&self, (room, to): Move) -> bool {
        let room = &self.rooms[room];
        let able = |job: &u32| self.instance.jobs[*job as usize].eligible[to];
        to != room.owner && room.jobs.iter().all(able)
    }

    /// Whether a plan is good enough, its longest runs put in a better order if that is what it takes.
    fn is_enough(&self, plan: &mut Handover) -> bool {
        let mut tidied = Vec::new();
        loop {
            if self.reaches(&plan.standing()) {
                return true;
            }
            match plan.busiest() {
                Some(run) if !tidied.contains(&run) => {
                    plan.tidy(run, self.stop);
                    tidied.push(run);
                }
                _ => return false,
            }
        }
    }

    /// Today's plan after these moves, if they fit and are good enough.
    fn enough(&self, moves: &[Move]) -> Option<Tried<'a>> {
        let mut plan = self.today.clone();
        let fit = moves
            .iter()
            .all(|(room, to)| plan.give(&self.rooms[*room].jobs, *to));
        (fit && self.is_enough(&mut plan)).then(|| Tried {
            moves: moves.to_vec(),
            plan,
        })
    }

    fn found(&self, best: Option<Handover<'a>>) -> (Option<Tried<'a>>, bool) {
        if let Some(nothing) = self.enough(&[]) {
            return (Some(nothing), true);
        }
        let from_today = self.one_by_one();
        let fewer = from_today.or_else(|| best.and_then(|best| self.given_back(best)));
        let fewest = fewer.map(|tried| self.without_spare(tried));
        self.smaller_than(fewest)
    }

    /// Step 1.
    fn one_by_one(&self) -> Option<Tried<'a>> {
        let mut plan = self.today.clone();
        let mut moves: Vec<Move> = Vec::new();
        let mut tidied = false;
        while moves.len() < MOST && !self.reaches(&plan.standing()) && !self.stop.has_ended() {
            if let Some((room, to)) = self.next(&mut plan) {
                plan.give(&self.rooms[room].jobs, to);
                moves.retain(|(moved, _)| *moved != room);
                if to != self.rooms[room].owner {
                    moves.push((room, to));
                }
                tidied = false;
            } else if tidied {
                break;
            } else {
                // Better orders may make room for another move.
                let pressed = self.pressed(&plan);
                for worker in (0..self.workers).filter(|w| pressed[*w]) {
                    plan.tidy(worker, self.stop);
                }
                tidied = true;
            }
        }
        if !self.is_enough(&mut plan) {
            return None;
        }
        // The shortest beginning that is good enough, its runs in their best order.
        let mut shortest = Tried { moves, plan };
        while let Some((_, shorter)) = shortest.moves.split_last() {
            match self.enough(shorter) {
                Some(enough) => shortest = enough,
                None => break,
            }
        }
        Some(shortest)
    }

    /// The room of a pressed run, or not wholly done, and the run where the plan then stands best with it.
    fn next(&self, plan: &mut Handover) -> Option<Move> {
        let now = plan.standing();
        let now = (self.wanting(&now), now);
        let pressed = self.pressed(plan);
        let mut best: Option<((i64, Standing), Move)> = None;
        for (index, room) in self.rooms.iter().enumerate() {
            if self.stop.has_ended() {
                return None;
            }
            let owner = plan.owner(room.jobs[0]);
            let short = room.jobs.iter().any(|job| plan.is_short(*job));
            if !short && owner.is_some_and(|owner: usize| !pressed[owner]) {
                continue;
            }
            for to in (0..self.workers).filter(|to| Some(*to) != owner) {
                if to != room.owner && !self.may((index, to)) {
                    continue;
                }
                let Some(standing) = plan.standing_if_given(&room.jobs, to) else {
                    continue;
                };
                let judged = (self.wanting(&standing), standing);
                if judged < now && best.as_ref().is_none_or(|(least, _)| judged < *least) {
                    best = Some((judged, (index, to)));
                }
            }
        }
        best.map(|(_, chosen)| chosen)
    }

    /// By how much a plan misses the goal, in seconds of load: what is undone, overtime, and what every run has above the share that is wanted.
    fn wanting(&self, standing: &Standing) -> i64 {
        let beyond = |own: i64, goal: i64| (own - goal).max(0);
        let undone = standing.undone.iter().zip(&self.goal.undone);
        let undone: i64 = undone.map(|(own, goal)| beyond(*own, *goal)).sum();
        let goal = self.goal.shares.first().copied().unwrap_or(0);
        let bands: i64 = standing.shares.iter().map(|s| beyond(*s, goal)).sum();
        let available = self.instance.workers.iter().map(|w| i64::from(w.available));
        let mean = available.sum::<i64>() / self.workers.max(1) as i64;
        let band = mean * self.instance.band_ppm / 1_000_000;
        // Above all what is undone, as in the order of goals.
        64 * undone + 4 * beyond(standing.overtime, self.goal.overtime) + bands * band.max(1)
    }

    /// Whose runs are late, or have a higher share than is wanted.
    fn pressed(&self, plan: &Handover) -> Vec<bool> {
        let goal = self.goal.shares.first().copied().unwrap_or(0);
        let loads = plan.loads();
        let above = |(worker, load): (usize, &i64)| {
            let available = i64::from(self.instance.workers[worker].available);
            let most = goal * self.instance.band_ppm * available / 1_000_000;
            *load > most || plan.is_late(worker)
        };
        loads.iter().enumerate().map(above).collect()
    }

    /// Step 2.
    fn given_back(&self, mut plan: Handover<'a>) -> Option<Tried<'a>> {
        let now = |plan: &Handover| {
            let moved = |(index, room): (usize, &Owned)| {
                let owner = plan.owner(room.jobs[0]).filter(|o| *o != room.owner)?;
                Some((index, owner))
            };
            self.rooms
                .iter()
                .enumerate()
                .filter_map(moved)
                .collect_vec()
        };
        if !self.is_enough(&mut plan) {
            return None;
        }
        let mut given = true;
        while given && !self.stop.has_ended() {
            given = false;
            let options = now(&plan).into_iter();
            let options = options.take_while(|_| !self.stop.has_ended());
            let options = options.filter_map(|(room, _)| {
                let room = &self.rooms[room];
                let standing = plan.standing_if_given(&room.jobs, room.owner)?;
                self.reaches(&standing).then_some((standing, room))
            });
            // What does least harm first: it leaves most to be given back after it.
            for (_, room) in options.sorted_by(|a, b| a.0.cmp(&b.0)).collect_vec() {
                if self.stop.has_ended() {
                    break;
                }
                let back = plan.standing_if_given(&room.jobs, room.owner);
                if back.is_some_and(|standing| self.reaches(&standing)) {
                    given |= plan.give(&room.jobs, room.owner);
                }
            }
        }
        Some(Tried {
            moves: now(&plan),
            plan,
        })
    }

    /// Step 3.
    fn without_spare(&self, mut tried: Tried<'a>) -> Tried<'a> {
        let mut at = 0;
        while at < tried.moves.len() && !self.stop.has_ended() {
            let mut fewer = tried.moves.clone();
            fewer.remove(at);
            match self.enough(&fewer) {
                Some(enough) => (tried, at) = (enough, 0),
                None => at += 1,
            }
        }
        tried
    }

    /// Step 4: a smaller set if there is one; and whether all were tried.
    fn smaller_than(&self, tried: Option<Tried<'a>>) -> (Option<Tried<'a>>, bool) {
        let all = (0..self.rooms.len())
            .cartesian_product(0..self.workers)
            .filter(|m| self.may(*m))
            .collect_vec();
        let most = tried.as_ref().map_or(MOST, |t| t.moves.len());
        let mut left = ALL_TRIED / self.rooms.len().pow(2).max(1);
        for size in 1..most {
            let sets = all.iter().copied().combinations(size);
            let distinct = sets.filter(|set| set.iter().map(|m| m.0).all_unique());
            for set in distinct {
                if left == 0 || self.stop.has_ended() {
                    return (tried, false);
                }
                left -= 1;
                if let Some(enough) = self.enough(&set) {
                    return (Some(enough), true);
                }
            }
        }
        let proven = tried.is_some();
        (tried, proven)
    }

    fn told(
        &self,
        question: &Question,
        [today, best]: [f64; 2],
        (found, smallest): (Option<Tried<'a>>, bool),
    ) -> Moves {
        let Some(tried) = found else {
            return Moves {
                today,
                best,
                after: today,
                ..Moves::default()
            };
        };
        let hand = |(room, to): &Move| Hand {
            room: self.rooms[*room].room,
            from: question.present[self.rooms[*room].owner],
            to: question.present[*to],
        };
        let mut hands = tried.moves.iter().map(hand).collect_vec();
        hands.sort_by_key(|h| h.room);
        Moves {
            hands,
            today,
            best,
            after: highest(self.instance, &tried.plan),
            loads: question
                .present
                .iter()
                .copied()
                .zip(tried.plan.loads())
                .collect(),
            enough: true,
            smallest,
        }
    }
}
