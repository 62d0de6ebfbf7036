//! What lies under every map of a floor: halls, ways between them, doors across them; and the bare outlines of everything, drawn once on a
//! page and referred to.

use super::halls;
use super::owner;
use super::plan::FloorPlan;
use super::rooms::{Drawn, strips};
use super::shape::{Quad, moved};
use super::sheet::Sheet;
use super::sign::{Sign, sign};
use crate::site::{Site, WayKind};
use maud::{Markup, html};

/// The bare outlines of a floor, to be referred to from the maps of its runs.
pub(in crate::report) fn outlines(site: &Site, plan: &FloorPlan) -> Markup {
    let sheet = Sheet::of(&plan.bounds);
    html! {
        g.plain id={ "outline-" (plan.floor.index()) } {
            (ground(site, plan, sheet))
            @for placed in &plan.places {
                @if let Drawn::Box(quad) = &placed.drawn { polygon.plan-box points=(sheet.points(&quad.0)) {} }
            }
            @for climb in &plan.climbs {
                polygon.plan-box points=(sheet.points(&climb.square.0)) {}
                (sign(climb_sign(site, climb.way), sheet.at(climb.square.centre())))
            }
        }
    }
}

/// Halls, level ways between them, doors across them.
pub(super) fn ground(site: &Site, plan: &FloorPlan, sheet: Sheet) -> Markup {
    html! {
        @for passage in &plan.passages {
            polyline.plan-passage.plan-outdoor[passage.outdoor] points=(sheet.points(&passage.ends)) {
                title { (site.ways[passage.way].id) }
            }
        }
        @for (hall, line) in &plan.lines {
            @for strip in strips(line, 0.0, f64::MAX) { polygon.plan-hall points=(sheet.points(&strip.0)) {} }
            @for (along, _) in &site.halls[hall.index()].doors {
                @let piece = line.piece(along.0);
                @let across = [-1.0, 1.0].map(|s| moved(piece.at(along.0), piece.way.left(), s * halls::WIDTH / 2.0));
                polyline.plan-door points=(sheet.points(&across)) {}
            }
        }
    }
}

/// The sign of stairs or of a lift.
pub(super) fn climb_sign(site: &Site, way: usize) -> Sign {
    match site.ways[way].kind {
        WayKind::Lift { .. } => Sign::Lift,
        _ => Sign::Stairs,
    }
}

/// A box with the fill of a run, or with none.
pub(super) fn shape(sheet: Sheet, quad: &Quad, owner: Option<&usize>) -> Markup {
    let fill = owner.map(|run| owner::fill(*run));
    html! { polygon.plan-box points=(sheet.points(&quad.0)) fill=[fill] {} }
}
