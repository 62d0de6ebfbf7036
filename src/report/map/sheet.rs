//! The sheet of a map: from metres on the plan to the units of the drawing.

use super::label::{Area, Taken};
use super::plan::FloorPlan;
use super::rooms::Drawn;
use super::shape::{Bounds, Quad};
use super::sign;
use crate::site::Point;

/// Units of the drawing for a metre.
pub(super) const UNIT: f64 = 10.0;

/// From metres to the units of the drawing; up becomes down.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sheet {
    pub(super) low: Point,
    pub(super) high: Point,
}

impl Sheet {
    pub(super) fn of(bounds: &Bounds) -> Sheet {
        Sheet {
            low: bounds.low,
            high: bounds.high,
        }
    }

    pub(super) fn at(&self, point: Point) -> (f64, f64) {
        (
            (point.x - self.low.x) * UNIT,
            (self.high.y - point.y) * UNIT,
        )
    }

    pub(super) fn size(&self) -> (f64, f64) {
        (
            (self.high.x - self.low.x) * UNIT,
            (self.high.y - self.low.y) * UNIT,
        )
    }

    /// `x,y x,y ...`.
    pub(super) fn points(&self, points: &[Point]) -> String {
        let each = points.iter().map(|p| {
            let (x, y) = self.at(*p);
            format!("{x:.1},{y:.1}")
        });
        each.collect::<Vec<_>>().join(" ")
    }

    pub(super) fn area(&self, quad: &Quad) -> Area {
        let bounds = Bounds::round(quad.0, 0.0);
        let ((left, bottom), (right, top)) = (self.at(bounds.low), self.at(bounds.high));
        Area {
            left,
            top,
            right,
            bottom,
        }
    }

    pub(super) fn text_box(&self, quad: &Quad) -> ((f64, f64), (f64, f64)) {
        let (w, h) = quad.room_inside();
        (self.at(quad.centre()), (w * UNIT, h * UNIT))
    }
}

/// Everything that a text beside something must not cover.
pub(super) fn taken(plan: &FloorPlan, sheet: Sheet, (wide, high): (f64, f64)) -> Taken {
    let mut areas = Vec::new();
    for placed in &plan.places {
        match &placed.drawn {
            Drawn::Box(quad) => areas.push(sheet.area(quad)),
            Drawn::HallFloor(quads) => areas.extend(quads.iter().map(|q| sheet.area(q))),
            Drawn::Mark(point) => areas.push(sign::area(sheet.at(*point))),
        }
    }
    areas.extend(plan.climbs.iter().map(|c| sheet.area(&c.square)));
    Taken {
        sheet: Area {
            left: 0.0,
            top: 0.0,
            right: wide,
            bottom: high,
        },
        areas,
    }
}
