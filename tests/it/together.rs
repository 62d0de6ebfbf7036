//! What all runs keep together at every moment: closure groups that leave only one room to be closed, and exit pairs, with three or four
//! people who would all close one at once. Counted from the plan alone, apart from the checker.

use crate::common::read_text;
use crate::support::planner::{assert_all_done, planned};
use crate::support::star::{self, Spot, spot};
use evenrun::plan::{Made, Plan, What};
use evenrun::site::{RoomId, Site};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use rayon::prelude::{IntoParallelIterator, ParallelIterator};
use std::collections::BTreeMap;
use std::fmt::Write;
use std::sync::OnceLock;

/// How many nights are tried.
const SEEDS: u64 = 16;
const ITERATIONS: u64 = 120;

/// Restrooms by number, of which all but one stay open. One restroom is in two groups.
const GROUPS: [&[usize]; 3] = [&[0, 1, 2], &[2, 3], &[4, 5, 6]];
const RESTROOMS: usize = 8;

/// Corridors by number, of which never two are wet at once.
const EXIT_PAIRS: [[usize; 2]; 2] = [[0, 1], [2, 3]];
const CORRIDORS: usize = 4;

/// Seconds that a corridor is swept, mopped and wet afterwards.
const MOPPING: i64 = 120;
const DRYING: i64 = 600;

/// Closets and the work: 10 min for a restroom, dwell and drying not counted, 3 min for a corridor.
const TRADE: &str = "places: [{id: entrance}]\n\
     closets:\n\
     \x20 - {id: C0, fill_point: true, waste_point: true}\n\
     \x20 - {id: C1, fill_point: true, waste_point: true}\n\
     standard:\n\
     \x20 - kind: restroom\n\
     \x20   restroom: true\n\
     \x20   reopen_min: 1\n\
     \x20   tasks:\n\
     \x20     - {task: disinfect, how: spray, min: 1, wipe_min: 3, dwell_min: 6, source: assumption}\n\
     \x20     - {task: restock, how: dry, min: 2, source: assumption}\n\
     \x20     - {task: mop floor, how: mop, min: 3, drying_min: 8, source: assumption}\n\
     \x20 - kind: corridor\n\
     \x20   tasks:\n\
     \x20     - {task: sweep, how: dry, min: 1, source: assumption}\n\
     \x20     - {task: mop in halves, how: mop, min: 2, drying_min: 10, source: assumption}\n\
     rooms:\n";

/// A night in which there is time for everything: four hours for each of three or four people.
fn night(seed: u64, rules: bool) -> Site {
    let rng = &mut Pcg64Mcg::seed_from_u64(seed);
    let rooms = (0..RESTROOMS)
        .map(|i| format!("W{i}"))
        .chain((0..CORRIDORS).map(|i| format!("H{i}")));
    let rooms: Vec<(String, Spot)> = rooms.map(|id| (id, spot(rng))).collect();
    let mut places = rooms.clone();
    places.extend(["entrance", "C0", "C1"].map(|id| (id.to_string(), spot(rng))));
    let mut text = star::yaml(&places);
    text.push_str(TRADE);
    for (id, _) in &rooms {
        let kind = if id.starts_with('W') {
            "restroom"
        } else {
            "corridor"
        };
        let early = kind == "restroom" && rng.random_bool(0.25);
        let closure = if early {
            ", closure: \"daily 18:00-20:15\""
        } else {
            ""
        };
        let _ = writeln!(text, "  - {{id: {id}, kind: {kind}, area_m2: 10{closure}}}");
    }
    text.push_str("carts: [{id: cart, waste_l: 100, bucket_m2: 40, bucket_rooms: 3}]\ncrew:\n");
    for index in 0..rng.random_range(3..=4) {
        let _ = writeln!(
            text,
            "  - {{name: P{index}, shift: \"18:00-22:00\", start: entrance, cart: cart}}"
        );
    }
    text.push_str("policy:\n  speeds: {cart_m_s: 1}\n");
    if rules {
        add_rules(&mut text);
    }
    read_text(&text)
}

fn add_rules(text: &mut String) {
    text.push_str("  groups:\n");
    for (index, group) in GROUPS.iter().enumerate() {
        let rooms: Vec<String> = group.iter().map(|i| format!("W{i}")).collect();
        let (rooms, keep) = (rooms.join(", "), group.len() - 1);
        let _ = writeln!(
            text,
            "    - {{name: G{index}, rooms: [{rooms}], keep_open: {keep}}}"
        );
    }
    text.push_str("  exit_pairs:\n");
    for [a, b] in EXIT_PAIRS {
        let _ = writeln!(text, "    - [H{a}, H{b}]");
    }
}

/// From when to when each room is closed: from its first stop to the end of its reopening; and by whom.
fn closures(plan: &Plan) -> BTreeMap<RoomId, (i64, i64, usize)> {
    let mut closed: BTreeMap<RoomId, (i64, i64, usize)> = BTreeMap::new();
    for (run, stops) in plan.runs.iter().map(|r| &r.stops).enumerate() {
        for stop in stops {
            let Some(room) = stop.what.room() else {
                continue;
            };
            let (from, to) = (stop.span.from.0, stop.span.to.0);
            let span = closed.entry(room).or_insert((from, to, run));
            *span = (span.0.min(from), span.1.max(to), run);
        }
    }
    closed
}

/// From when to when each corridor is wet.
fn wet(plan: &Plan) -> BTreeMap<RoomId, (i64, i64, usize)> {
    let mut wet = BTreeMap::new();
    for (run, stops) in plan.runs.iter().map(|r| &r.stops).enumerate() {
        for stop in stops {
            if let What::Clean(room, _) = stop.what {
                let to = stop.span.to.0;
                wet.insert(room, (to - MOPPING, to + DRYING, run));
            }
        }
    }
    wet
}

/// The most of these rooms that hold at once, at any moment at which anything in the plan begins or ends.
fn most_at_once(
    plan: &Plan,
    held: &BTreeMap<RoomId, (i64, i64, usize)>,
    rooms: &[RoomId],
) -> usize {
    let stops = plan.runs.iter().flat_map(|r| &r.stops);
    let mut moments: Vec<i64> = stops.flat_map(|s| [s.span.from.0, s.span.to.0]).collect();
    moments.extend(held.values().flat_map(|(from, to, _)| [*from, *to]));
    let at = |moment: i64| {
        let here = rooms.iter().filter_map(|r| held.get(r));
        here.filter(|(from, to, _)| *from <= moment && moment < *to)
            .count()
    };
    moments.into_iter().map(at).max().unwrap_or(0)
}

fn named(site: &Site, letter: char, numbers: &[usize]) -> Vec<RoomId> {
    let ids = numbers.iter().map(|i| format!("{letter}{i}"));
    ids.map(|id| site.room_named(&id).expect("a room of the night"))
        .collect()
}

/// For each group and exit pair, the most rooms at once.
fn most_of_each(site: &Site, plan: &Plan) -> Vec<usize> {
    let (closed, wet) = (closures(plan), wet(plan));
    let groups = GROUPS
        .iter()
        .map(|g| most_at_once(plan, &closed, &named(site, 'W', g)));
    let pairs = EXIT_PAIRS
        .iter()
        .map(|p| most_at_once(plan, &wet, &named(site, 'H', p)));
    groups.chain(pairs).collect()
}

struct Case {
    seed: u64,
    site: Site,
    made: Made,
    /// The same night without groups and exit pairs.
    free: Made,
}

fn cases() -> &'static [Case] {
    static CASES: OnceLock<Vec<Case>> = OnceLock::new();
    let case = |seed: u64| Case {
        seed,
        site: night(seed, true),
        made: planned(&night(seed, true), ITERATIONS, seed),
        free: planned(&night(seed, false), ITERATIONS, seed),
    };
    CASES.get_or_init(|| (1..=SEEDS).into_par_iter().map(case).collect())
}

#[test]
fn of_every_tight_group_and_exit_pair_one_at_most_at_every_moment() {
    for case in cases() {
        let what = format!("seed {}", case.seed);
        assert_all_done(&case.made, &what);
        let closed = closures(&case.made.plan);
        assert_eq!(closed.len(), RESTROOMS + CORRIDORS, "{what}");
        assert_eq!(
            most_of_each(&case.site, &case.made.plan),
            [1; 5],
            "{what}: most at once by group and pair"
        );
    }
}

/// Else the test above would show little: without the rules nearly every plan breaks every one of them, and with them the rooms of a group are
/// closed by several people in turn.
#[test]
fn without_the_rules_the_same_nights_break_them() {
    let broken = |rule: usize| {
        let breaks = |c: &&Case| most_of_each(&c.site, &c.free.plan)[rule] > 1;
        cases().iter().filter(breaks).count()
    };
    let by_rule: Vec<usize> = (0..GROUPS.len() + EXIT_PAIRS.len()).map(broken).collect();
    let by_several = cases().iter().filter(|c| {
        let closed = closures(&c.made.plan);
        GROUPS.iter().all(|group| {
            let rooms = named(&c.site, 'W', group);
            let mut runs: Vec<usize> = rooms.iter().map(|r| closed[r].2).collect();
            runs.sort_unstable();
            runs.dedup();
            runs.len() > 1
        })
    });
    let by_several = by_several.count();
    assert!(
        by_rule.iter().all(|count| *count >= 12),
        "{by_rule:?} nights break them without the rules"
    );
    assert!(
        by_several >= 12,
        "{by_several} nights with every group split"
    );
}
