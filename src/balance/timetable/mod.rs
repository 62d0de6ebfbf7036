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
//! share rises. What a plan costs follows the order of goals: change against a plan that people know, by how much stops start earlier or later than they
//! may without being felt; then waiting; then closed minutes; and among equals, early is better.

mod across;
mod run;

use super::differences::{At, Differences};
use crate::route::{Event, FOREVER, Found, FoundRun, Instance, Part, Secs, Timed, Visit};

/// What a second costs: of a moved stop,
const MOVED: i64 = 100_000;
/// of waiting,
const WAITING: i64 = 1_000;
/// of a closed room; against one by which anything is later.
const CLOSED: i64 = 20;

/// Gives the runs that were found their best times; nothing is changed if there are none better, or if the night is under way: then times are known.
///
/// # Complexity
/// A linear program with a variable for every event.
pub fn retime(instance: &Instance, found: &mut Found) {
    if instance.before.begun.iter().any(Option::is_some) {
        return;
    }
    let table = Table::of(instance, found);
    let now = table.now();
    let better = |best: &Vec<i64>| {
        let cheaper = table.rules.total(best) < table.rules.total(&now);
        cheaper && table.moved(best) <= table.moved(&now)
    };
    let Some(best) = table.rules.cheapest().filter(better) else {
        return;
    };
    if !table.rules.holds(&now) {
        return;
    }
    let events = found.runs.iter_mut().flat_map(|run| &mut run.events);
    for (event, from) in events.zip(best) {
        let length = event.to - event.from;
        (event.from, event.to) = (from as Secs, from as Secs + length);
    }
}

/// Runs as they were found, and the rules between their events.
struct Table<'a> {
    instance: &'a Instance,
    found: &'a Found,
    rules: Differences,
    /// By run and event, when it starts: the first of all moments, in this order.
    moments: Vec<Vec<At>>,
    /// Stops that people know, and when each of them was to start.
    known: Vec<(At, i64)>,
}

impl<'a> Table<'a> {
    fn of(instance: &'a Instance, found: &'a Found) -> Self {
        let mut table = Table {
            instance,
            found,
            rules: Differences::default(),
            moments: Vec::new(),
            known: Vec::new(),
        };
        for run in 0..found.runs.len() {
            table.read_run(run);
        }
        table.read_across();
        table.read_known();
        table
    }

    fn event(&self, (run, index): (usize, usize)) -> Timed {
        self.found.runs[run].events[index]
    }

    fn at(&self, (run, index): (usize, usize)) -> At {
        self.moments[run][index]
    }

    /// What is visited at each stop of a run, by the event's position.
    fn visits(&self, run: usize) -> impl Iterator<Item = (usize, Visit)> + use<'a> {
        let FoundRun { visits, events } = &self.found.runs[run];
        let stop = |(index, event): (usize, &Timed)| match event.event {
            Event::Visit(visit) => Some((index, visits[visit])),
            _ => None,
        };
        events.iter().enumerate().filter_map(stop)
    }

    /// How a run does the part of a job that it visits.
    fn part(&self, run: usize, visit: Visit) -> Part {
        let scope = self.found.scope[visit.job as usize];
        self.instance.scope(run, visit.job, scope).parts[usize::from(visit.part)]
    }

    /// What is too far from when it was to start costs: `max(start, late) - late` and `max(start, early) - start`.
    fn read_known(&mut self) {
        let Some(known) = &self.instance.before.known else {
            return;
        };
        let (tolerance, end) = (i64::from(known.tolerance), i64::from(FOREVER));
        for run in 0..self.found.runs.len() {
            for (index, visit) in self.visits(run) {
                let was = known.jobs[visit.job as usize].as_ref();
                let was = was.filter(|was| usize::from(was.worker) == run);
                let Some(start) = was.and_then(|w| w.starts.get(usize::from(visit.part))) else {
                    continue;
                };
                let (at, start) = (self.at((run, index)), i64::from(*start));
                for low in [start + tolerance, start - tolerance] {
                    let over = self.rules.moment(low, end);
                    self.rules.after(at, over, 0);
                    self.rules.cost(over, MOVED);
                }
                self.rules.cost(at, -MOVED);
                self.known.push((at, start));
            }
        }
    }

    /// The times as they are.
    fn now(&self) -> Vec<i64> {
        let events = self.found.runs.iter().flat_map(|run| &run.events);
        let mut times: Vec<i64> = events.map(|event| i64::from(event.from)).collect();
        let tolerance = self.tolerance();
        for (at, start) in &self.known {
            let now = at.of(&times);
            times.extend([now.max(start + tolerance), now.max(start - tolerance)]);
        }
        times
    }

    /// How many stops are too far from when they were to start.
    fn moved(&self, times: &[i64]) -> usize {
        let far = |(at, start): &&(At, i64)| (at.of(times) - start).abs() > self.tolerance();
        self.known.iter().filter(far).count()
    }

    fn tolerance(&self) -> i64 {
        let known = &self.instance.before.known;
        known.as_ref().map_or(0, |k| i64::from(k.tolerance))
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
    use crate::route::{
        Before, Begun, Goal, Job, Known, Limit, Scope, Standing, WalkTable, Was, Worker,
    };

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

    /// Known to start at 30 and free to start at any time until 60: it starts as near as is not felt, so at 20, and no other stop moves.
    #[test]
    fn who_knows_a_time_keeps_it() {
        let mut instance = instance(1);
        let was = Was {
            worker: 0,
            scope: 1,
            starts: vec![30 * MINUTE],
        };
        instance.jobs[1] = Job::simple(0, (0, 480 * MINUTE), 1);
        instance.scopes[0][0][1] = scope(&[(2, 0)]);
        instance.before.known = Some(Known {
            jobs: vec![None, Some(was), None],
            orders: vec![Vec::new()],
            tolerance: 10 * MINUTE,
            price: 1,
            first: false,
        });
        let mut found = found(vec![run(&[(1, 0, 0, 2), (2, 0, 60, 61)])]);
        retime(&instance, &mut found);
        assert_eq!(starts(&found, 0), [0, 20, 60, 61]);
    }

    /// What is done already cannot move, nor what follows from it.
    #[test]
    fn a_night_under_way_keeps_its_times() {
        let mut instance = instance(1);
        instance.before.begun = vec![Some(Begun::default())];
        let mut found = found(vec![run(&[(0, 0, 0, 2), (2, 0, 60, 61), (0, 1, 61, 64)])]);
        retime(&instance, &mut found);
        assert_eq!(starts(&found, 0), [0, 0, 60, 61, 64]);
    }
}
