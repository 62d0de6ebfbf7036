//! How many people the rooms' own hours ask for: work that can only be done within some stretches of the night needs so many hands there.
//!
//! For any set of jobs, all their work lies inside the union of their windows, and one person does at most that much in it. So
//! at least `work / length of the union` people are needed, rounded up. Looked at are, for every two ends of windows, the jobs all of whose
//! windows lie between the two.

use crate::route::{Instance, Secs};
use itertools::Itertools;

/// Fewer people than this cannot do the first `scope[j]` tasks of every job `j` of an instance whose workers are all alike; the first stands
/// for all.
///
/// # Complexity
/// Jobs × (distinct ends of windows)².
pub fn least_people(instance: &Instance, scope: &[u8]) -> usize {
    let Some(worker) = instance.workers.first() else {
        return 0;
    };
    let (from, to) = (
        worker.from + worker.set_up,
        worker.latest - worker.tear_down,
    );
    let clipped = |windows: &[(Secs, Secs)]| -> Vec<(Secs, Secs)> {
        let inside = windows.iter().map(|(a, b)| ((*a).max(from), (*b).min(to)));
        inside.filter(|(a, b)| a < b).collect()
    };
    let jobs = (0..instance.jobs.len() as u32).filter_map(|index| {
        let job = &instance.jobs[index as usize];
        // Stops of a room that is closed lie in a closure window as well: the tighter of the two counts.
        let sets = std::iter::once(&job.windows).chain(&job.closure);
        let windows = sets.map(|w| clipped(w)).min_by_key(|w| total(w))?;
        let done = scope[index as usize];
        let work = i64::from(instance.work(0, index, done));
        let possible = done > 0 && job.eligible[0];
        (possible && !job.last && !windows.is_empty()).then_some((windows, work))
    });
    let jobs = jobs.collect_vec();
    let starts = jobs.iter().map(|(w, _)| w[0].0).sorted().dedup();
    let ends = jobs.iter().map(|(w, _)| w[w.len() - 1].1).sorted().dedup();
    let pairs = starts.cartesian_product(ends.collect_vec());
    pairs
        .map(|(from, to)| people_between(&jobs, from, to))
        .max()
        .unwrap_or(0)
}

/// A job's windows, and its work in seconds.
type Job = (Vec<(Secs, Secs)>, i64);

fn people_between(jobs: &[Job], from: Secs, to: Secs) -> usize {
    let inside = |(windows, _): &&Job| windows[0].0 >= from && windows[windows.len() - 1].1 <= to;
    let inside = jobs.iter().filter(inside).collect_vec();
    let work: i64 = inside.iter().map(|(_, work)| work).sum();
    let windows = inside.iter().flat_map(|(w, _)| w.iter().copied());
    let length = total(&union(windows.collect())).max(1);
    usize::try_from((work + length - 1) / length).unwrap_or(0)
}

fn union(mut windows: Vec<(Secs, Secs)>) -> Vec<(Secs, Secs)> {
    windows.sort_unstable();
    let mut joined: Vec<(Secs, Secs)> = Vec::new();
    for (from, to) in windows {
        match joined.last_mut() {
            Some(last) if from <= last.1 => last.1 = last.1.max(to),
            _ => joined.push((from, to)),
        }
    }
    joined
}

fn total(windows: &[(Secs, Secs)]) -> i64 {
    windows.iter().map(|(from, to)| i64::from(to - from)).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: 50 and 60 of work in 0 to 60, 30 more in 0 to 100: two people for the first two, two for all (140 in 100).
    #[test]
    fn short_windows_ask_for_more_hands() {
        let jobs = [
            (vec![(0, 60)], 50),
            (vec![(0, 60)], 60),
            (vec![(0, 20), (80, 100)], 30),
        ];
        assert_eq!(people_between(&jobs, 0, 60), 2);
        assert_eq!(people_between(&jobs, 0, 100), 2);
        assert_eq!(people_between(&jobs, 10, 100), 0);
        assert_eq!(union(vec![(5, 9), (0, 5), (20, 30)]), [(0, 9), (20, 30)]);
    }
}
