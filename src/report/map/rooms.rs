//! Where rooms, closets and other places are drawn: along their hall at their door, as wide as the next doors allow and as deep as their
//! area asks, smaller where they would cover something else.

use super::halls::WIDTH;
use super::shape::{Quad, moved};
use super::way::{Line, Piece};
use crate::site::{HallId, Place, PlaceId, Point, Side, Site};

/// Areas taken for what has none: a closet, another place; square metres.
const CLOSET: f64 = 9.0;
const PLACE: f64 = 7.0;
/// Least distance of two doors on the same side, so that neither room vanishes; metres.
const APART: f64 = 1.8;
/// Least and greatest depth; metres.
const DEPTH: (f64, f64) = (2.4, 14.0);
/// A room is at most so many times deeper than it is wide.
const DEEPEST: f64 = 3.0;
/// A room is about so many times wider than deep where doors leave it free.
const ASPECT: f64 = 1.2;
/// Kept free at an inner corner for the rooms on the other side of it; metres.
const CORNER: f64 = WIDTH / 2.0 + 3.5;
/// What is left of depth and width where a room has to be smaller, the largest first.
const SHRINK: [(f64, f64); 9] = [
    (1.0, 1.0),
    (0.8, 1.0),
    (1.0, 0.75),
    (0.6, 1.0),
    (0.6, 0.75),
    (0.4, 0.7),
    (0.4, 0.45),
    (0.25, 0.3),
    (0.1, 0.15),
];

/// How a place is drawn.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Drawn {
    /// A box beside or at the end of its hall.
    Box(Quad),
    /// A stretch of the hall's own floor, with its straight pieces.
    HallFloor(Vec<Quad>),
    /// A mark on the hall.
    Mark(Point),
}

/// A place on the map.
#[derive(Clone, Debug)]
pub(super) struct Placed {
    pub(super) place: PlaceId,
    pub(super) drawn: Drawn,
    /// Where its door is, on the hall's middle line.
    pub(super) door: Point,
}

impl Placed {
    /// The largest box for a text.
    pub(super) fn text_box(&self) -> Option<Quad> {
        match &self.drawn {
            Drawn::Box(quad) => Some(*quad),
            Drawn::HallFloor(pieces) => {
                let length = |q: &&Quad| (q.0[1].x - q.0[0].x).hypot(q.0[1].y - q.0[0].y);
                let longest = pieces.iter().max_by(|a, b| length(a).total_cmp(&length(b)));
                longest.copied()
            }
            Drawn::Mark(_) => None,
        }
    }
}

/// The strips of a hall's own floor, one for each straight piece between two distances along it.
pub(super) fn strips(line: &Line, from: f64, to: f64) -> Vec<Quad> {
    let pieces = line.pieces();
    let parts = pieces.iter().filter_map(|piece| {
        let (a, b) = (from.max(piece.from), to.min(piece.to()));
        (b > a).then(|| {
            let right = moved(piece.at(a), piece.way.left(), -WIDTH / 2.0);
            Quad::along(right, piece.way, b - a, WIDTH)
        })
    });
    parts.collect()
}

/// A box in the sizes it may have, the largest first.
struct Growing {
    place: PlaceId,
    door: Point,
    sizes: Vec<Quad>,
}

/// All places of these halls.
pub(super) fn place_all(site: &Site, lines: &[(HallId, Line)]) -> Vec<Placed> {
    let halls = lines
        .iter()
        .flat_map(|(_, line)| strips(line, 0.0, f64::MAX));
    let halls: Vec<Quad> = halls.collect();
    let mut growing = Vec::new();
    let mut all = Vec::new();
    for (hall, line) in lines {
        let here: Vec<PlaceId> = (0..site.places.len())
            .map(PlaceId::from)
            .filter(|p| site.places[p.index()].spot.hall == *hall)
            .collect();
        growing.extend(beside(site, line, &here));
        ahead(site, *hall, line, &here, &mut growing, &mut all);
    }
    let grown = grow(&growing, &halls);
    all.extend(growing.iter().zip(grown).map(|(box_, quad)| Placed {
        place: box_.place,
        drawn: Drawn::Box(quad),
        door: box_.door,
    }));
    all.sort_by_key(|placed| placed.place);
    all
}

/// Boxes begin at their smallest and grow in turn, as long as they cover neither a hall nor another box as it is then: so a large room in
/// a corner leaves the small one beside it its place.
fn grow(growing: &[Growing], halls: &[Quad]) -> Vec<Quad> {
    let mut quads: Vec<Quad> = growing.iter().map(|g| g.sizes[SHRINK.len() - 1]).collect();
    for size in (0..SHRINK.len() - 1).rev() {
        for (index, wanted) in growing.iter().map(|g| g.sizes[size]).enumerate() {
            let others = quads.iter().enumerate().filter(|(i, _)| *i != index);
            let mut taken = others.map(|(_, quad)| quad).chain(halls);
            if !taken.any(|other| wanted.overlaps(other)) {
                quads[index] = wanted;
            }
        }
    }
    quads
}

fn area(site: &Site, place: PlaceId) -> f64 {
    match (site.room_at(place), site.closet_at(place)) {
        (Some(room), _) => site.rooms[room.index()].area.0.max(1.0),
        (None, Some(_)) => CLOSET,
        (None, None) => PLACE,
    }
}

/// Boxes on both sides of a hall.
fn beside(site: &Site, line: &Line, here: &[PlaceId]) -> Vec<Growing> {
    let mut all = Vec::new();
    for side in [Side::Left, Side::Right] {
        let pieces = line.pieces();
        for (index, piece) in pieces.iter().enumerate() {
            let before = index.checked_sub(1).map(|i| &pieces[i]);
            let after = pieces.get(index + 1);
            let turns = |a: &Piece, b: &Piece| {
                let left = a.way.0 * b.way.1 - a.way.1 * b.way.0;
                if side == Side::Left {
                    left > 0.1
                } else {
                    left < -0.1
                }
            };
            // On the inner side of a bend the rooms of both pieces share the corner.
            let corners = (
                before.filter(|b| turns(b, piece)).map_or(0.0, |_| CORNER),
                after.filter(|a| turns(piece, a)).map_or(0.0, |_| CORNER),
            );
            let on_piece = |place: &&PlaceId| {
                let spot = site.places[place.index()].spot;
                let there = line.piece(spot.along.0);
                spot.side == side && (there.from - piece.from).abs() < 1e-9
            };
            let mut doors: Vec<(f64, PlaceId)> = here
                .iter()
                .filter(on_piece)
                .map(|p| (site.places[p.index()].spot.along.0, *p))
                .collect();
            doors.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
            let spread = spread(&doors, piece, index == 0);
            all.extend(
                doors
                    .iter()
                    .enumerate()
                    .map(|(number, (at, place))| Growing {
                        place: *place,
                        door: piece.at(*at),
                        sizes: one_beside(site, piece, side, corners, (&spread, number), *place),
                    }),
            );
        }
    }
    all
}

/// Where the doors of one side are drawn: where they are, but never closer than a narrow room needs.
fn spread(doors: &[(f64, PlaceId)], piece: &Piece, is_first: bool) -> Vec<f64> {
    let first = piece.from + if is_first { APART / 2.0 } else { 0.0 };
    let mut next = first;
    let mut spread: Vec<f64> = Vec::with_capacity(doors.len());
    for (at, _) in doors {
        let at = at.max(next);
        spread.push(at);
        next = at + APART;
    }
    let mut last = piece.to() - APART / 2.0;
    for at in spread.iter_mut().rev() {
        *at = at.min(last).max(piece.from);
        last = *at - APART;
    }
    spread
}

fn one_beside(
    site: &Site,
    piece: &Piece,
    to_side: Side,
    corners: (f64, f64),
    (doors, number): (&[f64], usize),
    room: PlaceId,
) -> Vec<Quad> {
    let (at, area) = (doors[number], area(site, room));
    let wide = (area * ASPECT).sqrt();
    let first = (piece.from + corners.0).min(at - APART / 2.0);
    let last = (piece.to() - corners.1).max(at + APART / 2.0);
    let before = number.checked_sub(1).map(|n| f64::midpoint(doors[n], at));
    let after = doors.get(number + 1).map(|next| f64::midpoint(at, *next));
    // Rooms often reach further to one side of their door than to the other.
    let from = before.unwrap_or(f64::MIN).max(first).max(at - wide * 0.8);
    let to = after.unwrap_or(f64::MAX).min(last).min(at + wide * 0.8);
    let width = (to - from).max(0.5);
    let deepest = DEPTH.1.min(width * DEEPEST).max(DEPTH.0);
    let depth = (area / width).clamp(DEPTH.0, deepest);
    let sign = if to_side == Side::Left { 1.0 } else { -1.0 };
    let boxed = |(deep, broad): (f64, f64)| {
        let (low, high) = (at - (at - from) * broad, at + (to - at) * broad);
        let corner = moved(piece.at(low), piece.way.left(), sign * WIDTH / 2.0);
        Quad::along(
            corner,
            piece.way,
            (high - low).max(0.5),
            sign * depth * deep,
        )
    };
    SHRINK.into_iter().map(boxed).collect()
}

/// What lies at the ends of a hall, or is its floor.
fn ahead(
    site: &Site,
    hall: HallId,
    line: &Line,
    here: &[PlaceId],
    growing: &mut Vec<Growing>,
    all: &mut Vec<Placed>,
) {
    let length = site.halls[hall.index()].length.0;
    let ahead = |place: &&PlaceId| site.places[place.index()].spot.side == Side::Ahead;
    let at_end = |place: &Place| place.spot.along.0 <= 0.0 || place.spot.along.0 >= length;
    let is_floor = |p: &PlaceId| site.room_at(*p).is_some() && !at_end(&site.places[p.index()]);
    let mut floors: Vec<PlaceId> = here
        .iter()
        .filter(ahead)
        .copied()
        .filter(is_floor)
        .collect();
    let along = |place: PlaceId| site.places[place.index()].spot.along.0;
    floors.sort_by(|a, b| along(*a).total_cmp(&along(*b)).then(a.cmp(b)));
    for place in here.iter().filter(ahead) {
        let at = along(*place);
        let door = line.at(at);
        let drawn = if let Some(index) = floors.iter().position(|p| p == place) {
            let middle = |a: PlaceId, b: PlaceId| f64::midpoint(along(a), along(b));
            let from = index
                .checked_sub(1)
                .map_or(0.0, |i| middle(floors[i], *place));
            let to = floors
                .get(index + 1)
                .map_or(length, |next| middle(*place, *next));
            let strips = strips(line, from, to);
            if strips.is_empty() {
                Drawn::Mark(door)
            } else {
                Drawn::HallFloor(strips)
            }
        } else if at_end(&site.places[place.index()]) && site.room_at(*place).is_some() {
            let piece = line.piece(at);
            let out = if at <= 0.0 {
                piece.way.back()
            } else {
                piece.way
            };
            let wide = (area(site, *place) * ASPECT).sqrt();
            let boxed = |(deep, broad): (f64, f64)| {
                let right = moved(door, out.left(), -wide * broad / 2.0);
                Quad::along(right, out, wide / ASPECT * deep, wide * broad)
            };
            growing.push(Growing {
                place: *place,
                door,
                sizes: SHRINK.into_iter().map(boxed).collect(),
            });
            continue;
        } else {
            Drawn::Mark(door)
        };
        all.push(Placed {
            place: *place,
            drawn,
            door,
        });
    }
}
