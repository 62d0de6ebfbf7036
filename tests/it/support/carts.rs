//! Nights of one person with a cart and a bucket, drawn by chance, and the least time they can take, by trying every order of the stops
//! and, between any two, every closet to fill or to empty at, in either order.
//!
//! A second opinion on the choice of fills and dumps: it reads no site and no table of walks. Everything is always open; so the night is busy from its first second to its last, and of two
//! ways of having got so far the one that is worse in no respect is all that need be followed.

use super::star::{self, Spot, spot, walk};
use rand::{Rng, RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use std::collections::BTreeMap;
use std::fmt::Write;

/// Filling a bucket and emptying a cart, in seconds.
const FILL: i64 = 180;
const DUMP: i64 = 120;

/// What there is to do in a room, in seconds.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Room {
    spot: Spot,
    restroom: bool,
    dry: i64,
    /// 0 is no floor to mop.
    mop: i64,
    area: i64,
    litres: i64,
    /// Sprayed, wiped, closed and reopened.
    closed: Option<Closed>,
}

#[derive(Clone, Copy, Debug)]
struct Closed {
    spray: i64,
    dwell: i64,
    wipe: i64,
    drying: i64,
    reopen: i64,
}

#[derive(Clone, Copy, Debug)]
struct Closet {
    spot: Spot,
    fill: bool,
    waste: bool,
}

/// A night: what there is to do, and with what.
#[derive(Clone, Debug)]
pub(crate) struct Night {
    start: Spot,
    rooms: Vec<Room>,
    closets: Vec<Closet>,
    cart: i64,
    bucket: i64,
    bucket_rooms: u32,
}

/// One stop of a room.
#[derive(Clone, Copy, Debug)]
struct Piece {
    seconds: i64,
    litres: i64,
    mops: bool,
    /// Not before so long after the end of the piece before it.
    lag: i64,
}

impl Room {
    fn pieces(&self) -> Vec<Piece> {
        let piece = |seconds, litres, mops, lag| Piece {
            seconds,
            litres,
            mops,
            lag,
        };
        let mops = self.mop > 0;
        match self.closed {
            None => vec![piece(self.dry + self.mop, self.litres, mops, 0)],
            Some(c) => vec![
                piece(c.spray + self.dry, self.litres, false, 0),
                // What was sprayed first has been wet during the dry work.
                piece(c.wipe + self.mop, 0, mops, c.dwell - self.dry),
                piece(c.reopen, 0, false, c.drying),
            ],
        }
    }
}

/// How much there is of what.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Sorts {
    pub(crate) rooms: usize,
    /// How many of them are closed while they are done.
    pub(crate) closed: usize,
}

impl Night {
    pub(crate) fn drawn(seed: u64, sorts: Sorts) -> Night {
        let rng = &mut Pcg64Mcg::seed_from_u64(seed);
        let rooms = (0..sorts.rooms)
            .map(|i| room(rng, i < sorts.closed))
            .collect();
        let closets = (0..rng.random_range(3..=4)).map(|i| closet(rng, i));
        Night {
            rooms,
            closets: closets.collect(),
            start: spot(rng),
            cart: rng.random_range(60..=120),
            bucket: rng.random_range(25..=50),
            bucket_rooms: rng.random_range(1..=3),
        }
    }

    /// The same night as a site.
    pub(crate) fn yaml(&self) -> String {
        let rooms = self.rooms.iter().enumerate();
        let closets = self.closets.iter().enumerate();
        let places = rooms
            .map(|(i, room)| (format!("R{i}"), room.spot))
            .chain(closets.map(|(i, closet)| (format!("C{i}"), closet.spot)));
        let entrance = ("entrance".to_string(), self.start);
        let mut text = star::yaml(&places.chain([entrance]).collect::<Vec<_>>());
        text.push_str("places: [{id: entrance}]\nclosets:\n");
        for (index, closet) in self.closets.iter().enumerate() {
            let Closet { fill, waste, .. } = closet;
            let _ = writeln!(
                text,
                "  - {{id: C{index}, fill_point: {fill}, waste_point: {waste}}}"
            );
        }
        text.push_str("standard:\n");
        (self.rooms.iter().enumerate()).for_each(|(i, room)| text.push_str(&kind(i, room)));
        text.push_str("rooms:\n");
        for (index, room) in self.rooms.iter().enumerate() {
            let _ = writeln!(
                text,
                "  - {{id: R{index}, kind: K{index}, area_m2: {}}}",
                room.area
            );
        }
        let _ = write!(
            text,
            "carts: [{{id: cart, waste_l: {}, bucket_m2: {}, bucket_rooms: {}}}]\n\
             crew: [{{name: Ana, shift: \"16:00-24:00\", start: entrance, cart: cart}}]\n\
             policy: {{band_percent: 0.0001, fill_min: {}, dump_min: {}, speeds: {{foot_m_s: 1, cart_m_s: 1}}}}\n",
            self.cart,
            self.bucket,
            self.bucket_rooms,
            FILL / 60,
            DUMP / 60
        );
        text
    }

    /// The least seconds that the night takes, with its stops in the order of these rooms, or in any.
    pub(crate) fn least(&self, order: Option<&[usize]>) -> Option<i64> {
        let pieces: Vec<Vec<Piece>> = self.rooms.iter().map(Room::pieces).collect();
        let all: usize = pieces.iter().map(Vec::len).sum();
        let begun = Reached {
            done: vec![0; self.rooms.len()],
            spot: self.start,
        };
        let mut reached = BTreeMap::from([(begun, vec![Way::default()])]);
        for stops in 0..all {
            let mut next: BTreeMap<Reached, Vec<Way>> = BTreeMap::new();
            for (from, ways) in &reached {
                let rooms = (0..self.rooms.len())
                    .filter(|r| from.done[*r] < pieces[*r].len())
                    .filter(|r| order.is_none_or(|o| o[stops] == *r));
                for room in rooms {
                    let mut to = from.clone();
                    to.done[room] += 1;
                    to.spot = self.rooms[room].spot;
                    let piece = pieces[room][from.done[room]];
                    let more = to.done[room] < pieces[room].len();
                    let kept = next.entry(to).or_default();
                    let done = ways
                        .iter()
                        .flat_map(|w| self.detours(from.spot, w))
                        .filter_map(|(spot, way)| self.work(spot, way, room, piece, more));
                    done.for_each(|way| keep(kept, way));
                }
            }
            reached = next;
        }
        let home = |spot: Spot, way: &Way| {
            let ends = self.detours(spot, way);
            let empty = ends.into_iter().filter(|(_, way)| way.litres == 0);
            empty
                .map(|(spot, way)| way.time + walk(spot, self.start))
                .min()
        };
        let ends = reached
            .iter()
            .flat_map(|(r, ways)| ways.iter().filter_map(move |way| home(r.spot, way)));
        ends.min()
    }

    /// Every way to go on by none, one or two closets, and where it ends.
    fn detours(&self, spot: Spot, way: &Way) -> Vec<(Spot, Way)> {
        let by_one = |(spot, way): &(Spot, Way)| {
            let mut all = Vec::new();
            for closet in &self.closets {
                let mut there = way.clone();
                there.time += walk(*spot, closet.spot);
                if closet.fill {
                    let mut filled = there.clone();
                    filled.time += FILL;
                    filled.bucket = Some((self.bucket, self.bucket_rooms, None));
                    all.push((closet.spot, filled));
                }
                if closet.waste {
                    there.time += DUMP;
                    there.litres = 0;
                    all.push((closet.spot, there));
                }
            }
            all
        };
        let none = vec![(spot, way.clone())];
        let one: Vec<(Spot, Way)> = none.iter().flat_map(by_one).collect();
        let two: Vec<(Spot, Way)> = one.iter().flat_map(by_one).collect();
        [none, one, two].concat()
    }

    /// Does a piece of a room, if bucket and cart allow it.
    fn work(&self, spot: Spot, way: Way, index: usize, piece: Piece, more: bool) -> Option<Way> {
        let room = &self.rooms[index];
        let mut way = way;
        way.time += walk(spot, room.spot);
        if let Some(ended) = way.open.remove(&index) {
            way.time = way.time.max(ended + piece.lag);
        }
        way.time += piece.seconds;
        if more {
            way.open.insert(index, way.time);
        }
        if piece.mops {
            let (area, rooms, used_in_restroom) = way.bucket?;
            let suits = used_in_restroom.is_none_or(|used| used == room.restroom);
            if !suits || area < room.area || rooms == 0 {
                return None;
            }
            way.bucket = Some((area - room.area, rooms - 1, Some(room.restroom)));
        }
        way.litres += piece.litres;
        (way.litres <= self.cart).then_some(way)
    }
}

/// How far a run has got: pieces done by room, and where it is.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Reached {
    done: Vec<usize>,
    spot: Spot,
}

/// One way of having got so far.
#[derive(Clone, Debug, Default)]
struct Way {
    time: i64,
    litres: i64,
    /// Floor and rooms it is still good for, and whether it was used in a restroom, if at all.
    bucket: Option<(i64, u32, Option<bool>)>,
    /// When the last piece of each room begun and not finished was over.
    open: BTreeMap<usize, i64>,
}

impl Way {
    /// Whether this is worse than another in no respect.
    fn covers(&self, other: &Way) -> bool {
        let bucket = match (self.bucket, other.bucket) {
            (_, None) => true,
            (None, Some(_)) => false,
            (Some(a), Some(b)) => a.0 >= b.0 && a.1 >= b.1 && (a.2.is_none() || a.2 == b.2),
        };
        let open = self
            .open
            .iter()
            .all(|(room, end)| other.open.get(room).is_none_or(|e| end <= e));
        bucket && open && self.time <= other.time && self.litres <= other.litres
    }
}

fn keep(kept: &mut Vec<Way>, way: Way) {
    if !kept.iter().any(|k| k.covers(&way)) {
        kept.retain(|k| !way.covers(k));
        kept.push(way);
    }
}

/// A third have bins only; of the others half are restrooms.
fn room<R: Rng>(rng: &mut R, closed: bool) -> Room {
    let mut seconds = |most: i64| 6 * rng.random_range(5..=most / 6);
    let (dry, mop) = (seconds(180), seconds(240));
    let parts = Closed {
        spray: seconds(90),
        dwell: dry + seconds(360),
        wipe: seconds(120),
        drying: seconds(480),
        reopen: 60,
    };
    let bins_only = !closed && rng.random_bool(0.3);
    Room {
        spot: spot(rng),
        restroom: closed || (!bins_only && rng.random_bool(0.5)),
        dry,
        mop: if bins_only { 0 } else { mop },
        area: rng.random_range(8..=24),
        litres: 5 * rng.random_range(0..=10),
        closed: closed.then_some(parts),
    }
}

/// The first has water and no waste point, the second the other way round, the rest one or both.
fn closet<R: Rng>(rng: &mut R, index: usize) -> Closet {
    let fill = index == 0 || (index > 1 && rng.random_bool(0.6));
    Closet {
        spot: spot(rng),
        fill,
        waste: index > 0 && (!fill || rng.random_bool(0.5)),
    }
}

fn kind(index: usize, room: &Room) -> String {
    let minutes = |seconds: i64| seconds as f64 / 60.0;
    let closes = room.closed.map_or(String::new(), |c| {
        format!(", reopen_min: {}", minutes(c.reopen))
    });
    let spray = room.closed.map_or(String::new(), |c| {
        format!(
            "{{task: disinfect, how: spray, min: {}, wipe_min: {}, dwell_min: {}, source: assumption}}, ",
            minutes(c.spray),
            minutes(c.wipe),
            minutes(c.dwell)
        )
    });
    let waste = if room.litres > 0 {
        format!(", waste_l: {}", room.litres)
    } else {
        String::new()
    };
    let drying = room.closed.map_or(300, |c| c.drying);
    let mop = if room.mop > 0 {
        format!(
            ", {{task: mop floor, how: mop, min: {}, drying_min: {}, source: assumption}}",
            minutes(room.mop),
            minutes(drying)
        )
    } else {
        String::new()
    };
    format!(
        "  - {{kind: K{index}, restroom: {}{closes}, tasks: [{spray}{{task: bins, how: dry, min: {}{waste}, source: assumption}}{mop}]}}\n",
        room.restroom,
        minutes(room.dry)
    )
}
