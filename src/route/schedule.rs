//! How bold the search is when: simulated annealing (Kirkpatrick, Gelatt and Vecchi 1983, doi:10.1126/science.220.4598.671) in one
//! long cooling, or, where there is time for more than one, in several, all but the first from a warm start.

use super::instance::{Goal, Instance};
use super::prices::SECOND;

/// Temperatures at the start and the end of a cooling, in walks between neighbouring jobs, and for even shares times the root of how many
/// jobs there are. A worsening by some minutes of work is likely to be accepted at first in a usual building, and one by a second or two
/// at the end. Colder, many runs settle among each other long before each of them is compact; hotter, few runs never do.
const EVEN: (f64, f64) = (0.5, 0.0036);
const SHORTEST: (f64, f64) = (7.0, 0.07);

/// From a plan to stay near among equals, whatever the size.
const BEGUN: (f64, f64) = (1.4, 0.01);

/// From a plan that people know, which is to change little.
const KNOWN: (f64, f64) = (0.14, 0.01);

/// All coolings but the first start at this part of the temperature.
const WARM: f64 = 0.3;

/// A cooling is long enough when it has so many iterations for each job.
const ITERATIONS: f64 = 3_500.0;

/// When the search is how hot.
#[derive(Clone, Copy, Debug)]
pub(super) struct Schedule {
    hot: f64,
    cold: f64,
    coolings: f64,
}

impl Schedule {
    /// One cooling, of a search that has `begun` with a plan or not; `reach` is the usual walk between neighbouring jobs.
    pub(super) fn new(instance: &Instance, begun: bool, reach: f64) -> Schedule {
        let root = (instance.jobs.len() as f64).sqrt();
        let (hot, cold) = match instance.goal {
            _ if instance.before.is_known() => KNOWN,
            Goal::Even if begun => BEGUN,
            Goal::Even => (EVEN.0 * root, EVEN.1 * root),
            Goal::Shortest => SHORTEST,
        };
        let walk = reach.max(1.0) * SECOND as f64;
        Schedule {
            hot: hot * walk,
            cold: cold * walk,
            coolings: 1.0,
        }
    }

    /// The same with as many coolings as so many iterations are enough for.
    pub(super) fn with_iterations(self, iterations: f64, jobs: usize) -> Schedule {
        let coolings = (iterations / (ITERATIONS * jobs.max(1) as f64)).floor();
        Schedule {
            coolings: coolings.max(1.0),
            ..self
        }
    }

    /// How far the present cooling is, from 0 to 1, when the search is at `progress`.
    pub(super) fn cooled(&self, progress: f64) -> f64 {
        let done = progress * self.coolings;
        // The end of the last cooling is its end, not the start of another.
        done - done.floor().min(self.coolings - 1.0)
    }

    /// The temperature in prices, when the search is at `progress` from 0 to 1.
    pub(super) fn temperature(&self, progress: f64) -> f64 {
        let first = progress * self.coolings < 1.0;
        let hot = if first { self.hot } else { self.hot * WARM };
        hot * (self.cold / hot).powf(self.cooled(progress))
    }
}
