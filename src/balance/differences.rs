//! Linear programs over moments in which every rule says that one moment comes at least so long after another:
//!
//! ```text
//! minimise    Σ cost[i] t[i]
//! subject to  t[b] - t[a] >= gap      for every rule (a, b, gap)
//!             low[i] <= t[i] <= high[i]
//! ```
//!
//! The matrix is that of a network, so with whole numbers given, a vertex is whole numbers, too (Hoffman and Kruskal 1956, *Integral boundary points of
//! convex polyhedra*; cited from memory). microlp's simplex method ends at a vertex. Its answer is rounded and checked against every rule all the same.

use good_lp::{ProblemVariables, Solution, SolverModel, constraint, variable};

/// Moments in seconds, and the rules between them.
#[derive(Clone, Debug, Default)]
pub(super) struct Differences {
    moments: Vec<Moment>,
    rules: Vec<(usize, usize, i64)>,
}

#[derive(Clone, Copy, Debug)]
struct Moment {
    low: i64,
    high: i64,
    cost: i64,
}

/// One of the moments.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct At(usize);

impl At {
    /// The moment it is.
    pub(super) fn of(self, times: &[i64]) -> i64 {
        times[self.0]
    }
}

impl Differences {
    /// A further moment, from `low` to `high`.
    pub(super) fn moment(&mut self, low: i64, high: i64) -> At {
        self.moments.push(Moment { low, high, cost: 0 });
        At(self.moments.len() - 1)
    }

    /// A moment is not before `low`,
    pub(super) fn not_before(&mut self, at: At, low: i64) {
        let moment = &mut self.moments[at.0];
        moment.low = moment.low.max(low);
    }

    /// and not after `high`.
    pub(super) fn not_after(&mut self, at: At, high: i64) {
        let moment = &mut self.moments[at.0];
        moment.high = moment.high.min(high);
    }

    /// `later` comes at least `gap` after `earlier`; a negative gap lets it come before.
    pub(super) fn after(&mut self, earlier: At, later: At, gap: i64) {
        self.rules.push((earlier.0, later.0, gap));
    }

    /// Every second by which a moment is later costs so much more.
    pub(super) fn cost(&mut self, at: At, more: i64) {
        self.moments[at.0].cost += more;
    }

    /// What it costs that the moments are as they are.
    pub(super) fn total(&self, times: &[i64]) -> i64 {
        self.moments
            .iter()
            .zip(times)
            .map(|(m, t)| m.cost * t)
            .sum()
    }

    /// Whether every rule is kept.
    pub(super) fn holds(&self, times: &[i64]) -> bool {
        let inside = |(m, t): (&Moment, &i64)| m.low <= *t && *t <= m.high;
        times.len() == self.moments.len()
            && self.moments.iter().zip(times).all(inside)
            && self
                .rules
                .iter()
                .all(|(a, b, gap)| times[*b] - times[*a] >= *gap)
    }

    /// The cheapest moments; nothing if the solver finds none or its answer, rounded, breaks a rule.
    pub(super) fn cheapest(&self) -> Option<Vec<i64>> {
        self.cheapest_by(good_lp::microlp)
    }

    fn cheapest_by<S: good_lp::Solver>(&self, solver: S) -> Option<Vec<i64>> {
        if self.moments.iter().any(|m| m.low > m.high) {
            return None;
        }
        let mut variables = ProblemVariables::new();
        let span = |m: &Moment| (m.high - m.low) as f64;
        // Counted from the earliest, so that numbers are small.
        let x: Vec<_> = self
            .moments
            .iter()
            .map(|m| variables.add(variable().min(0.0).max(span(m))))
            .collect();
        let cost: good_lp::Expression = x
            .iter()
            .zip(&self.moments)
            .map(|(x, m)| m.cost as f64 * *x)
            .sum();
        let mut model = variables.minimise(cost).using(solver);
        for (a, b, gap) in &self.rules {
            let gap = (gap + self.moments[*a].low - self.moments[*b].low) as f64;
            model = model.with(constraint!(x[*b] - x[*a] >= gap));
        }
        let solution = model.solve().ok()?;
        let moment =
            |(x, m): (&good_lp::Variable, &Moment)| m.low + solution.value(*x).round() as i64;
        let times: Vec<i64> = x.iter().zip(&self.moments).map(moment).collect();
        self.holds(&times).then_some(times)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use rand::{RngExt, SeedableRng};
    use rand_pcg::Pcg64Mcg;

    /// Five moments within five seconds, and rules between some.
    fn drawn(rng: &mut Pcg64Mcg) -> Differences {
        let mut drawn = Differences::default();
        for _ in 0..5 {
            let low = rng.random_range(0..3);
            let at = drawn.moment(low, low + rng.random_range(0..4));
            drawn.cost(at, rng.random_range(-5..6));
        }
        for _ in 0..rng.random_range(1..7) {
            let (a, b) = (rng.random_range(0..5), rng.random_range(0..5));
            drawn.after(At(a), At(b), rng.random_range(-3..3));
        }
        drawn
    }

    fn enumerated(problem: &Differences) -> Option<i64> {
        let all = (0..6i64.pow(5)).map(|n| (0..5).map(|i| n / 6i64.pow(i) % 6).collect::<Vec<_>>());
        all.filter(|times| problem.holds(times))
            .map(|times| problem.total(&times))
            .min()
    }

    #[test]
    fn the_cheapest_moments_are_those_of_enumeration_and_of_a_second_solver() {
        let rng = &mut Pcg64Mcg::seed_from_u64(11);
        let mut possible = 0;
        for _ in 0..300 {
            let problem = drawn(rng);
            let best = enumerated(&problem);
            let total = |times: Option<Vec<i64>>| times.map(|t| problem.total(&t));
            assert_eq!(total(problem.cheapest()), best, "{problem:?}");
            // An interior point method may end between two vertices that cost the same; rounded, that may break a rule.
            if let Some(second) = total(problem.cheapest_by(good_lp::clarabel)) {
                assert_eq!(Some(second), best, "{problem:?}");
                possible += 1;
            }
        }
        assert!(possible > 100, "{possible}");
    }

    #[test]
    #[cfg_attr(
        not(feature = "highs"),
        ignore = "HiGHS is not built in; `--features highs` does that"
    )]
    fn highs_finds_moments_as_cheap() {
        #[cfg(feature = "highs")]
        for seed in 0..300 {
            let problem = drawn(&mut Pcg64Mcg::seed_from_u64(seed));
            let total = |times: Option<Vec<i64>>| times.map(|t| problem.total(&t));
            let other = total(problem.cheapest_by(good_lp::highs));
            assert_eq!(total(problem.cheapest()), other, "{problem:?}");
        }
    }
}
