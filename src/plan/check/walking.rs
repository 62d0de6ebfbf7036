//! Rule 3: between two consecutive stops there is time for the shortest walk, in the way this run moves.

use super::findings::{Findings, exact, label};
use super::rule::Rule;
use crate::plan::reading::{ReadRun, Reading};
use crate::units::Seconds;

/// Every walk of a run.
pub(super) fn of_run(_: &Reading, run: &ReadRun, found: &mut Findings) {
    for (at, pair) in run.stops.windows(2).enumerate() {
        let (before, after) = (&pair[0], &pair[1]);
        let left = after.span.from - before.span.to;
        let way = if run.cart.is_some() {
            "with the cart"
        } else {
            "on foot"
        };
        let problem = match run.walk(before.place, after.place) {
            None => format!("cannot be reached {way} from {}", label(run, at)),
            Some(_) if left < Seconds::ZERO => {
                format!(
                    "begins {} before the end of {}",
                    exact(-left),
                    label(run, at)
                )
            }
            Some(walk) if left < walk => {
                let (walk, left) = (exact(walk), exact(left));
                format!(
                    "the walk {way} takes {walk}, there are {left} since {}",
                    label(run, at)
                )
            }
            Some(_) => continue,
        };
        found.at_stop(Rule::Walking, run, at + 1, &problem);
    }
}
