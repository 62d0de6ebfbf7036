//! Everything on one floor with its place on the sheet, in metres.

use super::halls::{self, WIDTH};
use super::rooms::{self, Drawn, Placed};
use super::shape::{Bounds, Quad, moved};
use super::way::Line;
use crate::site::{FloorId, HallId, PlaceId, Point, Side, Site, WayKind};

/// Side of the square that stands for stairs or a lift, metres.
const SIGN: f64 = 2.2;
/// Free space round everything, metres; labels of stairs and entrances need it.
const MARGIN: f64 = 3.0;

/// Stairs or a lift.
#[derive(Clone, Debug)]
pub(super) struct Climb {
    /// Index in the site's ways.
    pub(super) way: usize,
    /// Where it is drawn.
    pub(super) square: Quad,
}

/// A level way between two halls.
#[derive(Clone, Debug)]
pub(super) struct Passage {
    /// Index in the site's ways.
    pub(super) way: usize,
    /// From where to where.
    pub(super) ends: [Point; 2],
    /// Whether it leads through the open.
    pub(super) outdoor: bool,
}

/// A floor, ready to be drawn.
#[derive(Clone, Debug)]
pub(in crate::report) struct FloorPlan {
    /// Which floor.
    pub(super) floor: FloorId,
    /// Its halls.
    pub(super) lines: Vec<(HallId, Line)>,
    /// Its places, in the site's order.
    pub(super) places: Vec<Placed>,
    /// Its stairs and lifts.
    pub(super) climbs: Vec<Climb>,
    /// Its level ways.
    pub(super) passages: Vec<Passage>,
    /// Whether the site draws all of its halls.
    pub(super) drawn: bool,
    /// Round everything.
    pub(super) bounds: Bounds,
}

impl FloorPlan {
    /// Works out where everything lies.
    pub(in crate::report) fn of(site: &Site, floor: FloorId) -> FloorPlan {
        let (lines, drawn) = halls::lines(site, floor);
        let places = rooms::place_all(site, &lines);
        let passages = passages(site, floor, &lines);
        let climbs = climbs(site, &lines, &places);
        let corners = places.iter().flat_map(|placed| match &placed.drawn {
            Drawn::Box(quad) => quad.0.to_vec(),
            Drawn::HallFloor(quads) => quads.iter().flat_map(|q| q.0).collect(),
            Drawn::Mark(point) => vec![*point],
        });
        let halls = lines.iter().flat_map(|(_, line)| line.0.clone());
        let squares = climbs.iter().flat_map(|c| c.square.0);
        let bounds = Bounds::round(corners.chain(halls).chain(squares), MARGIN);
        FloorPlan {
            floor,
            lines,
            places,
            climbs,
            passages,
            drawn,
            bounds,
        }
    }

    /// One for each floor of the site that has halls, lowest first.
    pub(in crate::report) fn of_site(site: &Site) -> Vec<FloorPlan> {
        let floors = (0..site.floors.len()).map(FloorId::from);
        floors
            .map(|floor| FloorPlan::of(site, floor))
            .filter(|plan| !plan.lines.is_empty())
            .collect()
    }

    /// Which floor.
    pub(in crate::report) fn floor(&self) -> FloorId {
        self.floor
    }

    /// Whether the site draws all of its halls.
    pub(in crate::report) fn is_drawn(&self) -> bool {
        self.drawn
    }

    /// A place of this floor.
    pub(super) fn place(&self, place: PlaceId) -> Option<&Placed> {
        self.places.iter().find(|placed| placed.place == place)
    }
}

fn passages(site: &Site, floor: FloorId, lines: &[(HallId, Line)]) -> Vec<Passage> {
    let ends = |join: &halls::Join| {
        let [a, b] = join
            .ends
            .map(|(hall, along)| halls::point_of(lines, hall, along));
        Some([a?, b?])
    };
    let joins = halls::joins(site, floor);
    let found = joins.iter().filter_map(|join| {
        Some(Passage {
            way: join.way,
            ends: ends(join)?,
            outdoor: join.outdoor,
        })
    });
    found.collect()
}

/// Beyond the end of their hall if there is room, else on the hall's floor, one after the other.
fn climbs(site: &Site, lines: &[(HallId, Line)], places: &[Placed]) -> Vec<Climb> {
    let boxes = places.iter().filter_map(|placed| match placed.drawn {
        Drawn::Box(quad) => Some(quad),
        _ => None,
    });
    let mut taken: Vec<Quad> = boxes.collect();
    let mut all = Vec::new();
    for (index, way) in site.ways.iter().enumerate() {
        if !matches!(way.kind, WayKind::Stairs { .. } | WayKind::Lift { .. }) {
            continue;
        }
        for spot in &way.landings {
            let Some(line) = halls::line_of(lines, spot.hall) else {
                continue;
            };
            let length = site.halls[spot.hall.index()].length.0;
            let square = sign_square(line, spot.along.0, spot.side, length, &taken);
            taken.push(square);
            all.push(Climb { way: index, square });
        }
    }
    all
}

fn sign_square(line: &Line, along: f64, side: Side, length: f64, taken: &[Quad]) -> Quad {
    let (at, piece) = (line.at(along), line.piece(along));
    let out = if along <= 0.0 {
        piece.way.back()
    } else {
        piece.way
    };
    let is_end = along <= 0.0 || along >= length;
    let beyond = (is_end && side == Side::Ahead).then(|| moved(at, out, SIGN / 2.0 + 0.2));
    let turn = piece.way.left();
    let off = WIDTH / 2.0 + SIGN / 2.0;
    let beside = match side {
        Side::Left => vec![moved(at, turn, off)],
        Side::Right => vec![moved(at, turn, -off)],
        Side::Ahead => vec![],
    };
    let inward = if along > length / 2.0 { -1.0 } else { 1.0 };
    let steps = (0..12).map(|n| along + inward * (SIGN / 2.0 + 0.1 + f64::from(n) * (SIGN + 0.2)));
    let inside = steps
        .filter(|at| (0.0..=length).contains(at))
        .map(|at| line.at(at));
    let squares = beyond.into_iter().chain(beside).chain(inside);
    let squares: Vec<Quad> = squares.map(|centre| Quad::square(centre, SIGN)).collect();
    let free = |quad: &&Quad| !taken.iter().any(|other| quad.overlaps(other));
    let found = squares.iter().find(free).or(squares.last()).copied();
    found.unwrap_or(Quad::square(at, SIGN))
}
