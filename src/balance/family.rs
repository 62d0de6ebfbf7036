//! Sets of jobs near each other, one inside the other, and how often each has to be entered at least.
//!
//! Jobs are joined to sets from the shortest walk on (single linkage: Kruskal 1956, doi:10.1090/S0002-9939-1956-0078686-7), so rooms of one hall are a set
//! before those of one floor. Whoever mops in a set brings every bucket in from outside, or leaves to fill another; and takes every cartload of waste out. So
//!
//! ```text
//! walks into and out of a set + 2 × walks inside it by way of a fill point >= 2 × fills for its rooms
//! ```
//!
//! and the same for waste. These are the rounded capacity inequalities of vehicle routing (Laporte, Nobert and Desrochers 1985,
//! doi:10.1287/opre.33.5.1050), with depots on the way.
//!
//! A job that asks for something at more than one of its stops is there once for each, as a job of its own.

use super::distances::Distances;
use super::needs::{Holds, Need};
use itertools::Itertools;
use std::mem::take;

/// Nested sets, each before those inside it. The first is everything there is and needs nothing.
pub(super) struct Family {
    /// All of them.
    pub(super) sets: Vec<Set>,
    /// By job, the smallest set that it is in.
    pub(super) own: Vec<u16>,
    /// By pair of jobs, the smallest set that both are in.
    both: Vec<u16>,
    jobs: usize,
}

/// A set of jobs.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Set {
    /// The smallest one around it; the first is around itself.
    pub(super) around: u16,
    /// Buckets used in it at least.
    pub(super) fills: i64,
    /// Cartloads taken out of it at least.
    pub(super) dumps: i64,
}

impl Family {
    /// Sets that need to be entered more than once. `holds` is none where nobody has a cart.
    ///
    /// # Complexity
    /// `jobs² log jobs`.
    pub(super) fn new(distances: &Distances, needs: &[Need], holds: Option<Holds>) -> Family {
        let jobs = distances.places();
        match holds.filter(|_| (1..usize::from(u16::MAX)).contains(&jobs)) {
            Some(holds) => Joined::of(distances, needs, holds).into_family(),
            None => Family {
                sets: vec![Set::default()],
                own: vec![0; jobs],
                both: vec![0; jobs * jobs],
                jobs,
            },
        }
    }

    /// By job, the smallest set that it and this one are in.
    pub(super) fn with(&self, job: usize) -> &[u16] {
        &self.both[job * self.jobs..(job + 1) * self.jobs]
    }
}

/// All sets, each after those inside it.
struct Joined {
    sets: Vec<Set>,
    /// By set, the one around it.
    around: Vec<Option<usize>>,
    /// By job, the first set that it was joined to.
    own: Vec<Option<usize>>,
    /// By pair of jobs, the set that joined them.
    both: Vec<u16>,
}

impl Joined {
    fn of(distances: &Distances, needs: &[Need], holds: Holds) -> Joined {
        let jobs = distances.places();
        let mut joined = Joined {
            sets: Vec::new(),
            around: Vec::new(),
            own: vec![None; jobs],
            both: vec![0; jobs * jobs],
        };
        // By job, what it has been joined to so far, under one of its jobs: all of them, and their set unless it is alone.
        let mut home = (0..jobs).collect_vec();
        let mut groups = (0..jobs).map(|job| (vec![job], None)).collect_vec();
        for (a, b) in shortest_tree(distances) {
            let (a, b) = (home[a], home[b]);
            let (one, other) = (take(&mut groups[a]), take(&mut groups[b]));
            other.0.iter().for_each(|job| home[*job] = a);
            let set = joined.join(&one, &other);
            let all = [one.0, other.0].concat();
            let needed = all.iter().map(|job| needs[*job]).collect_vec();
            joined.sets.push(Set {
                around: 0,
                fills: holds.fills(&needed),
                dumps: holds.dumps(&needed),
            });
            joined.around.push(None);
            groups[a] = (all, Some(set));
        }
        joined
    }

    /// Two groups become the next set.
    fn join(&mut self, one: &Group, other: &Group) -> usize {
        let (set, jobs) = (self.sets.len(), self.own.len());
        for (x, y) in one.0.iter().cartesian_product(&other.0) {
            self.both[x * jobs + y] = set as u16;
            self.both[y * jobs + x] = set as u16;
        }
        for (members, inner) in [one, other] {
            match inner {
                Some(inner) => self.around[*inner] = Some(set),
                None => members.iter().for_each(|job| self.own[*job] = Some(set)),
            }
        }
        set
    }

    /// Only the sets that matter, the outer ones first.
    fn into_family(self) -> Family {
        let jobs = self.own.len();
        let mut sets = vec![Set::default()];
        // By set, the smallest one around it or itself that matters.
        let mut number = vec![0u16; self.sets.len()];
        for (set, made) in self.sets.iter().enumerate().rev() {
            let around = self.around[set].map_or(0, |around| number[around]);
            number[set] = around;
            if made.fills > 1 || made.dumps > 1 {
                number[set] = sets.len() as u16;
                sets.push(Set { around, ..*made });
            }
        }
        let of = |set: usize| number.get(set).copied().unwrap_or(0);
        let own = self.own.iter().map(|set| set.map_or(0, of));
        let both = self.both.iter().map(|set| of(usize::from(*set)));
        Family {
            sets,
            own: own.collect(),
            both: both.collect(),
            jobs,
        }
    }
}

/// Jobs that were joined, and their set unless there is only one.
type Group = (Vec<usize>, Option<usize>);

/// The pairs of a shortest spanning tree (Prim 1957), the nearest first.
fn shortest_tree(distances: &Distances) -> Vec<(usize, usize)> {
    let jobs = distances.places();
    let mut nearest = vec![(i32::MAX, 0); jobs];
    let mut outside = (1..jobs).collect_vec();
    let mut pairs = Vec::with_capacity(jobs);
    let mut here = 0;
    while !outside.is_empty() {
        let row = distances.row(here);
        for other in &outside {
            nearest[*other] = nearest[*other].min((row[*other], here));
        }
        let Some(at) = outside
            .iter()
            .position_min_by_key(|job| (nearest[**job].0, **job))
        else {
            break;
        };
        let next = outside.swap_remove(at);
        pairs.push((nearest[next].0, nearest[next].1, next));
        here = next;
    }
    pairs.sort_unstable();
    pairs.into_iter().map(|(_, a, b)| (a, b)).collect()
}
