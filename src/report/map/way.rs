//! The line of a hall: where a distance along it lies, and which straight pieces it has.

use super::shape::{Way, moved};
use crate::site::Point;

/// A hall's line on the floor plan; at least two points.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Line(pub(super) Vec<Point>);

/// A straight piece of a line.
#[derive(Clone, Copy, Debug)]
pub(super) struct Piece {
    /// Its start.
    pub(super) start: Point,
    /// Where to.
    pub(super) way: Way,
    /// Distance along the line at which it starts.
    pub(super) from: f64,
    /// Its length.
    pub(super) length: f64,
}

impl Piece {
    /// The point at a distance along the line, on this piece.
    pub(super) fn at(&self, along: f64) -> Point {
        moved(
            self.start,
            self.way,
            (along - self.from).clamp(0.0, self.length),
        )
    }

    /// Distance along the line at which it ends.
    pub(super) fn to(&self) -> f64 {
        self.from + self.length
    }
}

impl Line {
    /// Its pieces in order, those of no length left out; one at least.
    pub(super) fn pieces(&self) -> Vec<Piece> {
        let mut from = 0.0;
        let mut pieces = Vec::new();
        for pair in self.0.windows(2) {
            let length = (pair[1].x - pair[0].x).hypot(pair[1].y - pair[0].y);
            if length > 0.0 {
                pieces.push(Piece {
                    start: pair[0],
                    way: Way::between(pair[0], pair[1]),
                    from,
                    length,
                });
                from += length;
            }
        }
        if pieces.is_empty() {
            let start = self.0.first().copied().unwrap_or(Point { x: 0.0, y: 0.0 });
            pieces.push(Piece {
                start,
                way: Way(1.0, 0.0),
                from: 0.0,
                length: 0.0,
            });
        }
        pieces
    }

    /// The piece that a distance along the line is on.
    pub(super) fn piece(&self, along: f64) -> Piece {
        let pieces = self.pieces();
        let index = pieces.iter().position(|p| along <= p.to());
        pieces[index.unwrap_or(pieces.len() - 1)]
    }

    /// The point at a distance along it.
    pub(super) fn at(&self, along: f64) -> Point {
        self.piece(along).at(along)
    }

    /// The points from one distance along it to another.
    pub(super) fn stretch(&self, from: f64, to: f64) -> Vec<Point> {
        let (from, to) = (from.min(to), from.max(to));
        let mut points = vec![self.at(from)];
        let bends = self.pieces();
        points.extend(
            bends
                .iter()
                .skip(1)
                .filter(|p| from < p.from && p.from < to)
                .map(|p| p.start),
        );
        points.push(self.at(to));
        points
    }
}
