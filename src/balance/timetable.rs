//! The timetable: when each stop of all runs takes place, once their orders are fixed.
//!
//! The search starts every stop as early as it may, one run at a time. Where a worker waits later on, a room may so be closed long before anybody
//! goes on with it. Here the start times of everything in all runs are chosen at once, by a linear program over moments ([`super::differences`]):
//!
//! | at least so long after | |
//! |---|---|
//! | the event before | its length and the walk |
//! | the part of the job before | its length, and the dwell or drying |
//! | the end of a hold of a closure group or exit pair | nothing: holds follow each other as they do now, in as many lanes as may be held at once |
//! | the end of a job that must come first | nothing |
//!
//! Stops stay inside the windows they are in, breaks inside theirs; nobody ends later or attends a dwell or drying longer than before, so no
//! share rises. The least waiting comes first, then the least closed minutes.

use super::differences::{At, Differences};
use crate::route::{Event, Found, FoundRun, Instance, Secs, Timed, WalkTable};

/// What a second of waiting costs against one of a closed room: level 4 of the goals against level 5.
const WAITING: i64 = 10_000;
/// Of a closed room against one by which anything is later: among equals, early is better.
const CLOSED: i64 = 50;

/// Gives the runs that were found their best times; nothing is changed if there are none better.
///
/// # Complexity
/// A linear program with a variable for every event.
pub fn retime(instance: &Instance, found: &mut Found) {
    let mut table = Table {
        instance,
        found,
        rules: Differences::default(),
        moments: Vec::new(),
    };
    table.read();
    let (now, rules) = (table.now(), table.rules);
    let cheaper = |times: &Vec<i64>| rules.total(times) < rules.total(&now);
    let Some(best) = rules
        .cheapest()
        .filter(|best| rules.holds(&now) && cheaper(best))
    else {
        return;
    };
    let events = found.runs.iter_mut().flat_map(|run| &mut run.events);
    for (event, from) in events.zip(best) {
        let length = event.to - event.from;
        (event.from, event.to) = (from as Secs, from as Secs + length);
    }
}

struct Table<'a> {
    instance: &'a Instance,
    found: &'a Found,
    rules: Differences,
    /// By run and event, when it starts.
    moments: Vec<Vec<At>>,
}

/// A job as it is done: its first and its last part.
struct Done {
    job: u32,
    first: (usize, usize),
    last: (usize, usize),
}

/// A stretch during which a limit is held, from `before` seconds before one moment to `after` seconds after another.
#[derive(Clone, Copy)]
struct Hold {
    from: (At, i64),
    to: (At, i64),
    now: (Secs, Secs),
}

impl Table<'_> {
    fn read(&mut self) {
        for run in 0..self.found.runs.len() {
            self.read_run(run);
        }
        let done = self.done();
        for job in &done {
            self.keep_closure(job);
        }
        self.keep_order(&done);
        self.keep_limits(&done);
    }

    /// The times as they are.
    fn now(&self) -> Vec<i64> {
        let events = self.found.runs.iter().flat_map(|run| &run.events);
        events.map(|event| i64::from(event.from)).collect()
    }

    fn event(&self, (run, index): (usize, usize)) -> Timed {
        self.found.runs[run].events[index]
    }

    fn at(&self, (run, index): (usize, usize)) -> At {
        self.moments[run][index]
    }

    fn walks(&self, run: usize) -> &WalkTable {
        let (who, found) = (&self.instance.workers[run], &self.found.runs[run]);
        let carts = found.visits.iter().any(|v| {
            self.instance
                .scope(run, v.job, self.found.scope[v.job as usize])
                .cart
        });
        &self.instance.walks[who.with_cart.filter(|_| carts).unwrap_or(who.on_foot)]
    }

    /// Everything that a run keeps by itself.
    fn read_run(&mut self, run: usize) {
        let FoundRun { visits, events } = &self.found.runs[run];
        let who = &self.instance.workers[run];
        let (from, latest) = (i64::from(who.from), i64::from(who.latest));
        let moments = events
            .iter()
            .map(|_| self.rules.moment(from, latest))
            .collect();
        self.moments.push(moments);
        for (index, event) in events.iter().enumerate() {
            let (at, length) = (self.moments[run][index], event.to - event.from);
            self.rules.cost(at, 1);
            if let Some(before) = index.checked_sub(1) {
                let walk = self.walks(run).walk(events[before].place, event.place);
                let gap = events[before].to - events[before].from + walk;
                self.rules
                    .after(self.moments[run][before], at, i64::from(gap));
            }
            match event.event {
                Event::SetUp => self.inside(at, event.from, event.from),
                Event::Break(index) => {
                    let rest = &self.instance.workers[run].breaks[index];
                    self.inside(at, rest.from, rest.latest);
                }
                Event::TearDown => {
                    self.rules.not_after(at, i64::from(event.from));
                    self.rules.cost(at, WAITING);
                }
                Event::Visit(visit) => {
                    let visit = visits[visit];
                    let job = &self.instance.jobs[visit.job as usize];
                    let window = window(&job.windows, event.from, event.to);
                    self.inside(at, window.0, window.1 - length);
                    if job.last {
                        // Everybody else is back by now.
                        self.rules.not_before(at, i64::from(event.from));
                    }
                    if visit.part > 0 {
                        self.keep_lag(run, index);
                    }
                }
                _ => {}
            }
        }
    }

    fn inside(&mut self, at: At, low: Secs, high: Secs) {
        self.rules.not_before(at, i64::from(low));
        self.rules.not_after(at, i64::from(high));
    }

    /// The dwell or drying since the part before is kept, and nobody waits for it in the room longer than now.
    fn keep_lag(&mut self, run: usize, index: usize) {
        let FoundRun { visits, events } = &self.found.runs[run];
        let Event::Visit(visit) = events[index].event else {
            return;
        };
        let visit = visits[visit];
        let is_before = |event: &Timed| match event.event {
            Event::Visit(v) => visits[v].job == visit.job && visits[v].part + 1 == visit.part,
            _ => false,
        };
        let Some(before) = events[..index].iter().rposition(is_before) else {
            return;
        };
        let how = self
            .instance
            .scope(run, visit.job, self.found.scope[visit.job as usize]);
        let lag = how.parts[usize::from(visit.part)].lag;
        let length = |i: usize| events[i].to - events[i].from;
        let last = index - 1;
        let walk = self
            .walks(run)
            .walk(events[last].place, events[index].place);
        let (ready, arrival) = (events[before].to + lag, events[last].to + walk);
        let attended = (ready.min(events[index].from) - arrival).max(0);
        let (first, here) = (self.moments[run][before], self.moments[run][index]);
        self.rules
            .after(first, here, i64::from(length(before) + lag));
        let (since, until) = (length(before) + lag, length(last) + walk);
        self.rules.after(
            first,
            self.moments[run][last],
            i64::from(since - until - attended),
        );
    }

    /// Every job that is done, with its first and last part.
    fn done(&self) -> Vec<Done> {
        let mut all: Vec<Done> = Vec::new();
        for (run, FoundRun { visits, events }) in self.found.runs.iter().enumerate() {
            let begins = all.len();
            for (index, event) in events.iter().enumerate() {
                let Event::Visit(visit) = event.event else {
                    continue;
                };
                let (job, here) = (visits[visit].job, (run, index));
                match all[begins..].iter_mut().find(|done| done.job == job) {
                    Some(done) => done.last = here,
                    None => all.push(Done {
                        job,
                        first: here,
                        last: here,
                    }),
                }
            }
        }
        all
    }

    /// The whole closure lies in the window it is in; every second of it counts.
    fn keep_closure(&mut self, done: &Done) {
        let Some(closure) = &self.instance.jobs[done.job as usize].closure else {
            return;
        };
        let (first, last) = (self.event(done.first), self.event(done.last));
        let window = window(closure, first.from, last.to);
        self.rules
            .not_before(self.at(done.first), i64::from(window.0));
        self.rules.not_after(
            self.at(done.last),
            i64::from(window.1 - (last.to - last.from)),
        );
        self.rules.cost(self.at(done.last), CLOSED);
        self.rules.cost(self.at(done.first), -CLOSED);
    }

    /// Jobs that must follow others do.
    fn keep_order(&mut self, done: &[Done]) {
        let find = |job: u32| done.iter().find(|d| d.job == job);
        for later in done {
            let job = &self.instance.jobs[later.job as usize];
            self.rules
                .not_before(self.at(later.first), i64::from(job.not_before));
            if let Some(earlier) = job.after.and_then(find) {
                self.follow(earlier, later);
            }
            if let Some(next) = job.before.and_then(find) {
                self.follow(later, next);
            }
        }
    }

    fn follow(&mut self, earlier: &Done, later: &Done) {
        let last = self.event(earlier.last);
        self.rules.after(
            self.at(earlier.last),
            self.at(later.first),
            i64::from(last.to - last.from),
        );
    }

    /// What is held at the same time stays within its limit: holds keep to lanes, in each one after the other.
    fn keep_limits(&mut self, done: &[Done]) {
        for (limit, rule) in self.instance.limits.iter().enumerate() {
            let mut holds = self.holds(limit as u16, done);
            holds.sort_by_key(|hold| hold.now);
            let mut lanes: Vec<Hold> = Vec::new();
            for hold in holds {
                let free = |lane: &&mut Hold| lane.now.1 <= hold.now.0;
                match lanes.iter_mut().filter(free).max_by_key(|lane| lane.now.1) {
                    Some(lane) => {
                        let gap = lane.to.1 - hold.from.1;
                        self.rules.after(lane.to.0, hold.from.0, gap);
                        *lane = hold;
                    }
                    None => lanes.push(hold),
                }
            }
            debug_assert!(
                lanes.len() as i32 <= rule.capacity,
                "a plan that was found keeps its limits"
            );
        }
    }

    fn holds(&self, limit: u16, done: &[Done]) -> Vec<Hold> {
        let length = |event: Timed| i64::from(event.to - event.from);
        let closed = done.iter().filter(|d| {
            self.instance.jobs[d.job as usize]
                .closed_limits
                .contains(&limit)
        });
        let mut holds: Vec<Hold> = closed
            .map(|d| Hold {
                from: (self.at(d.first), 0),
                to: (self.at(d.last), length(self.event(d.last))),
                now: (self.event(d.first).from, self.event(d.last).to),
            })
            .collect();
        for (run, FoundRun { visits, events }) in self.found.runs.iter().enumerate() {
            for (index, event) in events.iter().enumerate() {
                let Event::Visit(visit) = event.event else {
                    continue;
                };
                let visit = visits[visit];
                let wet = self.instance.jobs[visit.job as usize]
                    .wet_limits
                    .contains(&limit);
                let how = self
                    .instance
                    .scope(run, visit.job, self.found.scope[visit.job as usize]);
                let part = &how.parts[usize::from(visit.part)];
                if wet && part.mop > 0 {
                    let at = self.at((run, index));
                    let (before, after) = (i64::from(part.wet_before), i64::from(part.wet_after));
                    holds.push(Hold {
                        from: (at, length(*event) - before),
                        to: (at, length(*event) + after),
                        now: (event.to - part.wet_before, event.to + part.wet_after),
                    });
                }
            }
        }
        holds
    }
}

/// The window in which a stretch lies; the stretch itself if there is none.
fn window(windows: &[(Secs, Secs)], from: Secs, to: Secs) -> (Secs, Secs) {
    let around = windows
        .iter()
        .find(|(open, shut)| *open <= from && to <= *shut);
    around.copied().unwrap_or((from, to))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::route::{Before, Goal, Job, Limit, Part, Scope, Standing, Visit, Worker};

    const MINUTE: Secs = 60;

    fn worker() -> Worker {
        Worker {
            on_foot: 0,
            with_cart: None,
            profile: 0,
            start: 0,
            from: 0,
            to: 480 * MINUTE,
            latest: 480 * MINUTE,
            latest_unless_last: 480 * MINUTE,
            set_up: 0,
            tear_down: 0,
            available: 480 * MINUTE,
            breaks: Vec::new(),
            bucket: 0,
            bucket_rooms: 0,
            cart: 0,
        }
    }

    fn scope(parts: &[(Secs, Secs)]) -> Scope {
        let part = |(length, lag): &(Secs, Secs)| Part {
            length: length * MINUTE,
            lag: lag * MINUTE,
            ..Part::default()
        };
        Scope {
            parts: parts.iter().map(part).collect(),
            possible: true,
            ..Scope::default()
        }
    }

    /// Restrooms that are sprayed (2 min), dwell for 5 min and are wiped (3 min), and a room that opens at 1 h (1 min); all at one place.
    fn instance(workers: usize) -> Instance {
        let room = Job::simple(0, (60 * MINUTE, 480 * MINUTE), workers);
        let restroom = Job {
            closure: Some(vec![(0, 480 * MINUTE)]),
            closed_limits: vec![0],
            ..Job::simple(0, (0, 480 * MINUTE), workers)
        };
        let restrooms = [Scope::default(), scope(&[(2, 0), (3, 5)])];
        Instance {
            goal: Goal::Even,
            walks: vec![WalkTable::new(1, vec![0], &[], &[])],
            workers: vec![worker(); workers],
            jobs: vec![restroom.clone(), restroom, room],
            scopes: vec![vec![
                restrooms.to_vec(),
                restrooms.to_vec(),
                vec![Scope::default(), scope(&[(1, 0)])],
            ]],
            limits: vec![Limit { capacity: 1 }],
            machines: Vec::new(),
            fill: 0,
            dump: 0,
            fetch: 0,
            waste_home: false,
            band_ppm: 2000,
            before: Before::default(),
        }
    }

    /// A run of stops, each a job, a part, and from when to when in minutes.
    fn run(stops: &[(u32, u8, Secs, Secs)]) -> FoundRun {
        let at = |event, from: Secs, to: Secs| Timed {
            event,
            place: 0,
            from: from * MINUTE,
            to: to * MINUTE,
        };
        let visit = |(i, s): (usize, &(u32, u8, Secs, Secs))| at(Event::Visit(i), s.2, s.3);
        let end = stops.last().map_or(0, |s| s.3);
        let mut events = vec![at(Event::SetUp, 0, 0)];
        events.extend(stops.iter().enumerate().map(visit));
        events.push(at(Event::TearDown, end, end));
        let visits = stops.iter().map(|(job, part, ..)| Visit {
            job: *job,
            part: *part,
        });
        FoundRun {
            visits: visits.collect(),
            events,
        }
    }

    fn found(runs: Vec<FoundRun>) -> Found {
        Found {
            runs,
            scope: vec![1; 3],
            standing: Standing {
                undone: [0; 3],
                overtime: 0,
                shares: Vec::new(),
                not_cleaning: 0,
                calm: 0,
                change: 0,
                change_first: 0,
            },
            iterations: 0,
        }
    }

    fn starts(found: &Found, run: usize) -> Vec<Secs> {
        let events = &found.runs[run].events;
        events.iter().map(|e| e.from / MINUTE).collect()
    }

    /// Sprayed at 0 as early as may be, wiped after the room that opens at 60: closed for 64 min. Sprayed at 54, dwell until 61: 10 min.
    #[test]
    fn a_room_is_not_closed_while_its_worker_waits_elsewhere() {
        let instance = instance(1);
        let mut found = found(vec![run(&[(0, 0, 0, 2), (2, 0, 60, 61), (0, 1, 61, 64)])]);
        retime(&instance, &mut found);
        assert_eq!(starts(&found, 0), [0, 54, 60, 61, 64]);
    }

    /// The other restroom of the group is closed from 50 to 60 by somebody who then goes home. Sprayed at 54, the first would be closed with it, and
    /// behind it, it would be open too late: they keep their sequence, and the first stays in front of the second.
    #[test]
    fn groups_keep_their_sequence() {
        let instance = instance(2);
        let first = run(&[(0, 0, 0, 2), (0, 1, 7, 10), (2, 0, 60, 61)]);
        let second = run(&[(1, 0, 50, 52), (1, 1, 57, 60)]);
        let mut found = found(vec![first, second]);
        retime(&instance, &mut found);
        // The second one need not wait until 50.
        assert_eq!(starts(&found, 0), [0, 0, 7, 60, 61]);
        assert_eq!(starts(&found, 1), [0, 10, 17, 20]);
    }
}
