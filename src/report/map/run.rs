//! The map of one run on one floor: its rooms with the numbers of its stops, and the halls and ways it walks.

use super::ground::{outlines, shape};
use super::label::{Area, Label, fit};
use super::plan::FloorPlan;
use super::rooms::Drawn;
use super::shape::{Bounds, Quad};
use super::sheet::{Sheet, taken};
use super::sign::{self, Sign, sign};
use crate::report::Answer;
use crate::report::view::{RunView, place_name};
use crate::report::words::Words;
use crate::site::{PlaceId, Point, Site};
use crate::walk::Leg;
use maud::{Markup, html};
use std::collections::{BTreeMap, BTreeSet};

/// Sizes of the numbers on a run's map.
const NUMBERS: [f64; 6] = [24.0, 20.0, 17.0, 14.0, 11.0, 9.0];
/// What is shown round the part of a floor that a run works on, metres.
const AROUND: f64 = 4.0;

/// One run on one floor: its rooms with the numbers of its stops, and the halls and ways it walks. `None` where it never is.
pub(in crate::report) fn run_map(
    answer: &Answer,
    words: &Words,
    plan: &FloorPlan,
    run: &RunView,
    index: usize,
    id: &str,
    own_style: Option<&Markup>,
) -> Option<Markup> {
    let site = answer.site;
    let sheet = Sheet::of(&plan.bounds);
    let mut numbers: BTreeMap<PlaceId, Vec<String>> = BTreeMap::new();
    for stop in &run.stops {
        if plan.place(stop.place_id).is_some() {
            numbers
                .entry(stop.place_id)
                .or_default()
                .push(stop.number.to_string());
        }
    }
    let route = route(plan, run);
    let there = numbers.keys().filter_map(|p| plan.place(*p));
    let corners = there.flat_map(|placed| match &placed.drawn {
        Drawn::Box(quad) => quad.0.to_vec(),
        Drawn::HallFloor(quads) => quads.iter().flat_map(|q| q.0).collect(),
        Drawn::Mark(point) => vec![*point],
    });
    let shown: Vec<Point> = corners.chain(route.iter().flatten().copied()).collect();
    if numbers.is_empty() {
        return None;
    }
    let part = Bounds::round(shown, AROUND);
    let ((left, bottom), (right, top)) = (sheet.at(part.low), sheet.at(part.high));
    let floor = site.floors[plan.floor.index()].id.as_str();
    let about = [("name", run.name.as_str().into()), ("floor", floor.into())];
    Some(html! {
        svg.map.strip xmlns="http://www.w3.org/2000/svg" role="img" aria-labelledby={ (id) "-title" }
            viewBox=(format!("{left:.0} {top:.0} {:.0} {:.0}", right - left, bottom - top))
            style=(format!("max-width:{:.0}px", (right - left) * 1.3)) {
            title id={ (id) "-title" } { (words.tell("map-run", &about)) }
            @match own_style {
                Some(style) => { (style) (outlines(site, plan)) },
                None => use href={ "#outline-" (plan.floor.index()) } {},
            }
            @for (place, _) in &numbers { (visited(site, sheet, plan, *place, index)) }
            @for line in &route { polyline.plan-route points=(sheet.points(line)) {} }
            (numbered(site, sheet, plan, &numbers, (left, top, right, bottom)))
        }
    })
}

fn visited(site: &Site, sheet: Sheet, plan: &FloorPlan, place: PlaceId, run: usize) -> Markup {
    let owner = site.room_at(place).map(|_| &run);
    html! {
        @match plan.place(place).map(|p| &p.drawn) {
            Some(Drawn::Box(quad)) => (shape(sheet, quad, owner)),
            Some(Drawn::HallFloor(quads)) => @for quad in quads { (shape(sheet, quad, owner)) },
            _ => {},
        }
    }
}

/// The numbers of the stops at each place: in its box if it has one, beside it otherwise.
fn numbered(
    site: &Site,
    sheet: Sheet,
    plan: &FloorPlan,
    numbers: &BTreeMap<PlaceId, Vec<String>>,
    (left, top, right, bottom): (f64, f64, f64, f64),
) -> Markup {
    let whole = sheet.size();
    let mut taken = taken(plan, sheet, whole);
    taken.sheet = Area {
        left,
        top,
        right,
        bottom,
    };
    html! {
        @for (place, each) in numbers {
            @if let Some(placed) = plan.place(*place) {
                @let text = each.join(" ");
                @let inside = placed.text_box().and_then(|quad| in_lines(sheet, &quad, each));
                @let label = match inside {
                    Some(label) => Some(label),
                    None => taken.beside(&text, sign::area(sheet.at(placed.door)), &NUMBERS[2..]),
                };
                @if matches!(placed.drawn, Drawn::Mark(_)) { (sign(Sign::Spot, sheet.at(placed.door))) }
                g { title { (place_name(site, *place)) ": " (text) }
                    @if let Some(label) = label { (label.draw("number")) } }
            }
        }
    }
}

/// Numbers in a box, in as few lines as let them be large.
fn in_lines(sheet: Sheet, quad: &Quad, numbers: &[String]) -> Option<Label> {
    let (middle, there) = sheet.text_box(quad);
    let mut best: Option<Label> = None;
    for lines in 1..=numbers.len().min(3) {
        let each = numbers.len().div_ceil(lines);
        let lines: Vec<String> = numbers.chunks(each).map(|part| part.join(" ")).collect();
        let label = fit(&lines, middle, there, &NUMBERS).filter(|label| label.lines == lines);
        if let Some(label) = label
            && best.as_ref().is_none_or(|b| b.size < label.size)
        {
            best = Some(label);
        }
    }
    best
}

/// The lines a run walks on a floor, each stretch of a hall once.
fn route(plan: &FloorPlan, run: &RunView) -> Vec<Vec<Point>> {
    let mut lines = Vec::new();
    let mut along: BTreeMap<usize, Vec<(f64, f64)>> = BTreeMap::new();
    let mut ways = BTreeSet::new();
    for leg in run
        .stops
        .iter()
        .filter_map(|s| s.walk.as_ref())
        .flat_map(|w| &w.legs)
    {
        match leg {
            Leg::Hall { hall, from, to } => along
                .entry(hall.index())
                .or_default()
                .push((from.0.min(to.0), from.0.max(to.0))),
            Leg::Way { way, .. } => {
                ways.insert(*way);
            }
        }
    }
    for (hall, line) in &plan.lines {
        for (from, to) in joined(along.remove(&hall.index()).unwrap_or_default()) {
            lines.push(line.stretch(from, to));
        }
    }
    let used = plan.passages.iter().filter(|p| ways.contains(&p.way));
    lines.extend(used.map(|p| p.ends.to_vec()));
    lines
}

/// Stretches that touch become one.
fn joined(mut stretches: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    stretches.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let mut joined: Vec<(f64, f64)> = Vec::new();
    for (from, to) in stretches {
        match joined.last_mut() {
            Some(last) if from <= last.1 => last.1 = last.1.max(to),
            _ => joined.push((from, to)),
        }
    }
    joined
}
