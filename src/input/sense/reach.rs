//! Whether every room can be walked to and back, with the cart where the work needs one, and with water and a waste point in reach.

use super::need::tasks;
use super::{calendar, rooms, some_date};
use crate::input::log::{Log, Pos};
use crate::input::resolve::Origins;
use crate::site::{Moves, PlaceId, RoomId, Site, WorkerId};
use crate::walk::{Times, Walker};
use std::sync::Arc;

/// Looks at every room; `hands` are those who may do it.
pub(super) fn look(site: &Site, hands: &[Vec<WorkerId>], origins: &Origins, log: &Log) {
    let walks = Walks::of(site);
    for (id, _) in rooms(site) {
        let hands = &hands[id.index()];
        if !hands.is_empty() {
            each(site, &walks, id, hands, origins.rooms[id.index()], log);
        }
    }
    for (duty, pos) in site.duties.iter().zip(&origins.duties) {
        if !site
            .crew
            .iter()
            .enumerate()
            .any(|(w, _)| walks.foot(WorkerId::from(w)).there_and_back(duty.place))
        {
            let message = format!("nobody can reach the place of duty `{}`", duty.name);
            log.error(
                "E801",
                *pos,
                message,
                "add stairs, a lift or a link, or give a worker the key",
            );
        }
    }
}

fn each(site: &Site, walks: &Walks, id: RoomId, hands: &[WorkerId], pos: Pos, log: &Log) {
    let (room, place) = (&site.rooms[id.index()].id, site.place_of_room(id));
    let all = tasks(site, id);
    let pushing: Vec<&Trip> = hands
        .iter()
        .filter_map(|w| walks.cart(*w))
        .filter(|t| t.there_and_back(place))
        .collect();
    if !hands.iter().any(|w| walks.foot(*w).there_and_back(place)) && pushing.is_empty() {
        let message = format!("nobody who may do room `{room}` can reach it");
        log.error("E801", pos, message, "add stairs, a lift or a link to its hall, or give a worker the key of a door on the way");
        return;
    }
    if !all.iter().any(|t| t.needs_cart(site)) || !hands.iter().any(|w| walks.cart(*w).is_some()) {
        return;
    }
    if pushing.is_empty() {
        let message =
            format!("room `{room}` cannot be reached with a cart, and its work needs one");
        log.error("E802", pos, message, "carts take no stairs and no narrow doors: add a lift or a ramp, or use a narrower cart");
        return;
    }
    let in_reach = |point: PlaceId| pushing.iter().any(|t| t.between(place, point));
    if all.iter().any(|t| t.is_mopping(site)) && !site.fill_points().any(in_reach) {
        let message = format!(
            "room `{room}` is mopped, and no fill point can be reached from it with a cart"
        );
        log.error(
            "E807",
            pos,
            message,
            "give a closet in reach `fill_point: true`",
        );
    }
    if all.iter().any(|t| t.waste_litres(site) > 0.0) && !site.waste_points().any(in_reach) {
        let message = format!(
            "room `{room}` has waste, and no waste point can be reached from it with a cart"
        );
        log.error(
            "E813",
            pos,
            message,
            "give a closet in reach `waste_point: true`",
        );
    }
}

/// How one worker gets about in one way of moving.
struct Trip {
    start: PlaceId,
    times: Arc<Times>,
}

impl Trip {
    fn there_and_back(&self, place: PlaceId) -> bool {
        self.between(self.start, place)
    }

    fn between(&self, a: PlaceId, b: PlaceId) -> bool {
        self.times.get(a, b).is_some() && self.times.get(b, a).is_some()
    }
}

/// The trips of the whole crew.
struct Walks {
    foot: Vec<Trip>,
    cart: Vec<Option<Trip>>,
}

impl Walks {
    fn of(site: &Site) -> Walks {
        let calendar = calendar(site, some_date(site));
        let crew = || {
            site.crew
                .iter()
                .enumerate()
                .map(|(i, w)| (WorkerId::from(i), w))
        };
        let pushers: Vec<_> = crew().filter(|(_, w)| w.moves != Moves::Foot).collect();
        let on_foot = crew().map(|(i, _)| Walker::of(site, i, false, &calendar));
        let walkers: Vec<Walker> = on_foot
            .chain(
                pushers
                    .iter()
                    .map(|(i, _)| Walker::of(site, *i, true, &calendar)),
            )
            .collect();
        let mut times = Times::of_walkers(site, &walkers, &calendar).into_iter();
        let foot = crew()
            .zip(times.by_ref())
            .map(|((_, w), times)| Trip {
                start: w.start,
                times,
            })
            .collect();
        let mut cart: Vec<Option<Trip>> = crew().map(|_| None).collect();
        for ((i, worker), times) in pushers.into_iter().zip(times) {
            cart[i.index()] = Some(Trip {
                start: worker.start,
                times,
            });
        }
        Walks { foot, cart }
    }

    fn foot(&self, worker: WorkerId) -> &Trip {
        &self.foot[worker.index()]
    }

    fn cart(&self, worker: WorkerId) -> Option<&Trip> {
        self.cart[worker.index()].as_ref()
    }
}
