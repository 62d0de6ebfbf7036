//! On which day each piece of periodic work falls, so that the heaviest day is as light as possible, for each owner and for all together.
//!
//! A piece is one turn of one task. It may fall on some of the days; between two turns of a task lie so many working days. A day's
//! share is what falls on it over the time that is available on it.
//!
//! [`spread`] places the pieces: simulated annealing on the shares of all days, of everybody together and of each owner, raised to
//! high powers, so that the heaviest weigh most (Kirkpatrick, Gelatt, Vecchi 1983, doi:10.1126/science.220.4598.671). [`least_heaviest`]
//! proves from a linear program how light the heaviest day can be at all; it knows nothing of the placing.

mod bound;
mod place;

pub use bound::least_heaviest;
pub use place::spread;

/// The whole problem. Days are indices; shares are compared over them.
#[derive(Clone, Debug, Default)]
pub struct Month {
    /// Position of each day among the working days, for spacing; rising.
    pub position: Vec<i64>,
    /// Everybody together.
    pub all: Track,
    /// Each owner.
    pub owners: Vec<Track>,
    /// What is to be placed.
    pub pieces: Vec<Piece>,
}

/// Time by day, of somebody or of everybody.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Track {
    /// Seconds there are; 0 on days off.
    pub available: Vec<i64>,
    /// Seconds of work that falls on the day anyhow.
    pub base: Vec<i64>,
}

/// One turn of a task.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Piece {
    /// How long it takes.
    pub seconds: i64,
    /// Whose it is, by index.
    pub owner: usize,
    /// The days it may fall on, rising; never empty.
    pub days: Vec<usize>,
    /// Where it begins, before anything is improved: one of `days`.
    pub start: usize,
    /// Whether it stays where it begins.
    pub fixed: bool,
    /// The turn before it, by index: a smaller one.
    pub before: Option<usize>,
    /// Between the two lie at least and at most so many working days.
    pub gap: (i64, i64),
}

impl Month {
    /// Seconds on each day of a placing, for one owner or for all.
    pub fn loads(&self, placed: &[usize], owner: Option<usize>) -> Vec<i64> {
        let track = owner.map_or(&self.all, |o| &self.owners[o]);
        let mut loads = track.base.clone();
        for (piece, day) in self.pieces.iter().zip(placed) {
            if owner.is_none_or(|o| piece.owner == o) {
                loads[*day] += piece.seconds;
            }
        }
        loads
    }

    /// The share of the heaviest day of a placing, for one owner or for all.
    pub fn heaviest(&self, placed: &[usize], owner: Option<usize>) -> f64 {
        let track = owner.map_or(&self.all, |o| &self.owners[o]);
        let loads = self.loads(placed, owner);
        let shares = loads.iter().zip(&track.available);
        shares
            .filter(|(load, _)| **load > 0)
            .map(|(load, available)| *load as f64 / (*available).max(1) as f64)
            .fold(0.0, f64::max)
    }

    /// Turns that lie too near to, or too far from, the one before.
    pub fn irregular(&self, placed: &[usize]) -> Vec<usize> {
        let wrong = |index: &usize| {
            let piece = &self.pieces[*index];
            piece.before.is_some_and(|before| {
                self.out_of_step(piece.gap, placed[before], placed[*index]) > 0
            })
        };
        (0..self.pieces.len()).filter(wrong).collect()
    }

    /// By how many working days a gap is too short or too long.
    fn out_of_step(&self, (least, most): (i64, i64), from: usize, to: usize) -> i64 {
        let gap = self.position[to] - self.position[from];
        (least - gap).max(gap - most).max(0)
    }
}
