//! The least walking to places that are far: nobody carries all of the work there on one way.
//!
//! Cut the building at a walk of `r` seconds from the start. What lies beyond falls into parts that hang together; between two places of
//! different parts every walk comes back to within `r`, or nearly so: two places are in one part if a walk between them, or a chain of such walks, saves so much
//! against going by the start that it stays beyond `r`. Each part has to be entered and left by as many runs as it takes to do its work, so
//!
//! ```text
//! walking >= 2 × ∫ Σ(parts at r) runs(work of the part) dr
//! ```
//!
//! `runs(work)` is the least number of workers whose time is enough. On trees, and halls are nearly trees, this is the bound of Labbé,
//! Laporte and Mercure (1991, doi:10.1287/opre.39.4.616); in general it holds because the cuts of all `r` together never count
//! more of a walk from `a` to `b` than it is long: the parts of both join where `r` is at least half of `to_start(a) + to_start(b) − walk(a, b)`.

use super::distances::Distances;
use itertools::Itertools;

/// How places far from the start hang together: a tree of parts, made once.
pub(super) struct Far {
    to_start: Vec<i64>,
    /// Pairs of places whose parts join, and at twice which `r`, farthest first.
    joins: Vec<(i64, usize, usize)>,
}

impl Far {
    /// # Complexity
    /// `places²`.
    pub(super) fn new(distances: &Distances) -> Far {
        let places = distances.places();
        let saved = |a: usize, b: usize| {
            i64::from(distances.to_start[a] + distances.to_start[b] - distances.row(a)[b])
        };
        // A spanning tree that saves most (Prim 1957).
        let mut joins = Vec::with_capacity(places);
        let mut best = (0..places).map(|i| (i64::MIN, i)).collect_vec();
        let mut outside = (0..places).collect_vec();
        let mut next = outside.pop();
        while let Some(here) = next {
            for other in &outside {
                best[*other] = best[*other].max((saved(here, *other), here));
            }
            let at = outside.iter().position_max_by_key(|i| (best[**i].0, **i));
            next = at.map(|at| outside.swap_remove(at));
            if let Some(to) = next {
                joins.push((best[to].0, best[to].1, to));
            }
        }
        joins.sort_unstable_by(|a, b| b.cmp(a));
        Far {
            to_start: distances.to_start.iter().copied().map_into().collect(),
            joins,
        }
    }

    /// Seconds that all runs together walk at least. `work` is what each place takes at least, `time` what each worker has for work at most.
    ///
    /// # Complexity
    /// `places log places`.
    pub(super) fn least_walking(&self, work: &[i64], mut time: Vec<i64>) -> i64 {
        time.sort_unstable_by(|a, b| b.cmp(a));
        let mut sum = 0;
        for time in &mut time {
            sum += (*time).max(0);
            *time = sum;
        }
        // More work than all have time for needs all of them at least.
        let runs = |work: i64| (time.partition_point(|t| *t < work) + 1).min(time.len()) as i64;
        // Every part by its representative: its work, and twice the `r` down to which it has been counted.
        let mut parent = (0..work.len()).collect_vec();
        let mut parts = work
            .iter()
            .zip(&self.to_start)
            .map(|(w, r)| (*w, 2 * r))
            .collect_vec();
        let mut walking = 0;
        for (level, a, b) in &self.joins {
            let level = (*level).max(0);
            let (a, b) = (find(&mut parent, *a), find(&mut parent, *b));
            for part in [a, b] {
                walking += (parts[part].1 - level).max(0) * runs(parts[part].0);
            }
            parts[a] = (
                parts[a].0 + parts[b].0,
                level.min(parts[a].1).min(parts[b].1),
            );
            parent[b] = a;
        }
        // Down to the start itself.
        let whole = (0..work.len()).filter(|i| parent[*i] == *i);
        walking
            + whole
                .map(|part| parts[part].1 * runs(parts[part].0))
                .sum::<i64>()
    }
}

fn find(parent: &mut [usize], mut place: usize) -> usize {
    while parent[place] != place {
        parent[place] = parent[parent[place]];
        place = parent[place];
    }
    place
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two halls lead off the start, with work of 10 at 30 and 40 s in one and at 50 s in the other.
    fn two_halls(time: Vec<i64>) -> i64 {
        let (hall, at) = ([0, 0, 1], [30i32, 40, 50]);
        let walk = |a: usize, b: usize| {
            if hall[a] == hall[b] {
                (at[a] - at[b]).abs()
            } else {
                at[a] + at[b]
            }
        };
        let far = Far::new(&Distances::new(3, walk, |a| at[a]));
        far.least_walking(&[10; 3], time)
    }

    #[test]
    fn each_hall_is_walked_to_its_end_and_back() {
        assert_eq!(two_halls(vec![100]), 2 * 40 + 2 * 50);
    }

    #[test]
    fn work_for_two_is_walked_to_by_two() {
        // Nobody can do both rooms of the first hall: one goes to 30, another to 40.
        assert_eq!(two_halls(vec![15, 15, 15]), 2 * 30 + 2 * 40 + 2 * 50);
    }
}
