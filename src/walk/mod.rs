//! How long it takes from here to there, and by which way.
//!
//! One graph per distinct [`Walker`]: the site's halls, doors and ways that this walker can use. petgraph stays inside
//! this folder. Times are shortest walks, rounded up once, as a whole; lift waiting and doors are included.

use crate::site::{AccessId, Calendar, Moves, Site, WorkerId};
use crate::units::{Metres, Span};

mod directions;
mod graph;
mod halls;
mod ideal;
mod junctions;
mod means;
mod path;
mod shortest;
mod times;
mod walks;
mod ways;

pub use directions::{Step, Turn, is_across, steps};
pub use ideal::ideal_times;
pub use path::{Leg, Path, Paths, path};
pub use times::Times;
pub use walks::Walks;

/// Who walks: everything that decides which ways and doors are usable and how fast.
#[derive(Clone, Debug, PartialEq)]
pub struct Walker {
    /// Width of the cart pushed; `None` is on foot.
    pub cart: Option<Metres>,
    /// Whether stairs may be used (never with a cart).
    pub stairs: bool,
    /// Keys and clearances held, sorted.
    pub access: Vec<AccessId>,
    /// The shift as elapsed time: a door with hours is usable only if they cover all of it, or if the walker holds its key.
    pub shift: Span,
}

impl Walker {
    /// A worker of the site on the calendar's date, on foot or with their cart. A worker without a cart walks on foot either way.
    pub fn of(site: &Site, worker: WorkerId, with_cart: bool, calendar: &Calendar) -> Walker {
        let worker = &site.crew[worker.index()];
        let cart = match worker.moves {
            Moves::Cart(cart) if with_cart => Some(cart.width),
            _ => None,
        };
        let mut access = worker.access.clone();
        access.sort_unstable();
        access.dedup();
        Walker {
            stairs: worker.stairs && cart.is_none(),
            cart,
            access,
            shift: calendar.elapsed_span(worker.shift),
        }
    }
}
