//! Cover plans made for tests, by a number of iterations.

use evenrun::cover::{Changes, Covered, Earlier, Request, STEADY, cover};
use evenrun::plan::{Plan, Tonight};
use evenrun::route::{Budget, Settings, Stop};
use evenrun::site::Site;
use std::sync::atomic::AtomicBool;

/// A cover plan by the usual dial.
pub(crate) fn covered(site: &Site, plan: &Plan, changes: &Changes, iterations: u64) -> Covered {
    covered_steadily(site, plan, changes, iterations, STEADY.0)
}

/// A cover plan by a dial.
pub(crate) fn covered_steadily(
    site: &Site,
    plan: &Plan,
    changes: &Changes,
    iterations: u64,
    steady: u8,
) -> Covered {
    covered_again(site, plan, &Tonight::default(), changes, iterations, steady)
}

/// A cover plan on a night that was not as usual before.
pub(crate) fn covered_again(
    site: &Site,
    plan: &Plan,
    tonight: &Tonight,
    changes: &Changes,
    iterations: u64,
    steady: u8,
) -> Covered {
    let never = AtomicBool::new(false);
    let request = Request {
        site,
        earlier: Earlier {
            plan,
            absent: &[],
            tonight,
        },
        changes,
        steady,
        settings: Settings {
            stop: Stop {
                budget: Budget::Iterations(iterations),
                interrupted: &never,
            },
            seed: 1,
            islands: 2,
        },
    };
    let covered = cover(&request, &mut |_, _| {});
    covered.unwrap_or_else(|misfits| {
        let all: Vec<String> = misfits.iter().map(ToString::to_string).collect();
        panic!("{}", all.join("\n"))
    })
}

/// Every rule that a cover plan breaks, by number and message.
pub(crate) fn broken(covered: &Covered) -> Vec<String> {
    let all = covered.made.violations.iter();
    all.map(|v| format!("{:?}: {}", v.rule, v.message))
        .collect()
}
