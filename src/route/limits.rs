//! At most so many at once: which runs hold which closure groups and exit pairs, and when.

use super::instance::{FOREVER, Limit, Secs};

/// One run's hold on one limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Hold {
    from: Secs,
    to: Secs,
    run: u16,
}

/// All holds of all runs, by limit.
#[derive(Clone, Debug, Default)]
pub(super) struct Holds {
    limits: Vec<Limit>,
    held: Vec<Vec<Hold>>,
}

impl Holds {
    pub(super) fn new(limits: &[Limit]) -> Holds {
        Holds {
            limits: limits.to_vec(),
            held: vec![Vec::new(); limits.len()],
        }
    }

    /// Takes a stretch of time of a limit for a run.
    pub(super) fn hold(&mut self, limit: u16, run: usize, from: Secs, to: Secs) {
        self.held[usize::from(limit)].push(Hold {
            from,
            to,
            run: run as u16,
        });
    }

    /// Gives back everything a run holds.
    pub(super) fn release(&mut self, run: usize) {
        self.held
            .iter_mut()
            .for_each(|held| held.retain(|h| usize::from(h.run) != run));
    }

    /// When the other runs hold a limit.
    pub(super) fn of_others(&self, limit: u16, run: usize) -> impl Iterator<Item = (Secs, Secs)> {
        let held = self.held[usize::from(limit)].iter();
        held.filter(move |h| usize::from(h.run) != run)
            .map(|h| (h.from, h.to))
    }

    /// Whether a run may hold a limit from `from` to `to`, being `own` times in it itself during that time; if not, the
    /// first moment after `from` at which another run lets go.
    pub(super) fn clash(
        &self,
        limit: u16,
        run: usize,
        own: i32,
        from: Secs,
        to: Secs,
    ) -> Option<Secs> {
        let room = self.limits[usize::from(limit)].capacity - own - 1;
        let held = &self.held[usize::from(limit)];
        let others = || {
            held.iter()
                .filter(|h| usize::from(h.run) != run && h.from < to && from < h.to)
        };
        if room < 0 {
            return Some(FOREVER);
        }
        if others().count() as i32 <= room {
            return None;
        }
        // The most at once is reached at the start of some hold, or at `from`.
        let starts = others().map(|h| h.from.max(from));
        let most = starts
            .map(|at| others().filter(|h| h.from <= at && at < h.to).count() as i32)
            .max()
            .unwrap_or(0);
        (most > room).then(|| others().map(|h| h.to).min().unwrap_or(FOREVER))
    }
}

impl Holds {
    /// The first moment from `from` on at which the other runs hold all there is of a limit.
    pub(super) fn full_from(&self, limit: u16, run: usize, from: Secs) -> Secs {
        let capacity = self.limits[usize::from(limit)].capacity;
        let others = || {
            let held = self.held[usize::from(limit)].iter();
            held.filter(|h| usize::from(h.run) != run && h.to > from)
        };
        let at_once = |at: Secs| others().filter(|h| h.from <= at && at < h.to).count() as i32;
        let starts = others().map(|h| h.from.max(from));
        let full = starts.filter(|at| at_once(*at) >= capacity);
        full.min().unwrap_or(FOREVER)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_limit_counts_other_runs_at_each_moment_only() {
        let mut holds = Holds::new(&[Limit { capacity: 2 }]);
        holds.hold(0, 1, 0, 10);
        holds.hold(0, 2, 10, 20);
        assert_eq!(holds.clash(0, 0, 0, 5, 15), None, "never both at once");
        holds.hold(0, 3, 8, 12);
        assert_eq!(holds.clash(0, 0, 0, 5, 15), Some(10));
        assert_eq!(
            holds.clash(0, 3, 0, 5, 15),
            None,
            "a run does not clash with itself"
        );
        holds.release(2);
        holds.release(1);
        assert_eq!(
            holds.clash(0, 0, 1, 0, 20),
            Some(12),
            "its own other closure counts"
        );
    }
}
