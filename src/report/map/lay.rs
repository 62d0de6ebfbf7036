//! A layout for halls that the site does not draw: the longest one straight, every other from where it is joined on, straight ahead or at a
//! right angle, wherever it covers least of what is there already. Schematic, and the legend says so.

use super::halls::{Join, WIDTH, line_of};
use super::shape::{Bounds, Way, moved};
use super::way::Line;
use crate::site::{HallId, Point, Site};

/// Room kept free beside a hall for the rooms along it, metres.
const BESIDE: f64 = 9.0;
/// A way between halls is drawn at least this long, so that rooms on either side keep apart.
const LEAST_JOIN: f64 = 3.0;
/// How many times longer a way may be drawn to keep halls apart.
const STRETCHES: [f64; 5] = [1.0, 2.0, 4.0, 7.0, 12.0];

/// Adds a line for each of `halls` that has none yet.
pub(super) fn lay_out(
    site: &Site,
    halls: &[HallId],
    joins: &[Join],
    lines: &mut Vec<(HallId, Line)>,
) {
    loop {
        let is_laid = |lines: &[(HallId, Line)], hall| line_of(lines, hall).is_some();
        let left = halls.iter().copied().filter(|h| !is_laid(lines, *h));
        let left: Vec<HallId> = left.collect();
        let Some(longest) = longest(site, &left) else {
            return;
        };
        let next = joins.iter().find_map(|join| {
            let [a, b] = join.ends;
            match (is_laid(lines, a.0), is_laid(lines, b.0)) {
                (true, false) => Some((join, a, b)),
                (false, true) => Some((join, b, a)),
                _ => None,
            }
        });
        let added = match next {
            Some((join, laid, new)) => (new.0, join_on(site, join, laid, new, lines)),
            None => (longest, below(site, longest, lines)),
        };
        lines.push(added);
    }
}

fn longest(site: &Site, halls: &[HallId]) -> Option<HallId> {
    let length = |hall: &HallId| site.halls[hall.index()].length.0;
    let longer = |a: &&HallId, b: &&HallId| length(a).total_cmp(&length(b)).then(b.cmp(a));
    halls.iter().max_by(longer).copied()
}

/// Straight, under everything that is there.
fn below(site: &Site, hall: HallId, lines: &[(HallId, Line)]) -> Line {
    let start = if lines.is_empty() {
        Point { x: 0.0, y: 0.0 }
    } else {
        let there = Bounds::round(lines.iter().flat_map(|(_, l)| l.0.clone()), BESIDE);
        Point {
            x: there.low.x + BESIDE,
            y: there.low.y - BESIDE - WIDTH,
        }
    };
    straight(start, Way(1.0, 0.0), length(site, hall))
}

fn length(site: &Site, hall: HallId) -> f64 {
    site.halls[hall.index()].length.0.max(1.0)
}

fn straight(start: Point, way: Way, length: f64) -> Line {
    Line(vec![start, moved(start, way, length)])
}

/// From a point of a hall that is laid out: the way and the stretch with the least overlap; the first of equals.
fn join_on(
    site: &Site,
    join: &Join,
    laid: (HallId, f64),
    new: (HallId, f64),
    lines: &[(HallId, Line)],
) -> Line {
    let Some(from) = line_of(lines, laid.0) else {
        return below(site, new.0, lines);
    };
    let (at, piece) = (from.at(laid.1), from.piece(laid.1));
    let ahead = if laid.1 <= 0.0 {
        piece.way.back()
    } else {
        piece.way
    };
    let is_end = laid.1 <= 0.0 || laid.1 >= site.halls[laid.0.index()].length.0;
    let turns = if is_end {
        vec![ahead, ahead.left(), ahead.left().back()]
    } else {
        vec![ahead.left(), ahead.left().back()]
    };
    let taken: Vec<Bounds> = lines.iter().flat_map(|(_, line)| envelopes(line)).collect();
    let mut best: Option<(f64, Line)> = None;
    for stretch in STRETCHES {
        for out in &turns {
            let start = moved(at, *out, join.length.max(LEAST_JOIN) * stretch);
            for line in lines_through(site, new, start, *out) {
                let envelopes = envelopes(&line);
                let both = envelopes
                    .iter()
                    .flat_map(|e| taken.iter().map(|t| e.common(t)));
                let overlap: f64 = both.sum();
                if best
                    .as_ref()
                    .is_none_or(|(least, _)| overlap < *least - 1e-6)
                {
                    best = Some((overlap, line));
                }
            }
        }
        if best.as_ref().is_some_and(|(least, _)| *least <= 1e-6) {
            break;
        }
    }
    best.map_or_else(|| below(site, new.0, lines), |(_, line)| line)
}

/// Lines of a hall that has this distance along it at a point: going on from there where the hall is entered at an end, across
/// otherwise and as well.
fn lines_through(site: &Site, new: (HallId, f64), start: Point, out: Way) -> Vec<Line> {
    let length = length(site, new.0);
    let along = new.1.clamp(0.0, length);
    let through = |way: Way| straight(moved(start, way, -along), way, length);
    let mut lines = Vec::new();
    if along <= 0.0 {
        lines.push(through(out));
    } else if along >= length {
        lines.push(through(out.back()));
    }
    lines.extend([through(out.left()), through(out.left().back())]);
    lines
}

/// What a hall and the rooms along it cover.
fn envelopes(line: &Line) -> Vec<Bounds> {
    let pieces = line.pieces();
    let each = pieces.iter().map(|piece| {
        let side = piece.way.left();
        let ends = [piece.at(piece.from), piece.at(piece.to())];
        let corners = ends
            .iter()
            .flat_map(|end| [BESIDE, -BESIDE].map(|by| moved(*end, side, by)));
        Bounds::round(corners, 0.0)
    });
    each.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::site::{Floor, FloorId, Hall};
    use crate::units::Metres;

    fn site(lengths: &[f64]) -> Site {
        let hall = |(i, length): (usize, &f64)| Hall {
            id: format!("h{i}"),
            floor: FloorId(0),
            length: Metres(*length),
            line: None,
            doors: vec![],
        };
        Site {
            floors: vec![Floor {
                id: "G".into(),
                elevation: Metres(0.0),
            }],
            halls: lengths.iter().enumerate().map(hall).collect(),
            ..Site::default()
        }
    }

    fn join(a: (u32, f64), b: (u32, f64)) -> Join {
        Join {
            ends: [a, b].map(|(hall, at)| (HallId(hall), at)),
            length: 0.0,
            outdoor: false,
            way: 0,
        }
    }

    fn laid(site: &Site, joins: &[Join]) -> Vec<(HallId, Line)> {
        let halls: Vec<HallId> = (0..site.halls.len()).map(HallId::from).collect();
        let mut lines = Vec::new();
        lay_out(site, &halls, joins, &mut lines);
        lines
    }

    #[test]
    fn wings_of_a_comb_and_a_ring_of_halls_keep_apart() {
        let comb = site(&[60.0, 25.0, 25.0, 25.0, 25.0]);
        let joins = [
            join((0, 0.0), (1, 0.0)),
            join((0, 20.0), (2, 0.0)),
            join((0, 40.0), (3, 25.0)),
            join((0, 60.0), (4, 0.0)),
        ];
        let lines = laid(&comb, &joins);
        assert_eq!(lines.len(), 5);
        let all: Vec<Vec<Bounds>> = lines.iter().map(|(_, line)| envelopes(line)).collect();
        for (i, a) in all.iter().enumerate() {
            for b in &all[..i] {
                let overlap: f64 = a.iter().flat_map(|a| b.iter().map(|b| a.common(b))).sum();
                assert!(overlap < 1.0, "{overlap} m2 of {lines:?}");
            }
        }
    }

    #[test]
    fn halls_without_any_join_lie_one_under_the_other_and_keep_their_length() {
        let site = site(&[10.0, 30.0, 20.0]);
        let lines = laid(&site, &[]);
        assert_eq!(lines[0].0, HallId(1));
        for (hall, line) in lines {
            let piece = line.pieces()[0];
            assert!((piece.length - site.halls[hall.index()].length.0).abs() < 1e-9);
        }
    }
}
