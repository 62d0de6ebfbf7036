//! Rule 9: the cart never holds more than its volume and is empty at the end of the run. A room with more waste than a cart holds
//! is begun with an empty one, and takes trips to empty it.

use super::findings::{Findings, exact};
use super::rule::Rule;
use crate::plan::What;
use crate::plan::reading::{ReadRun, Reading, TOLERANCE, loads};

/// The cart along one run.
pub(super) fn of_run(_: &Reading, run: &ReadRun, found: &mut Findings) {
    let mut level = 0.0;
    for at in 0..run.stops.len() {
        match run.stops[at].what {
            What::Dump => {
                is_emptied(run, at, found);
                level = 0.0;
            }
            What::TearDown if level > 0.0 => {
                let problem = format!("the cart still holds {level:.1} l of waste");
                found.at_stop(Rule::Waste, run, at, &problem);
            }
            _ => level = collected(run, at, level, found),
        }
    }
}

fn is_emptied(run: &ReadRun, at: usize, found: &mut Findings) {
    let (stop, dump) = (&run.stops[at], run.site.policy.dump);
    if !run.site.waste_points().any(|point| point == stop.place) {
        found.at_stop(Rule::Waste, run, at, "there is no waste point here");
    }
    if run.cart.is_none() {
        found.at_stop(
            Rule::Waste,
            run,
            at,
            "this run goes on foot, without a cart to empty",
        );
    }
    let planned = stop.span.to - stop.span.from;
    if planned != dump {
        let problem = format!("takes {}, planned are {}", exact(dump), exact(planned));
        found.at_stop(Rule::Waste, run, at, &problem);
    }
}

/// What the cart holds after a stop.
fn collected(run: &ReadRun, at: usize, level: f64, found: &mut Findings) -> f64 {
    let stop = &run.stops[at];
    let waste = run.waste(stop);
    if waste <= 0.0 {
        return level;
    }
    let Some(cart) = run.cart else {
        found.at_stop(Rule::Waste, run, at, "waste is collected without a cart");
        return 0.0;
    };
    let (holds, trips) = (cart.waste.0, loads(waste, cart.waste.0) - 1);
    let problem = if trips == 0 {
        (level + waste > holds + TOLERANCE).then(|| {
            format!(
                "the cart would hold {:.1} l, it has room for {holds:.1} l",
                level + waste
            )
        })
    } else if run.dump_trips(stop).is_none() {
        Some("no waste point can be reached for the trips this needs".to_string())
    } else {
        (level > 0.0).then(|| {
            format!("{waste:.1} l of waste need an empty cart first, it holds {level:.1} l")
        })
    };
    if let Some(problem) = problem {
        found.at_stop(Rule::Waste, run, at, &problem);
    }
    level + waste - holds * trips as f64
}
