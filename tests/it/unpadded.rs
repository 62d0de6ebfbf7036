//! Nobody's run is ever lengthened only to look even: no run of an answer, however short the search was, becomes shorter by re-ordering
//! alone; and no goal is ever nearer because somebody is busy for longer.

use crate::common::read_text;
use crate::support::plain::{Plain, Takes, exchanged, moved, turned};
use crate::support::planner::{assert_all_done, assert_sound, loads, planned, rooms_of};
use evenrun::route::Standing;
use evenrun::units::Seconds;
use proptest::prelude::{prop_assert, proptest};
use rayon::prelude::{IntoParallelIterator, ParallelIterator};
use std::sync::OnceLock;

/// How short the searches are.
const ITERATIONS: [u64; 4] = [1, 8, 40, 150];

/// Rooms and people, and whether some rooms have windows.
const SORTS: [(usize, usize, bool); 4] =
    [(14, 2, false), (30, 4, false), (14, 2, true), (30, 4, true)];

/// How many nights of each sort are tried.
const SEEDS: u64 = 8;

/// One person's run of an answer.
struct Case {
    name: String,
    night: Plain,
    person: usize,
    order: Vec<usize>,
    takes: Takes,
    windows: bool,
    /// Seconds of a band of equal shares.
    band: f64,
}

fn cases() -> &'static [Case] {
    static CASES: OnceLock<Vec<Case>> = OnceLock::new();
    CASES.get_or_init(|| {
        let seeds = SORTS
            .into_iter()
            .flat_map(|s| (1..=SEEDS).map(move |seed| (s, seed)));
        let all = seeds.flat_map(|(s, seed)| ITERATIONS.map(|i| (s, seed, i)));
        let all: Vec<_> = all.collect();
        let each = all
            .into_par_iter()
            .map(|(sort, seed, iterations)| runs_of(sort, seed, iterations));
        each.collect::<Vec<_>>().into_iter().flatten().collect()
    })
}

fn runs_of(sort: (usize, usize, bool), seed: u64, iterations: u64) -> Vec<Case> {
    let (rooms, people, windows) = sort;
    let night = Plain::drawn(seed, rooms, people, windows);
    let site = read_text(&night.yaml());
    let made = planned(&site, iterations, seed);
    let name = format!("seed {seed}, {sort:?}, {iterations} iterations");
    assert_sound(&made, &name);
    let busy = (0..people).filter(|p| !rooms_of(&made, *p).is_empty());
    busy.map(|person| {
        let run = &made.measures.runs[person];
        let case = Case {
            name: format!("{name}, P{person}"),
            night: night.clone(),
            person,
            order: rooms_of(&made, person),
            takes: Takes {
                load: run.load.0,
                end: run.span.map_or(0, |s| s.to.0),
            },
            windows,
            band: run.available.0 as f64 * site.policy.band,
        };
        let by_hand = case.night.takes(person, &case.order);
        assert_eq!(by_hand, Some(case.takes), "{}", case.name);
        case
    })
    .collect()
}

/// No order of a case's rooms, of those tried, is better; `better` gets what the order takes and what the plan's takes.
fn assert_none_better(
    orders: impl Fn(&[usize]) -> Vec<Vec<usize>>,
    better: impl Fn(&Case, Takes) -> bool,
) {
    let mut faults = Vec::new();
    for case in cases() {
        let found = orders(&case.order).into_iter().find_map(|order| {
            let takes = case.night.takes(case.person, &order)?;
            better(case, takes).then_some((order, takes))
        });
        let Case {
            name, order, takes, ..
        } = case;
        faults.extend(found.map(|f| format!("{name}: {order:?} {takes:?}, better {f:?}")));
    }
    let (count, all) = (faults.len(), cases().len());
    assert!(
        faults.is_empty(),
        "{count} of {all} runs:\n{}",
        faults.join("\n")
    );
}

/// Shorter, and over no later.
fn shorter(case: &Case, takes: Takes) -> bool {
    takes.load < case.takes.load && takes.end <= case.takes.end
}

#[test]
fn no_stretch_of_a_run_taken_elsewhere_makes_it_shorter() {
    assert_none_better(moved, shorter);
}

#[test]
fn no_two_stops_of_a_run_exchanged_make_it_shorter() {
    assert_none_better(exchanged, shorter);
}

#[test]
fn no_stretch_of_a_run_turned_round_makes_it_shorter() {
    assert_none_better(turned, shorter);
}

/// Shares in bands come before waiting in the order of goals, so a run that can be in a lower band by waiting more is not the best.
#[test]
fn no_stretch_of_a_run_taken_elsewhere_brings_it_into_a_lower_band() {
    assert_none_better(moved, |case, takes| {
        let bands = |load: i64| (load as f64 / case.band).ceil();
        bands(takes.load) < bands(case.takes.load)
    });
}

/// Else the tests above would show little.
#[test]
fn the_runs_tried_are_uneven_and_bound_by_windows() {
    let all = cases();
    assert!(all.len() >= 300, "{} runs", all.len());
    let long = all.iter().filter(|c| c.order.len() >= 6).count();
    assert!(long >= 200, "{long} with six rooms or more");
    let shares = |c: &Case| c.takes.load as f64 / c.band;
    let of_plan = all.chunk_by(|a, b| a.name.split(", P").next() == b.name.split(", P").next());
    let uneven = of_plan.filter(|plan| {
        let highest = plan.iter().map(shares).fold(0.0, f64::max);
        plan.iter().any(|c| shares(c) < 0.75 * highest)
    });
    let uneven = uneven.count();
    assert!(
        uneven >= 20,
        "{uneven} plans with a run far below the highest"
    );
    let bound = all.iter().filter(|c| {
        let free = |order: &Vec<usize>| c.night.takes(c.person, order).is_none();
        c.windows && moved(&c.order).iter().any(free)
    });
    let bound = bound.count();
    assert!(
        bound >= 50,
        "{bound} whose windows or shifts forbid some order"
    );
}

/// Ana has a room of three hours that nobody else may do; Ben has five of a minute, at 10, 20, 30, 40 and 50 m from the entrance at 0 m.
/// However far below Ana he is, he walks there and back once: 100 + 300 = 400 s, after one iteration as after many. Ana: 10,800 + 2 * 5.
#[test]
fn someone_far_below_the_highest_still_goes_the_short_way() {
    let short = |i: usize| format!("  - {{id: B{i}, kind: short, area_m2: 10, only: [Ben]}}\n");
    let rooms = (1..=5).map(short).collect::<Vec<_>>().concat();
    let site = read_text(&format!(
        "site: Uneven\n\
         date: 2026-03-10\n\
         builtin_standard: false\n\
         floors: [{{id: G}}]\n\
         halls: [{{id: hall, floor: G, line_m: [[0, 0], [60, 0]], places_at: [{{place: entrance, m: 0}}, {{place: A, m: 5}}, \
         {{place: B1, m: 30}}, {{place: B2, m: 10}}, {{place: B3, m: 50}}, {{place: B4, m: 20}}, {{place: B5, m: 40}}]}}]\n\
         places: [{{id: entrance}}]\n\
         standard:\n\
         \x20 - {{kind: long, tasks: [{{task: sweep, how: dry, min: 180, source: assumption}}]}}\n\
         \x20 - {{kind: short, tasks: [{{task: sweep, how: dry, min: 1, source: assumption}}]}}\n\
         rooms:\n\
         \x20 - {{id: A, kind: long, area_m2: 10, only: [Ana]}}\n{rooms}\
         crew:\n\
         \x20 - {{name: Ana, shift: \"18:00-22:00\", start: entrance}}\n\
         \x20 - {{name: Ben, shift: \"18:00-22:00\", start: entrance}}\n\
         policy: {{speeds: {{foot_m_s: 1}}}}\n"
    ));
    for iterations in [1, 5, 50, 400] {
        for seed in 1..=10 {
            let made = planned(&site, iterations, seed);
            assert_all_done(&made, "one long and five short");
            let by_hand = [Seconds(10_810), Seconds(400)];
            assert_eq!(
                loads(&made),
                by_hand,
                "seed {seed}, {iterations} iterations"
            );
        }
    }
}

/// A standing of these shares in bands, highest first, as [`Standing`] keeps them.
fn standing(shares: &[i64], not_cleaning: i64) -> Standing {
    let mut shares = shares.to_vec();
    shares.sort_unstable_by(|a, b| b.cmp(a));
    Standing {
        undone: [0; 3],
        overtime: 0,
        change_first: 0,
        shares,
        change: 0,
        not_cleaning,
        calm: 0,
    }
}

proptest! {
    /// Minutes that are added to one person's run, all of them not spent cleaning, never better a plan's standing, whatever they do to the range or
    /// to the standard deviation.
    #[test]
    fn minutes_added_to_a_run_never_better_the_standing(
        shares in proptest::collection::vec(0i64..600, 1..8),
        who in 0usize..8,
        bands in 0i64..100,
        seconds in 1i64..30,
    ) {
        let before = standing(&shares, 1_000);
        let mut longer = shares.clone();
        longer[who % shares.len()] += bands;
        prop_assert!(standing(&longer, 1_000 + seconds + bands) > before);
    }
}
