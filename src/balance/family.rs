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

use super::distances::Distances;
use super::needs::{Holds, Need};
use itertools::Itertools;

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

/// Jobs joined so far.
struct Joined {
    jobs: Vec<usize>,
    /// The last set that they were joined to, none of a single job.
    set: Option<usize>,
}

impl Family {
    /// Sets that need to be entered more than once. `holds` is none where nobody has a cart.
    ///
    /// # Complexity
    /// `jobs² log jobs`.
    pub(super) fn new(distances: &Distances, needs: &[Need], holds: Option<Holds>) -> Family {
        let jobs = distances.places();
        let mut family = Family {
            sets: vec![Set::default()],
            own: vec![0; jobs],
            both: vec![0; jobs * jobs],
            jobs,
        };
        let Some(holds) = holds.filter(|_| jobs < usize::from(u16::MAX)) else {
            return family;
        };
        // By job, the sets that it is in, smallest first, as numbers of joins.
        let mut joined = (0..jobs)
            .map(|job| {
                Some(Joined {
                    jobs: vec![job],
                    set: None,
                })
            })
            .collect_vec();
        let mut home = (0..jobs).collect_vec();
        let mut made: Vec<Set> = Vec::new();
        let mut around: Vec<Option<usize>> = Vec::new();
        let mut own = vec![None; jobs];
        for (a, b) in shortest_tree(distances) {
            let (a, b) = (home[a], home[b]);
            let (Some(one), Some(other)) = (joined[a].take(), joined[b].take()) else {
                continue;
            };
            let set = made.len();
            for (x, y) in one.jobs.iter().cartesian_product(&other.jobs) {
                family.both[x * jobs + y] = set as u16;
                family.both[y * jobs + x] = set as u16;
            }
            for part in [&one, &other] {
                match part.set {
                    Some(inner) => around[inner] = Some(set),
                    None => part.jobs.iter().for_each(|job| own[*job] = Some(set)),
                }
                part.jobs.iter().for_each(|job| home[*job] = a);
            }
            let all = [one.jobs, other.jobs].concat();
            let needed = all.iter().map(|job| needs[*job]).collect_vec();
            made.push(Set {
                around: 0,
                fills: holds.fills(&needed),
                dumps: holds.dumps(&needed),
            });
            around.push(None);
            joined[a] = Some(Joined {
                jobs: all,
                set: Some(set),
            });
        }
        // Those that matter get numbers, the outer ones first.
        let mut number = vec![0u16; made.len()];
        for set in (0..made.len()).rev() {
            let outer = around[set].map_or(0, |outer| number[outer]);
            number[set] = outer;
            if made[set].fills > 1 || made[set].dumps > 1 {
                number[set] = family.sets.len() as u16;
                family.sets.push(Set {
                    around: outer,
                    ..made[set]
                });
            }
        }
        if number.is_empty() {
            return family;
        }
        for (x, y) in (0..jobs).cartesian_product(0..jobs).filter(|(x, y)| x != y) {
            family.both[x * jobs + y] = number[usize::from(family.both[x * jobs + y])];
        }
        family.own = own
            .iter()
            .map(|set| set.map_or(0, |set| number[set]))
            .collect();
        family
    }

    /// By job, the smallest set that it and this one are in.
    pub(super) fn with(&self, job: usize) -> &[u16] {
        &self.both[job * self.jobs..(job + 1) * self.jobs]
    }
}

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
