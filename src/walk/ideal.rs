//! The walking times that no walker beats, in either direction: what proofs may count on.

use super::{Times, Walker};
use crate::site::{AccessId, Calendar, Place, Site, Way};
use crate::units::{Clock, Span};

/// Times of a walker who is on foot, opens every door at any hour, and takes stairs up as fast as down.
///
/// No worker is ever faster, with or without a cart. The times are the same in both directions and obey the triangle
/// inequality, as shortest walks do.
pub fn ideal_times(site: &Site, calendar: &Calendar) -> Times {
    let mut site = site.clone();
    let speeds = &mut site.policy.speeds;
    speeds.foot = speeds.foot.max(speeds.cart);
    speeds.stairs_up = speeds.stairs_up.max(speeds.stairs_down);
    speeds.stairs_down = speeds.stairs_up;
    let of_places = site
        .places
        .iter_mut()
        .filter_map(|p: &mut Place| p.door.as_mut());
    let of_ways = site
        .ways
        .iter_mut()
        .filter_map(|w: &mut Way| w.door.as_mut());
    let of_halls = site
        .halls
        .iter_mut()
        .flat_map(|h| h.doors.iter_mut().map(|(_, door)| door));
    of_places
        .chain(of_ways)
        .chain(of_halls)
        .for_each(|door| door.hours = None);
    let access = (0..site.access.len()).map(AccessId::from).collect();
    let walker = Walker {
        cart: None,
        stairs: true,
        access,
        shift: Span::new(Clock(0), Clock(0)),
    };
    Times::between_places(&site, &walker, calendar)
}
