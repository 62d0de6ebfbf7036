//! Sites so small that every plan can be tried, in whole seconds and metres, and the same sites as the program knows them.

use crate::support::sketch::{Sketch, room, worker};
use evenrun::site::{
    Break, Cart, Hours, KindId, Method, Moves, PlaceId, Rate, Room, Site, Task, Weekdays,
};
use evenrun::units::{Clock, Litres, Metres, Seconds, Span, SquareMetres};
use std::collections::BTreeMap;

/// Storey, and metres along its hall.
pub(super) type Spot = (usize, i64);

/// From one second to another.
pub(super) type Window = (i64, i64);

/// Every hall is so many metres long; a lift is at its end.
pub(super) const HALL: i64 = 60;

/// One metre a second on foot, two seconds a metre with a cart.
const CART_SECONDS_A_METRE: i64 = 2;

/// What is to be done in a room, in seconds at pace 1. What is not wanted is zero or absent.
#[derive(Clone, Debug, Default)]
pub(super) struct Work {
    pub(super) dry: i64,
    /// Spraying, wiping, dwell.
    pub(super) spray: Option<[i64; 3]>,
    /// Mopping, drying.
    pub(super) mop: Option<[i64; 2]>,
    /// Litres.
    pub(super) waste: i64,
    /// The room is closed, and reopening takes so long.
    pub(super) reopen: Option<i64>,
    pub(super) restroom: bool,
}

#[derive(Clone, Debug)]
pub(super) struct TinyRoom {
    pub(super) spot: Spot,
    /// Square metres.
    pub(super) area: i64,
    pub(super) work: Work,
    pub(super) open: Option<Vec<Window>>,
    pub(super) closure: Option<Vec<Window>>,
}

/// Square metres and rooms that a bucket mops, litres that a cart holds.
#[derive(Clone, Copy, Debug)]
pub(super) struct TinyCart {
    pub(super) bucket: i64,
    pub(super) bucket_rooms: i64,
    pub(super) waste: i64,
}

#[derive(Clone, Copy, Debug)]
pub(super) struct TinyBreak {
    pub(super) length: i64,
    pub(super) window: Window,
}

#[derive(Clone, Debug)]
pub(super) struct TinyWorker {
    pub(super) pace: f64,
    pub(super) shift: Window,
    pub(super) cart: Option<TinyCart>,
    pub(super) breaks: Vec<TinyBreak>,
}

impl TinyWorker {
    /// Shift less breaks.
    pub(super) fn available(&self) -> i64 {
        self.shift.1 - self.shift.0 - self.breaks.iter().map(|b| b.length).sum::<i64>()
    }
}

/// A tiny site. Everybody starts at the entrance, at the beginning of the lowest hall.
#[derive(Clone, Debug)]
pub(super) struct Tiny {
    pub(super) storeys: usize,
    pub(super) rooms: Vec<TinyRoom>,
    /// Each with water and a waste point.
    pub(super) closets: Vec<Spot>,
    pub(super) break_places: Vec<Spot>,
    pub(super) workers: Vec<TinyWorker>,
    pub(super) set_up: i64,
    pub(super) tear_down: i64,
    pub(super) fill: i64,
    pub(super) dump: i64,
}

impl Tiny {
    /// Walking by arithmetic: along the hall, or to its end, up by lift (28 s and 5 s a storey) and along the other hall.
    pub(super) fn walk(&self, with_cart: bool, from: Spot, to: Spot) -> i64 {
        let metre = if with_cart { CART_SECONDS_A_METRE } else { 1 };
        if from.0 == to.0 {
            (from.1 - to.1).abs() * metre
        } else {
            (HALL - from.1 + HALL - to.1) * metre + 28 + 5 * from.0.abs_diff(to.0) as i64
        }
    }

    /// The same as a site of the program.
    pub(super) fn site(&self) -> Site {
        let mut sketch = Sketch::of_storeys(self.storeys, HALL as f64);
        if self.storeys > 1 {
            sketch.lift();
        }
        for (index, tiny) in self.rooms.iter().enumerate() {
            let kind = sketch.kind(&format!("kind {index}"), tasks(&tiny.work));
            sketch.room(
                tiny.spot.0,
                tiny.spot.1 as f64,
                written_room(index, kind, tiny),
            );
        }
        for (index, spot) in self.closets.iter().enumerate() {
            sketch.closet(&format!("closet {index}"), spot.0, spot.1 as f64);
        }
        for (index, spot) in self.break_places.iter().enumerate() {
            sketch.place(&format!("staff {index}"), spot.0, spot.1 as f64);
        }
        let mut site = sketch.built();
        for (kind, tiny) in site.kinds.iter_mut().zip(&self.rooms) {
            kind.restroom = tiny.work.restroom;
            kind.reopen = tiny.work.reopen.map(Seconds);
        }
        for place in &mut site.places {
            place.break_place = place.id.starts_with("staff");
        }
        let policy = &mut site.policy;
        (policy.set_up, policy.tear_down) = (Seconds(self.set_up), Seconds(self.tear_down));
        (policy.fill, policy.dump) = (Seconds(self.fill), Seconds(self.dump));
        (policy.speeds.foot, policy.speeds.cart) = (1.0, 1.0 / CART_SECONDS_A_METRE as f64);
        site.crew = self
            .workers
            .iter()
            .enumerate()
            .map(|(i, w)| hire(&site, i, w))
            .collect();
        site
    }
}

fn written_room(index: usize, kind: KindId, tiny: &TinyRoom) -> Room {
    Room {
        open: tiny.open.as_deref().map(hours),
        closure: tiny.closure.as_deref().map(hours),
        ..room(&format!("R{index}"), kind, tiny.area as f64)
    }
}

fn hours(windows: &[Window]) -> Hours {
    let daily = windows.iter().map(|w| (Weekdays::ALL, span(*w)));
    Hours {
        weekly: daily.collect(),
        dated: BTreeMap::new(),
    }
}

fn span(window: Window) -> Span {
    Span::new(Clock(window.0), Clock(window.1))
}

fn tasks(work: &Work) -> Vec<Task> {
    let task = |name: &str, method: Method, seconds: i64| Task {
        name: name.to_string(),
        minutes: seconds as f64 / 60.0,
        rate: Rate::Visit,
        method,
        ..Task::default()
    };
    let mut tasks = Vec::new();
    if let Some([spraying, wiping, dwell]) = work.spray {
        tasks.push(Task {
            wipe_minutes: wiping as f64 / 60.0,
            ..task(
                "spray",
                Method::Spray {
                    dwell: Seconds(dwell),
                },
                spraying,
            )
        });
    }
    if work.dry > 0 {
        tasks.push(Task {
            waste_litres: work.waste as f64,
            waste_rate: Rate::Visit,
            ..task("dry", Method::Dry, work.dry)
        });
    }
    if let Some([mopping, drying]) = work.mop {
        tasks.push(task(
            "mop",
            Method::Mop {
                drying: Seconds(drying),
            },
            mopping,
        ));
    }
    tasks
}

fn hire(site: &Site, index: usize, tiny: &TinyWorker) -> evenrun::site::Worker {
    let breaks = tiny.breaks.iter().enumerate().map(|(i, b)| Break {
        name: format!("break {i}"),
        length: Seconds(b.length),
        window: span(b.window),
        place: None::<PlaceId>,
        paid: false,
    });
    let moves = tiny.cart.map_or(Moves::Foot, |c| {
        Moves::Cart(Cart {
            waste: Litres(c.waste as f64),
            bucket: SquareMetres(c.bucket as f64),
            bucket_rooms: c.bucket_rooms as u32,
            width: Metres(0.7),
        })
    });
    evenrun::site::Worker {
        shift: span(tiny.shift),
        pace: tiny.pace,
        moves,
        stairs: false,
        breaks: breaks.collect(),
        ..worker(site, &format!("worker {index}"), 0, 1)
    }
}
