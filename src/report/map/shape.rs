//! Points, directions, four-cornered shapes and whether they overlap; in metres on the floor plan.

use crate::site::Point;

/// Shapes that touch, or overlap by less than this, count as apart; metres.
const TOUCH: f64 = 0.05;

/// A direction of length one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Way(pub(super) f64, pub(super) f64);

impl Way {
    /// From one point to another; to the right if they are the same.
    pub(super) fn between(a: Point, b: Point) -> Way {
        let (x, y) = (b.x - a.x, b.y - a.y);
        let length = x.hypot(y);
        if length > 0.0 {
            Way(x / length, y / length)
        } else {
            Way(1.0, 0.0)
        }
    }

    /// A quarter turn to the left.
    pub(super) fn left(self) -> Way {
        Way(-self.1, self.0)
    }

    /// The other way round.
    pub(super) fn back(self) -> Way {
        Way(-self.0, -self.1)
    }
}

/// A point so far from another.
pub(super) fn moved(point: Point, way: Way, by: f64) -> Point {
    Point {
        x: point.x + way.0 * by,
        y: point.y + way.1 * by,
    }
}

/// A shape of four corners, in order round it; never hollow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Quad(pub(super) [Point; 4]);

impl Quad {
    /// From a point along a way, and to its left.
    pub(super) fn along(start: Point, way: Way, length: f64, left: f64) -> Quad {
        let end = moved(start, way, length);
        let turn = way.left();
        Quad([start, end, moved(end, turn, left), moved(start, turn, left)])
    }

    /// A square round a point.
    pub(super) fn square(centre: Point, side: f64) -> Quad {
        let half = side / 2.0;
        let corner = Point {
            x: centre.x - half,
            y: centre.y - half,
        };
        Quad::along(corner, Way(1.0, 0.0), side, side)
    }

    /// Whether this one and another have more than a touch in common (separating axes; most pairs are told apart from the upright boxes around them).
    pub(super) fn overlaps(&self, other: &Quad) -> bool {
        let upright = [Way(1.0, 0.0), Way(0.0, 1.0)];
        let near = |axis: &Way| {
            let ((a, b), (c, d)) = (self.along_axis(axis), other.along_axis(axis));
            a < d && c < b
        };
        let shared = |axis: &Way| {
            let ((a, b), (c, d)) = (self.along_axis(axis), other.along_axis(axis));
            a + TOUCH < d && c + TOUCH < b
        };
        upright.iter().all(near) && [self, other].iter().all(|q| q.axes().iter().all(shared))
    }

    /// Across its sides.
    fn axes(&self) -> [Way; 4] {
        [0, 1, 2, 3].map(|i| Way::between(self.0[i], self.0[(i + 1) % 4]).left())
    }

    /// From where to where it reaches along an axis.
    fn along_axis(&self, axis: &Way) -> (f64, f64) {
        let on_axis = self.0.map(|p| p.x * axis.0 + p.y * axis.1);
        on_axis
            .iter()
            .fold((f64::MAX, f64::MIN), |(low, high), at| {
                (low.min(*at), high.max(*at))
            })
    }

    /// Its middle.
    pub(super) fn centre(&self) -> Point {
        let sum = |of: fn(&Point) -> f64| self.0.iter().map(of).sum::<f64>() / 4.0;
        Point {
            x: sum(|p| p.x),
            y: sum(|p| p.y),
        }
    }

    /// Width and height of an upright box that fits in around the middle.
    pub(super) fn room_inside(&self) -> (f64, f64) {
        let side = |i: usize| {
            let (a, b) = (self.0[i], self.0[i + 1]);
            (Way::between(a, b), (b.x - a.x).hypot(b.y - a.y))
        };
        let ((way, length), (_, depth)) = (side(0), side(1));
        match (way.0.abs(), way.1.abs()) {
            (_, y) if y < 0.02 => (length, depth),
            (x, _) if x < 0.02 => (depth, length),
            // Askew: the square that is surely inside.
            _ => (length.min(depth) * 0.7, length.min(depth) * 0.7),
        }
    }
}

/// An upright box round everything drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Bounds {
    pub(super) low: Point,
    pub(super) high: Point,
}

impl Bounds {
    /// Round these points with a margin; a small box at the origin if there are none.
    pub(super) fn round(points: impl IntoIterator<Item = Point>, margin: f64) -> Bounds {
        let mut points = points.into_iter().peekable();
        if points.peek().is_none() {
            let (low, high) = (Point { x: 0.0, y: 0.0 }, Point { x: 10.0, y: 5.0 });
            return Bounds { low, high };
        }
        let (mut low, mut high) = (
            Point {
                x: f64::MAX,
                y: f64::MAX,
            },
            Point {
                x: f64::MIN,
                y: f64::MIN,
            },
        );
        for p in points {
            low = Point {
                x: low.x.min(p.x),
                y: low.y.min(p.y),
            };
            high = Point {
                x: high.x.max(p.x),
                y: high.y.max(p.y),
            };
        }
        Bounds {
            low: Point {
                x: low.x - margin,
                y: low.y - margin,
            },
            high: Point {
                x: high.x + margin,
                y: high.y + margin,
            },
        }
    }

    /// The area that two boxes have in common.
    pub(super) fn common(&self, other: &Bounds) -> f64 {
        let width = self.high.x.min(other.high.x) - self.low.x.max(other.low.x);
        let height = self.high.y.min(other.high.y) - self.low.y.max(other.low.y);
        width.max(0.0) * height.max(0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn neighbours_touch_and_do_not_overlap() {
        let at = |x, y| Point { x, y };
        let room = |x| Quad::along(at(x, 0.0), Way(1.0, 0.0), 5.0, 4.0);
        assert!(!room(0.0).overlaps(&room(5.0)));
        assert!(room(0.0).overlaps(&room(4.0)));
        let askew = Quad::along(at(5.5, -1.0), Way(0.6, 0.8), 4.0, 1.0);
        assert!(!room(0.0).overlaps(&Quad::along(at(9.0, -1.0), Way(0.6, 0.8), 4.0, 1.0)));
        assert!(room(0.0).overlaps(&askew) == askew.overlaps(&room(0.0)));
        assert_eq!(room(0.0).centre(), at(2.5, 2.0));
        assert_eq!(room(0.0).room_inside(), (5.0, 4.0));
    }
}
