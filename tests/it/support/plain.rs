//! Nights of several people on foot, drawn by chance, with nothing but rooms to sweep, some only in their windows and some by one
//! person only; and what an order of a person's rooms takes, in plain arithmetic.

use super::star::{self, Spot, spot, walk};
use rand::{Rng, RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use std::fmt::Write;

/// Seconds since midnight.
const START: i64 = 18 * 3600;
const SET_UP: i64 = 120;
const TEAR_DOWN: i64 = 60;

#[derive(Clone, Debug)]
struct Room {
    spot: Spot,
    seconds: i64,
    /// When it may be swept; always if there are none.
    windows: Vec<(i64, i64)>,
    only: Option<usize>,
}

/// A night.
#[derive(Clone, Debug)]
pub(crate) struct Plain {
    entrance: Spot,
    rooms: Vec<Room>,
    /// When each shift ends.
    shifts: Vec<i64>,
}

/// What a run takes, and when it is over.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Takes {
    pub(crate) load: i64,
    pub(crate) end: i64,
}

impl Plain {
    pub(crate) fn drawn(seed: u64, rooms: usize, people: usize, windows: bool) -> Plain {
        let rng = &mut Pcg64Mcg::seed_from_u64(seed);
        let shift = |rng: &mut Pcg64Mcg| START + 1800 * rng.random_range(6..=9);
        let shifts = (0..people).map(|_| shift(rng)).collect();
        let rooms = (0..rooms).map(|i| room(rng, i, windows)).collect();
        Plain {
            entrance: spot(rng),
            rooms,
            shifts,
        }
    }

    /// The same night as a site.
    pub(crate) fn yaml(&self) -> String {
        let mut places = vec![("entrance".to_string(), self.entrance)];
        let (mut rooms, mut kinds, mut crew) = (String::new(), String::new(), String::new());
        for (index, room) in self.rooms.iter().enumerate() {
            places.push((format!("R{index}"), room.spot));
            let _ = writeln!(
                kinds,
                "  - {{kind: K{index}, tasks: [{{task: sweep, how: dry, min: {}, source: assumption}}]}}",
                room.seconds as f64 / 60.0
            );
            let hours: Vec<String> = room
                .windows
                .iter()
                .map(|(from, to)| format!("{}-{}", clock(*from), clock(*to)))
                .collect();
            let open = if hours.is_empty() {
                String::new()
            } else {
                format!(", open: \"daily {}\"", hours.join(" "))
            };
            let only = room
                .only
                .map_or(String::new(), |who| format!(", only: [P{who}]"));
            let _ = writeln!(
                rooms,
                "  - {{id: R{index}, kind: K{index}, area_m2: 10{open}{only}}}"
            );
        }
        for (index, to) in self.shifts.iter().enumerate() {
            let (from, to) = (clock(START), clock(*to));
            let _ = writeln!(
                crew,
                "  - {{name: P{index}, shift: \"{from}-{to}\", start: entrance}}"
            );
        }
        format!(
            "{star}places: [{{id: entrance}}]\nstandard:\n{kinds}rooms:\n{rooms}crew:\n{crew}\
             policy: {{set_up_min: {}, tear_down_min: {}, speeds: {{foot_m_s: 1}}}}\n",
            SET_UP / 60,
            TEAR_DOWN / 60,
            star = star::yaml(&places),
        )
    }

    /// What a person's rooms take in an order, each as early as it can be done; `None` if it cannot be kept.
    pub(crate) fn takes(&self, person: usize, order: &[usize]) -> Option<Takes> {
        let (mut here, mut time, mut load) = (self.entrance, START + SET_UP, SET_UP);
        for index in order {
            let room = &self.rooms[*index];
            let way = walk(here, room.spot);
            here = room.spot;
            load += way + room.seconds;
            time = room.begin(time + way)? + room.seconds;
        }
        let home = walk(here, self.entrance) + TEAR_DOWN;
        let end = time + home;
        (end <= self.shifts[person]).then_some(Takes {
            load: load + home,
            end,
        })
    }
}

impl Room {
    fn begin(&self, arrival: i64) -> Option<i64> {
        if self.windows.is_empty() {
            return Some(arrival);
        }
        let starts = self
            .windows
            .iter()
            .map(|(from, to)| (arrival.max(*from), *to));
        let fits = starts.filter(|(start, to)| start + self.seconds <= *to);
        fits.map(|(start, _)| start).min()
    }
}

/// All orders that a stretch of up to three stops taken elsewhere makes of one.
pub(crate) fn moved(order: &[usize]) -> Vec<Vec<usize>> {
    let mut all = Vec::new();
    for from in 0..order.len() {
        for length in 1..=3.min(order.len() - from) {
            let mut rest = order.to_vec();
            let stretch: Vec<usize> = rest.drain(from..from + length).collect();
            for to in 0..=rest.len() {
                let mut other = rest.clone();
                other.splice(to..to, stretch.iter().copied());
                all.push(other);
            }
        }
    }
    all
}

/// All orders that an exchange of two stops makes of one.
pub(crate) fn exchanged(order: &[usize]) -> Vec<Vec<usize>> {
    let pairs = (0..order.len()).flat_map(|a| (a + 1..order.len()).map(move |b| (a, b)));
    let exchange = |(a, b)| {
        let mut other = order.to_vec();
        other.swap(a, b);
        other
    };
    pairs.map(exchange).collect()
}

/// All orders that a stretch turned round makes of one.
pub(crate) fn turned(order: &[usize]) -> Vec<Vec<usize>> {
    let pairs = (0..order.len()).flat_map(|a| (a + 1..order.len()).map(move |b| (a, b)));
    let turn = |(a, b): (usize, usize)| {
        let mut other = order.to_vec();
        other[a..=b].reverse();
        other
    };
    pairs.map(turn).collect()
}

fn clock(seconds: i64) -> String {
    format!("{:02}:{:02}", seconds / 3600, seconds / 60 % 60)
}

/// One in eight is large and may be done by the first person only, who then often has more to do than the others.
fn room<R: Rng>(rng: &mut R, index: usize, windows: bool) -> Room {
    let only = index.is_multiple_of(8).then_some(0);
    let [first, length, pause, again] = [(0, 60), (15, 50), (10, 40), (15, 50)]
        .map(|(least, most)| 60 * rng.random_range(least..=most));
    let from = START + first;
    let early = (from, from + length);
    let late = (early.1 + pause, early.1 + pause + again);
    let windows = match rng.random_range(0..6) {
        0 if windows => vec![early],
        1 if windows => vec![early, late],
        _ => Vec::new(),
    };
    Room {
        spot: spot(rng),
        seconds: 6 * rng.random_range(10..=60) * if only.is_some() { 6 } else { 1 },
        windows: if only.is_some() { Vec::new() } else { windows },
        only,
    }
}
