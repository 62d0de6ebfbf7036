//! Every move, on random instances with all rules on and on plain ones: what the search believes of it is what a full evaluation of
//! what it leads to says, and taking it back leaves no trace.

use super::before::Before;
use super::instance::{
    Break, FOREVER, Goal, Instance, Job, Limit, Machine, Part, Scope, Secs, WalkTable, Worker,
};
use super::island::Island;
use super::near::Near;
use super::order::Visit;
use super::plain::stop_of;
use super::prices::{OrderCosts, Prices};
use super::recreate::{Bar, raise, recreate, wanting};
use super::reorder::reorder;
use super::ruin;
use super::solution::Solution;
use super::stop::{Budget, Stop};
use super::timing::{Ending, Event};
use itertools::Itertools;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use std::sync::atomic::AtomicBool;

const DAY: Secs = 20_000;

/// Places on a line, the start at 0, a fill and waste point at each end, `plain` or with every rule that a run can have.
fn random_instance(rng: &mut Pcg64Mcg, plain: bool) -> Instance {
    let (places, workers, jobs) = (12u32, rng.random_range(1..4), rng.random_range(4..14));
    let spots: Vec<i32> = (0..places).map(|_| rng.random_range(0..300)).collect();
    let walks = spots
        .iter()
        .flat_map(|a| spots.iter().map(move |b| (a - b).abs()));
    let table = WalkTable::new(places as usize, walks.collect(), &[1, 2], &[2, 3]);
    let mut instance = Instance {
        goal: if plain && rng.random_bool(0.5) {
            Goal::Shortest
        } else {
            Goal::Even
        },
        walks: vec![table],
        workers: (0..workers).map(|_| random_worker(rng, plain)).collect(),
        jobs: (0..jobs).map(|_| random_job(rng, plain, workers)).collect(),
        scopes: Vec::new(),
        limits: vec![Limit { capacity: 1 }, Limit { capacity: 1 }],
        machines: vec![Machine { units: 1, place: 4 }],
        fill: 60,
        dump: 40,
        fetch: 30,
        waste_home: plain,
        band_ppm: 2000,
        before: Before::default(),
    };
    let scopes = instance
        .jobs
        .iter_mut()
        .map(|job| random_scopes(rng, plain, job));
    instance.scopes = vec![scopes.collect()];
    assert_eq!(instance.is_plain(), plain);
    instance
}

fn random_worker(rng: &mut Pcg64Mcg, plain: bool) -> Worker {
    let lunch = Break {
        index: 0,
        length: 900,
        from: 5000,
        latest: 9000,
        places: vec![0, 5],
    };
    let from = rng.random_range(0..2000);
    let to = DAY - rng.random_range(0..4000);
    Worker {
        on_foot: 0,
        with_cart: Some(0),
        profile: 0,
        start: 0,
        from,
        to: to - 600,
        latest: to,
        latest_unless_last: to,
        set_up: 300,
        tear_down: 200,
        available: to - from,
        breaks: if plain { vec![] } else { vec![lunch] },
        bucket: 60,
        bucket_rooms: 2,
        cart: 50,
    }
}

fn random_job(rng: &mut Pcg64Mcg, plain: bool, workers: usize) -> Job {
    let open = rng.random_range(0..DAY / 2);
    let shut = open + rng.random_range(2000..DAY / 2);
    let windows = match rng.random_range(0..3) {
        0 => vec![(-FOREVER, FOREVER)],
        1 => vec![(open, shut)],
        _ => vec![(open, open + 900), (open + 2000, shut + 2000)],
    };
    let closes = !plain && rng.random_bool(0.4);
    let wet = !plain && rng.random_bool(0.3);
    Job {
        place: rng.random_range(0..12),
        floor: rng.random_range(0..3),
        windows,
        closure: closes.then(|| vec![(0, DAY / 2), (DAY / 2, DAY)]),
        closed_limits: if closes { vec![0] } else { vec![] },
        wet_limits: if wet { vec![1] } else { vec![] },
        restroom: closes,
        last: false,
        not_before: -FOREVER,
        undone: Vec::new(),
        eligible: (0..workers).map(|_| rng.random_bool(0.9)).collect(),
        dislike: (0..workers).map(|_| rng.random_range(0..2)).collect(),
        after: None,
        before: None,
    }
}

/// Nothing, half of it, and all.
fn random_scopes(rng: &mut Pcg64Mcg, plain: bool, job: &mut Job) -> Vec<Scope> {
    let length = rng.random_range(60..900);
    let parts = if job.closure.is_some() { 3 } else { 1 };
    job.undone = vec![[length.into(), 60, 0], [0, 60, 0], [0, 0, 0]];
    let scope = |length: Secs, machines: u32, rng: &mut Pcg64Mcg| {
        let part = |index| Part {
            length,
            lag: if index > 0 { 400 } else { 0 },
            mop: if !plain && index == 1 % parts { 20 } else { 0 },
            waste: if index == 0 {
                rng.random_range(0..12)
            } else {
                0
            },
            wet_before: if plain { 0 } else { 30 },
            wet_after: if plain { 0 } else { 300 },
            ..Part::default()
        };
        let parts: Vec<Part> = (0..parts).map(part).collect();
        Scope {
            closed: parts.iter().map(|p| p.lag + p.length).sum(),
            parts,
            cart: !plain,
            machines,
            possible: true,
        }
    };
    let machines = u32::from(!plain && rng.random_bool(0.2));
    let half = scope(length / 2, 0, rng);
    vec![Scope::default(), half, scope(length, machines, rng)]
}

/// The price of a plan from what its runs say happens when, or, of a plain plan, from its orders alone.
fn price_from_scratch(solution: &Solution) -> i64 {
    let instance = solution.instance;
    let jobs = instance.jobs.iter().zip(&solution.scope);
    let undone = jobs.fold([0; 3], |sum: [i64; 3], (job, scope)| {
        let left = job.undone[usize::from(*scope)];
        [0, 1, 2].map(|p| sum[p] + left[p])
    });
    let runs = (0..instance.workers.len()).filter(|w| !solution.runs[*w].visits.is_empty());
    let price = |worker| {
        let (costs, ending) = measured(solution, worker);
        solution.prices.run(instance, worker, costs, &ending)
    };
    Prices::undone(undone) + runs.map(price).sum::<i64>()
}

fn measured(solution: &Solution, worker: usize) -> (OrderCosts, Ending) {
    let (instance, run) = (solution.instance, &solution.runs[worker]);
    let who = &instance.workers[worker];
    let jobs = run.visits.iter().filter(|v| v.part == 0).map(|v| v.job);
    let jobs = jobs.map(|j| &instance.jobs[j as usize]).collect_vec();
    let part = |v: &Visit| {
        &instance
            .scope(worker, v.job, solution.scope[v.job as usize])
            .parts[usize::from(v.part)]
    };
    let costs = OrderCosts {
        work: run.visits.iter().map(|v| part(v).length).sum(),
        floors: jobs.iter().map(|j| j.floor).unique().count() as u32,
        dislike: jobs.iter().map(|j| j.dislike[worker]).sum(),
        change: 0,
    };
    let stops = if solution.plain {
        plain_stops(solution, worker)
    } else {
        run.events
            .iter()
            .map(|e| (e.event, e.place, e.from, e.to))
            .collect()
    };
    let mut ending = Ending::default();
    let (mut here, mut free) = (who.start, who.from);
    let mut begun: Vec<(u32, Secs, Secs)> = Vec::new();
    for (event, place, from, to) in stops {
        let walk = instance.walks[0].walk(here, place);
        let mut waits = from - free - walk;
        assert!(waits >= 0 && to <= who.latest, "{event:?}");
        ending.load += walk;
        if let Event::Visit(index) = event {
            let visit = run.visits[index];
            assert_eq!(to - from, part(&visit).length);
            let first = begun.iter().find(|(job, ..)| *job == visit.job).copied();
            if let Some((_, _, ended)) = first {
                // Waiting in the room for its dwell is attended.
                let attended = (from.min(ended + part(&visit).lag) - free - walk).max(0);
                ending.load += attended;
                waits -= attended;
            }
            let opened = first.map_or(from, |(_, opened, _)| opened);
            begun.retain(|(job, ..)| *job != visit.job);
            begun.push((visit.job, opened, to));
        }
        if matches!(event, Event::Break(_)) {
            ending.idle += waits;
        } else {
            ending.idle += waits;
            ending.load += to - from;
        }
        (here, free) = (place, to);
    }
    let closed = begun
        .iter()
        .filter(|(job, ..)| instance.jobs[*job as usize].closure.is_some());
    ending.closed = closed.map(|(_, from, to)| to - from).sum();
    ending.end = free;
    (costs, ending)
}

/// Set-up, stops as early as they may be, and tear-down.
fn plain_stops(solution: &Solution, worker: usize) -> Vec<(Event, u32, Secs, Secs)> {
    let (instance, run) = (solution.instance, &solution.runs[worker]);
    let who = &instance.workers[worker];
    let mut stops = vec![(Event::SetUp, who.start, who.from, who.from + who.set_up)];
    let (mut here, mut free) = (who.start, who.from + who.set_up);
    for (index, visit) in run.visits.iter().enumerate() {
        let job = &instance.jobs[visit.job as usize];
        let scope = instance.scope(worker, visit.job, solution.scope[visit.job as usize]);
        let (length, arrival) = (
            scope.parts[0].length,
            free + instance.walks[0].walk(here, job.place),
        );
        let fits = |(from, to): &(Secs, Secs)| {
            let start = arrival.max(*from);
            (start + length <= *to).then_some(start)
        };
        let start = job.windows.iter().find_map(fits).expect("in a window");
        stops.push((Event::Visit(index), job.place, start, start + length));
        (here, free) = (job.place, start + length);
    }
    let home = free + instance.walks[0].walk(here, who.start);
    stops.push((Event::TearDown, who.start, home, home + who.tear_down));
    stops
}

/// What a plan is, to be compared.
fn picture(solution: &Solution) -> (Vec<Vec<Visit>>, Vec<u8>, i64) {
    let orders = solution.runs.iter().map(|r| r.visits.clone()).collect();
    (orders, solution.scope.clone(), solution.price())
}

fn check(solution: &Solution) {
    assert_eq!(solution.price(), price_from_scratch(solution));
    for run in 0..solution.runs.len() {
        for visit in &solution.runs[run].visits {
            assert_eq!(solution.run_of[visit.job as usize], Some(run as u16));
        }
    }
}

#[test]
fn every_move_gains_what_a_full_evaluation_says() {
    let mut kept = 0;
    for seed in 0..60 {
        let rng = &mut Pcg64Mcg::seed_from_u64(seed);
        let instance = random_instance(rng, seed % 2 == 0);
        let near = Near::new(&instance);
        let mut solution = Solution::idle(&instance);
        for _ in 0..60 {
            solution.commit();
            let before = picture(&solution);
            match rng.random_range(0..5) {
                0 => {
                    let job = rng.random_range(0..instance.jobs.len() as u32);
                    raise(&mut solution, job, rng.random_range(0..3), &near, rng);
                }
                1 => {
                    let runs = solution.runs.len();
                    let (a, b) = (rng.random_range(0..runs), rng.random_range(0..runs));
                    if !solution.exchange(a, b) {
                        solution.roll_back();
                    }
                }
                2 => {
                    let run = rng.random_range(0..solution.runs.len());
                    swap(&mut solution, run, rng);
                }
                _ => {
                    let out = ruin::choose(&solution, &near, rng);
                    solution.remove(&out);
                    check(&solution);
                    let mut jobs = wanting(&solution);
                    jobs.retain(|j| solution.run_of[*j as usize].is_none());
                    recreate(&mut solution, &mut jobs, Bar::NONE, &near, rng);
                }
            }
            check(&solution);
            if rng.random_bool(0.4) {
                solution.roll_back();
                assert_eq!(picture(&solution), before);
                check(&solution);
            } else {
                kept += usize::from(picture(&solution) != before);
            }
        }
        let stop = Stop {
            budget: Budget::Iterations(1),
            interrupted: &AtomicBool::new(false),
        };
        reorder(&mut solution, stop);
        check(&solution);
    }
    assert!(kept > 500, "only {kept} moves changed anything");
}

/// A copy knows nothing of what was swept before, so it times every order from its beginning.
#[test]
fn what_was_swept_before_changes_no_timing() {
    let (mut sound, mut taken_over) = (0, 0);
    for seed in 0..60 {
        let rng = &mut Pcg64Mcg::seed_from_u64(seed);
        let mut instance = random_instance(rng, false);
        (instance.jobs[0].before, instance.jobs[1].after) = (Some(1), Some(0));
        let near = Near::new(&instance);
        let mut solution = Solution::idle(&instance);
        for _ in 0..60 {
            solution.commit();
            let out = ruin::choose(&solution, &near, rng);
            solution.remove(&out);
            let mut jobs = wanting(&solution);
            jobs.retain(|j| solution.run_of[*j as usize].is_none());
            recreate(&mut solution, &mut jobs, Bar::NONE, &near, rng);
            if rng.random_bool(0.7) {
                solution.roll_back();
            }
            let run = rng.random_range(0..solution.runs.len());
            let mut order = solution.runs[run].visits.clone();
            let stops = order.len();
            if rng.random_bool(0.5) && stops > 1 {
                order.swap(stops - 1, rng.random_range(0..stops));
            }
            let price = solution.try_order(run, &order);
            assert_eq!(
                price,
                solution.clone().try_order(run, &order),
                "seed {seed}"
            );
            sound += usize::from(price.is_some());
            taken_over += usize::from(solution.runs[run].swept.reached > 0);
        }
    }
    assert!(sound > 1_000, "only {sound} orders were possible");
    assert!(
        taken_over > 1_000,
        "only {taken_over} runs were swept before"
    );
}

/// Exchanges two stops of a run, if that is possible at all.
fn swap(solution: &mut Solution, run: usize, rng: &mut Pcg64Mcg) {
    let mut order = solution.runs[run].visits.clone();
    if order.is_empty() {
        return;
    }
    let (a, b) = (
        rng.random_range(0..order.len()),
        rng.random_range(0..order.len()),
    );
    order.swap(a, b);
    let promised = solution.try_order(run, &order);
    assert_eq!(solution.set_order(run, &order), promised.is_some());
    if let Some(price) = promised {
        assert_eq!(solution.runs[run].price, price);
    }
}

#[test]
fn the_best_gap_of_a_plain_run_is_the_best_of_all_gaps() {
    let mut found = 0;
    for seed in 0..200 {
        let rng = &mut Pcg64Mcg::seed_from_u64(seed);
        let instance = random_instance(rng, true);
        let mut solution = Solution::idle(&instance);
        let near = Near::new(&instance);
        let mut island = Island::new(&solution, seed, 0);
        island.complete(&near, &[]);
        solution = island.best;
        let job = rng.random_range(0..instance.jobs.len() as u32);
        solution.remove(&[job]);
        solution.set_scope(job, 2);
        for run in 0..solution.runs.len() {
            if !instance.jobs[job as usize].eligible[run] {
                continue;
            }
            let before = solution.runs[run].visits.clone();
            let load = solution.runs[run].ending.load;
            let tried = (0..=before.len()).filter_map(|at| {
                let mut order = before.clone();
                order.insert(at, Visit { job, part: 0 });
                let mut other = solution.clone();
                other.set_order(run, &order).then(|| {
                    let run = &other.runs[run];
                    (run.ending.load, at, run.price)
                })
            });
            let best = tried.min_by_key(|(load, at, _)| (*load, *at));
            let stop = stop_of(&instance, run, job, &solution.scope).expect("possible");
            let now = &solution.runs[run];
            let gap = now.best_gap(&instance, run, &stop, FOREVER, 0.0, rng);
            assert_eq!(gap.map(|g| g.at), best.map(|(_, at, _)| at), "seed {seed}");
            let (Some(gap), Some((longer, _, price))) = (gap, best) else {
                continue;
            };
            found += 1;
            if !before.is_empty() {
                let work = instance.work(run, job, 2);
                assert_eq!(gap.detour, longer - load - work);
            }
            let (costs, ending) = now.with_stop(&instance, run, gap, &stop);
            assert_eq!(solution.prices.run(&instance, run, costs, &ending), price);
        }
    }
    assert!(found > 100, "only {found} gaps");
}

#[test]
fn plain_timing_and_exact_timing_agree() {
    for seed in 0..100 {
        let rng = &mut Pcg64Mcg::seed_from_u64(seed);
        let instance = random_instance(rng, true);
        let near = Near::new(&instance);
        let mut island = Island::new(&Solution::idle(&instance), seed, 0);
        island.complete(&near, &[]);
        let mut solution = island.best;
        let before = picture(&solution);
        let endings = solution.runs.iter().map(|r| r.ending).collect_vec();
        solution.spell_out();
        assert_eq!(picture(&solution), before, "seed {seed}");
        let spelled = solution.runs.iter().map(|r| r.ending).collect_vec();
        assert_eq!(spelled, endings, "seed {seed}");
    }
}
