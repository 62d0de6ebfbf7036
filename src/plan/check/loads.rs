//! Whether a run's cart could hold the waste of an undone task at all, told without trying: from one dump to the next it only gets fuller.

use crate::plan::reading::{ReadRun, TOLERANCE};
use crate::plan::{PlannedStop, What};

/// Waste on the cart of a run, from dump to dump.
pub(super) struct Loads {
    /// What the cart holds, in litres; none for a run on foot.
    holds: Option<f64>,
    /// For each stop, which leg it is of; a dump begins the next one.
    leg_of: Vec<usize>,
    legs: Vec<Leg>,
    /// For each stop, the litres collected there.
    collected: Vec<f64>,
    /// The same without its less important work.
    least: Vec<f64>,
}

/// From one dump to the next.
#[derive(Clone, Copy, Default)]
struct Leg {
    /// Litres collected.
    collected: f64,
    /// The same without any less important work.
    least: f64,
    /// Whether a room in it has more waste than the cart holds, which takes trips of its own.
    trips: bool,
}

impl Loads {
    /// Of a run, of whose stops the second of each pair is what it is at least.
    pub(super) fn of<'p>(
        run: &ReadRun,
        stops: impl Iterator<Item = (&'p PlannedStop, &'p PlannedStop)>,
    ) -> Loads {
        let holds = run.cart.map(|cart| cart.waste.0);
        let mut loads = Loads {
            holds,
            leg_of: Vec::new(),
            legs: Vec::new(),
            collected: Vec::new(),
            least: Vec::new(),
        };
        for (stop, least) in stops {
            if stop.what == What::Dump || loads.legs.is_empty() {
                loads.legs.push(Leg::default());
            }
            loads.collect(run.waste(stop), run.waste(least));
        }
        loads
    }

    fn collect(&mut self, litres: f64, least: f64) {
        let index = self.legs.len() - 1;
        let leg = &mut self.legs[index];
        leg.collected += litres;
        leg.least += least;
        leg.trips |= self.holds.is_some_and(|holds| litres > holds);
        self.leg_of.push(index);
        self.collected.push(litres);
        self.least.push(least);
    }

    /// Whether the cart may hold so many litres more, collected at a stop or after it, if all less important work is dropped.
    pub(super) fn may_hold(&self, litres: f64, at: usize) -> bool {
        let leg = self.legs[self.leg_of[at]];
        self.is_room(litres, leg.least, at)
    }

    /// The same if only that stop has less to do.
    pub(super) fn may_hold_at(&self, litres: f64, at: usize) -> bool {
        let leg = self.legs[self.leg_of[at]];
        let beside = leg.collected - self.collected[at] + self.least[at];
        self.is_room(litres, beside, at)
    }

    /// Sums in another order differ by less than the tolerance, which is therefore taken twice.
    fn is_room(&self, litres: f64, beside: f64, at: usize) -> bool {
        let Some(holds) = self.holds else {
            return true;
        };
        let fits = beside + litres <= holds + 2.0 * TOLERANCE;
        let trips = self.legs[self.leg_of[at]].trips || self.collected[at] + litres > holds;
        fits || trips || litres <= 0.0
    }
}
