//! All-pairs walking times between the places of a site, for one walker.

use super::Walker;
use crate::site::{PlaceId, Site};
use crate::units::Seconds;

/// Shortest walking times between all places for one walker, in whole seconds, each rounded up once.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Times {
    places: usize,
    seconds: Vec<u32>,
}

impl Times {
    /// No way.
    pub const NO_WAY: u32 = u32::MAX;

    /// Times between all places of the site.
    pub fn between_places(_site: &Site, _walker: &Walker) -> Times {
        todo!()
    }

    /// From one place to another; `None` if this walker cannot get there.
    pub fn get(&self, from: PlaceId, to: PlaceId) -> Option<Seconds> {
        let seconds = self.seconds[from.index() * self.places + to.index()];
        (seconds != Times::NO_WAY).then_some(Seconds(i64::from(seconds)))
    }

    /// All times from one place, by place; [`Times::NO_WAY`] where there is none.
    pub fn row(&self, from: PlaceId) -> &[u32] {
        &self.seconds[from.index() * self.places..][..self.places]
    }
}
