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
