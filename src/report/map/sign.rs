//! Signs of the map: water and waste points, stairs and lifts, doors, places that are only passed. Drawn here of plain strokes.

use super::label::Area;
use maud::{Markup, html};

/// What a sign stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sign {
    /// Fresh water: a drop.
    Water,
    /// Waste: a bin under its lid.
    Waste,
    /// Stairs: steps.
    Stairs,
    /// A lift: up and down in a frame.
    Lift,
    /// An entrance or another place: a dot in a ring.
    Spot,
}

/// A sign round a middle; ten units high.
pub(super) fn sign(sign: Sign, (x, y): (f64, f64)) -> Markup {
    let at = format!("translate({x:.1} {y:.1})");
    html! {
        g.sign transform=(at) {
            @match sign {
                Sign::Water => path.full d="M0,-5 C2.5,-1.5 3.6,0 3.6,1.8 A3.6,3.4 0 0 1 -3.6,1.8 C-3.6,0 -2.5,-1.5 0,-5 Z" {},
                Sign::Waste => path.full d="M-4.6,-3.4 H-1.4 V-5 H1.4 V-3.4 H4.6 V-1.9 H-4.6 Z M-3.8,-0.8 H3.8 L3,5 H-3 Z" {},
                Sign::Stairs => path.line d="M-7,7 V3.5 H-3.5 V0 H0 V-3.5 H3.5 V-7 H7" {},
                Sign::Lift => path.full d="M0,-7 L3.6,-1.4 H-3.6 Z M0,7 L3.6,1.4 H-3.6 Z" {},
                Sign::Spot => { circle.line r="4" {} circle.full r="1.6" {} },
            }
        }
    }
}

/// Room that a sign takes round its middle.
pub(super) fn area((x, y): (f64, f64)) -> Area {
    Area {
        left: x - 5.5,
        top: y - 5.5,
        right: x + 5.5,
        bottom: y + 5.5,
    }
}
