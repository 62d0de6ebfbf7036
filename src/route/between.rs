//! What lies between two stops: the straight way, and the ways by a fill point and by a waste point.

use super::instance::{NO_WAY, Secs, WalkTable};

/// A way by a point: to it, and on from it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Via {
    pub(super) point: u32,
    pub(super) to: Secs,
    pub(super) on: Secs,
}

impl Via {
    fn new(table: &WalkTable, from: u32, point: u32, next: u32) -> Via {
        Via {
            point,
            to: table.walk(from, point),
            on: table.walk(point, next),
        }
    }

    /// How much longer it is than the straight way.
    pub(super) fn detour(self, ways: &Ways) -> Secs {
        self.to + self.on - ways.straight
    }

    /// By the fill point with the shortest detour.
    pub(super) fn fill_point(table: &WalkTable, from: u32, next: u32) -> Option<Via> {
        let point = table.fill_between(from, next)?;
        Some(Via::new(table, from, point, next))
    }

    /// By the waste point with the shortest detour.
    pub(super) fn waste_point(table: &WalkTable, from: u32, next: u32) -> Option<Via> {
        let point = table.dump_between(from, next)?;
        Some(Via::new(table, from, point, next))
    }
}

/// All ways from one stop to the next, looked up once for every timing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Ways {
    pub(super) straight: Secs,
    pub(super) fill: Option<Via>,
    pub(super) dump: Option<Via>,
}

impl Default for Ways {
    fn default() -> Ways {
        Ways {
            straight: NO_WAY,
            fill: None,
            dump: None,
        }
    }
}

impl Ways {
    /// From one place to the next; by a fill point only with a cart.
    pub(super) fn new(table: &WalkTable, from: u32, next: u32, with_cart: bool) -> Ways {
        Ways {
            straight: table.walk(from, next),
            fill: with_cart
                .then(|| Via::fill_point(table, from, next))
                .flatten(),
            dump: Via::waste_point(table, from, next),
        }
    }
}
