//! Where to fill the bucket and where to empty the cart, against everything else that could be done ([`crate::support::carts`]).

use crate::common::read_text;
use crate::support::carts::{Night, Sorts};
use crate::support::planner::{assert_all_done, loads, planned, rooms_of};
use evenrun::plan::{Made, What};
use rayon::prelude::{IntoParallelIterator, ParallelIterator};
use std::sync::OnceLock;

const ITERATIONS: u64 = 400;

/// How many nights of each sort are tried.
const SEEDS: u64 = 20;

/// Up to six rooms, some of which are closed while they are done, so that there is a dwell and a drying to fill and to empty in.
const SORTS: [Sorts; 3] = [
    Sorts {
        rooms: 6,
        closed: 0,
    },
    Sorts {
        rooms: 5,
        closed: 1,
    },
    Sorts {
        rooms: 4,
        closed: 2,
    },
];

/// A night, what the program makes of it, and the least that it could take.
struct Case {
    name: String,
    sorts: Sorts,
    made: Made,
    /// With the plan's order of stops, and with any.
    least_in_order: Option<i64>,
    least: Option<i64>,
}

impl Case {
    fn load(&self) -> i64 {
        loads(&self.made)[0].0
    }

    fn count(&self, what: &What) -> usize {
        let stops = self.made.plan.runs[0].stops.iter();
        stops.filter(|s| s.what == *what).count()
    }

    fn told(&self) -> String {
        let Case {
            name,
            least_in_order,
            least,
            ..
        } = self;
        format!(
            "{name}: {}, least {least_in_order:?} in this order, {least:?} in any",
            self.load()
        )
    }
}

fn cases() -> &'static [Case] {
    static CASES: OnceLock<Vec<Case>> = OnceLock::new();
    CASES.get_or_init(|| {
        let seeds = |sorts: Sorts| (1..=SEEDS).map(move |seed| (sorts, seed));
        let all: Vec<(Sorts, u64)> = SORTS.into_iter().flat_map(seeds).collect();
        all.into_par_iter().map(|(s, seed)| case(s, seed)).collect()
    })
}

fn case(sorts: Sorts, seed: u64) -> Case {
    let night = Night::drawn(seed, sorts);
    let made = planned(&read_text(&night.yaml()), ITERATIONS, seed);
    let name = format!("seed {seed}, {sorts:?}");
    assert_all_done(&made, &name);
    let order = rooms_of(&made, 0);
    Case {
        least_in_order: night.least(Some(&order)),
        least: night.least(None),
        name,
        sorts,
        made,
    }
}

fn assert_no_case(what: &str, wrong: impl Fn(&Case) -> bool) {
    let faults: Vec<String> = cases()
        .iter()
        .filter(|c| wrong(c))
        .map(Case::told)
        .collect();
    let (count, all) = (faults.len(), cases().len());
    assert!(
        faults.is_empty(),
        "{what}, {count} of {all}:\n{}",
        faults.join("\n")
    );
}

/// Enumeration finds every plan that the program makes, so it never calls more the least.
#[test]
fn no_plan_takes_less_than_the_least_of_all() {
    assert_no_case("below the least", |c| {
        c.least_in_order.is_none_or(|least| c.load() < least)
            || c.least.is_none_or(|least| c.load() < least)
    });
}

/// Shares within a band of 0.2 % of the shift count as equal.
#[test]
fn no_order_with_any_fills_and_dumps_takes_a_band_less() {
    let band = 8 * 3600 / 500;
    assert_no_case("a band above the least", |c| {
        c.least.is_none_or(|least| c.load() > least + band)
    });
}

/// Else the tests here would show little.
#[test]
fn the_nights_tried_need_many_fills_and_dumps() {
    let with = |what: What, least: usize| {
        let all = cases().iter().filter(|c| c.count(&what) >= least);
        all.count()
    };
    let (fills, dumps) = (with(What::Fill, 3), with(What::Dump, 2));
    assert!(
        fills >= 15 && dumps >= 15,
        "{fills} with three fills, {dumps} with two dumps"
    );
    let closed = cases().iter().filter(|c| c.sorts.closed > 0);
    let in_a_lag = closed.filter(|c| {
        let stops = &c.made.plan.runs[0].stops;
        let waited = |w: &[evenrun::plan::PlannedStop]| {
            matches!(w[0].what, What::OpenAndWet(..) | What::WipeAndMop(..))
                && matches!(w[1].what, What::Fill | What::Dump)
        };
        stops.windows(2).any(waited)
    });
    let in_a_lag = in_a_lag.count();
    assert!(
        in_a_lag >= 15,
        "{in_a_lag} with a fill or a dump during a lag"
    );
}

/// For a given order of stops.
#[test]
fn for_the_order_of_a_run_no_other_fills_and_dumps_take_less() {
    assert_no_case("above the least in its order", |c| {
        c.least_in_order != Some(c.load())
    });
}

/// One hall, a metre a second; places with their metres along it.
fn one_hall(places: &str, closets: &str, kinds: &str, rooms: &str, cart: &str) -> Made {
    let made = planned(
        &read_text(&format!(
            "site: One hall\n\
             date: 2026-03-10\n\
             builtin_standard: false\n\
             floors: [{{id: G}}]\n\
             halls: [{{id: hall, floor: G, line_m: [[0, 0], [100, 0]], places_at: [{places}]}}]\n\
             places: [{{id: entrance}}]\n\
             closets: [{closets}]\n\
             standard: [{kinds}]\n\
             rooms: [{rooms}]\n\
             carts: [{{id: cart, waste_l: 60, bucket_m2: 40, {cart}}}]\n\
             crew: [{{name: Ana, shift: \"18:00-22:00\", start: entrance, cart: cart}}]\n\
             policy: {{fill_min: 3, dump_min: 2, speeds: {{cart_m_s: 1}}}}\n"
        )),
        ITERATIONS,
        1,
    );
    assert_all_done(&made, "one hall");
    made
}

/// Two rooms at 10 and 50 m with 40 l each for a cart of 60 l and a bucketful each: between them the cart is emptied and the bucket filled.
/// Water is at 20 m and waste at 40 m, so water comes first.
///
/// ```text
/// 20 to the water, 180; 10 to R0, 60 + 120; 10 to the water, 180; 20 to the waste, 120; 10 to R1, 180; 10 to the waste, 120; 40 home
/// walking 20 + 10 + 10 + 20 + 10 + 10 + 40 = 120; work 360, fills 360, dumps 240: 1,080
/// ```
///
/// With the waste first, or with R1 first, 160 m are walked.
#[test]
fn the_bucket_is_filled_before_the_cart_is_emptied_where_that_is_the_way() {
    let made = one_hall(
        "{place: entrance, m: 0}, {place: R0, m: 10}, {place: water, m: 20}, {place: waste, m: 40}, {place: R1, m: 50}",
        "{id: water, fill_point: true}, {id: waste, waste_point: true}",
        "{kind: ward, tasks: [{task: bins, how: dry, min: 1, waste_l: 40, source: assumption}, \
          {task: mop floor, how: mop, min: 2, drying_min: 5, source: assumption}]}",
        "{id: R0, kind: ward, area_m2: 10}, {id: R1, kind: ward, area_m2: 10}",
        "bucket_rooms: 1",
    );
    assert_eq!(loads(&made)[0].0, 1_080);
}

/// A restroom at 100 m that is open again by 18:15, with waste beside it; a room at 10 m; water at 20 m. While the floor dries, for 180 s,
/// either the cart is emptied or fresh water is fetched for the room. The water is on the way to the room, the waste is not.
///
/// ```text
/// 20 to the water, 180; 80 to the restroom, 180; dump 120, wait 60, reopen 60; 80 to the water, 180; 10 to the room, 120; 10 home
/// 20 + 180 + 80 + 180 + 180 + 60 + 80 + 180 + 10 + 120 + 10 = 1,100
/// ```
///
/// With water fetched while the floor dries: 20 + 180 + 80 + 180, then 80 + 180 + 80 and reopen 60, dump 120, 90 to the room, 120, 10 home: 1,200.
#[test]
fn the_cart_is_emptied_while_a_floor_dries_and_water_fetched_on_the_way() {
    let made = one_hall(
        "{place: entrance, m: 0}, {place: R, m: 10}, {place: water, m: 20}, {place: W, m: 100}, {place: waste, m: 100}",
        "{id: water, fill_point: true}, {id: waste, waste_point: true}",
        "{kind: restroom, restroom: true, reopen_min: 1, tasks: [{task: bins, how: dry, min: 1, waste_l: 30, source: assumption}, \
          {task: mop floor, how: mop, min: 2, drying_min: 3, source: assumption}]}, \
         {kind: ward, tasks: [{task: mop floor, how: mop, min: 2, drying_min: 5, source: assumption}]}",
        "{id: W, kind: restroom, area_m2: 10, closure: \"daily 18:00-18:15\"}, {id: R, kind: ward, area_m2: 10}",
        "bucket_rooms: 3",
    );
    assert_eq!(loads(&made)[0].0, 1_100);
}
