//! The map of who does which rooms of a floor.

use super::ground::{climb_sign, ground, shape};
use super::label::{Label, Taken, fit};
use super::owner::{Owners, is_wet};
use super::plan::FloorPlan;
use super::rooms::{Drawn, Placed, strips};
use super::shape::Quad;
use super::sheet::{Sheet, UNIT, taken};
use super::sign::{self, Sign, sign};
use super::{key, scale};
use crate::report::Answer;
use crate::report::view::{View, place_name};
use crate::report::words::Words;
use crate::site::{Point, RoomId, Site};
use maud::{Markup, html};
use std::collections::BTreeMap;

/// Room below a floor's map for the scale bar.
const FOOT: f64 = 24.0;
/// Sizes of a room's label, the best first.
const SIZES: [f64; 5] = [12.0, 10.5, 9.0, 8.0, 7.0];
/// Sizes of texts beside something.
const BESIDE: [f64; 2] = [9.5, 8.0];

/// Who does which rooms of a floor. `id` is the drawing's own on its page. A file of its own has its style in `own_style`, and a key.
pub(in crate::report) fn floor_map(
    answer: &Answer,
    words: &Words,
    view: &View,
    plan: &FloorPlan,
    owners: &Owners,
    id: &str,
    own_style: Option<&Markup>,
) -> Markup {
    let site = answer.site;
    let sheet = Sheet::of(&plan.bounds);
    let (wide, high) = sheet.size();
    let foot = high + FOOT;
    let below = own_style.map_or(0.0, |_| key::height(view, wide));
    let floor = site.floors[plan.floor.index()].id.as_str();
    let told = told(answer, words, view);
    let mut taken = taken(plan, sheet, (wide, high));
    let spoken = spoken(site, words, view, plan, owners);
    html! {
        svg.map xmlns="http://www.w3.org/2000/svg" viewBox=(format!("0 0 {wide:.0} {:.0}", foot + below))
            style=(format!("max-width:{:.0}px;min-width:{:.0}px", wide * 1.3, wide * 0.75)) role="img" aria-labelledby={ (id) "-title " (id) "-desc" } {
            title id={ (id) "-title" } { (words.tell("map-title", &[("floor", floor.into())])) }
            desc id={ (id) "-desc" } { (spoken) }
            @if let Some(style) = own_style { (style) }
            (ground(site, plan, sheet))
            @for placed in &plan.places { (place(site, sheet, owners, &told, placed)) }
            @for climb in &plan.climbs {
                g { title { (site.ways[climb.way].id) }
                    polygon.plan-climb points=(sheet.points(&climb.square.0)) {}
                    (sign(climb_sign(site, climb.way), sheet.at(climb.square.centre()))) }
            }
            (names(site, sheet, plan, &mut taken))
            (scale::bar(words, site.us_units, wide / UNIT, (UNIT, foot - 8.0)))
            @if let Some(degrees) = site.north { (scale::north(words, degrees, (wide - 20.0, foot - 26.0))) }
            @if own_style.is_some() { (key::key(view, owners, wide, foot)) }
        }
    }
}

/// Room by room, who is there when.
fn told(answer: &Answer, words: &Words, view: &View) -> BTreeMap<RoomId, String> {
    let mut told: BTreeMap<RoomId, Vec<String>> = BTreeMap::new();
    for run in &view.runs {
        for stop in &run.stops {
            if let Some(room) = stop.room {
                let times = words.clocks(answer.calendar, stop.span);
                told.entry(room)
                    .or_default()
                    .push(format!("{times} {}: {}", run.name, stop.title));
            }
        }
    }
    told.into_iter()
        .map(|(room, each)| (room, each.join("; ")))
        .collect()
}

/// What the map shows, for those who hear it.
fn spoken(site: &Site, words: &Words, view: &View, plan: &FloorPlan, owners: &Owners) -> String {
    let mut rooms: BTreeMap<usize, Vec<&str>> = BTreeMap::new();
    for room in plan.places.iter().filter_map(|p| site.room_at(p.place)) {
        for run in owners.of_room(room) {
            rooms
                .entry(*run)
                .or_default()
                .push(&site.rooms[room.index()].id);
        }
    }
    let each = rooms.into_iter().map(|(run, rooms)| {
        let about = [
            ("name", view.runs[run].name.as_str().into()),
            ("rooms", rooms.join(", ").into()),
        ];
        words.tell("map-desc", &about)
    });
    each.collect::<Vec<_>>().join(" ")
}

/// One place, with its label if that is inside.
fn place(
    site: &Site,
    sheet: Sheet,
    owners: &Owners,
    told: &BTreeMap<RoomId, String>,
    placed: &Placed,
) -> Markup {
    let room = site.room_at(placed.place);
    let name = place_name(site, placed.place);
    let owner = room.and_then(|r| owners.of_room(r).first());
    let title = match room.and_then(|r| told.get(&r)) {
        Some(told) => format!("{name}: {told}"),
        None => name,
    };
    html! {
        g {
            title { (title) }
            @match &placed.drawn {
                Drawn::Box(quad) => (shape(sheet, quad, owner)),
                Drawn::HallFloor(quads) => @for quad in quads { (shape(sheet, quad, owner)) },
                Drawn::Mark(point) => (sign(Sign::Spot, sheet.at(*point))),
            }
            @if room.is_some_and(|r| is_wet(site, r)) { (wet(sheet, placed)) }
            @if let Some(label) = inner_label(site, sheet, owners, placed) { (label.draw("name")) }
            (closet_signs(site, sheet, placed))
        }
    }
}

/// A second, broken line inside the walls of a wet room.
fn wet(sheet: Sheet, placed: &Placed) -> Markup {
    let Drawn::Box(quad) = &placed.drawn else {
        return html! {};
    };
    let centre = quad.centre();
    let (w, h) = quad.room_inside();
    let inward = |p: &Point| Point {
        x: centre.x + (p.x - centre.x) * (1.0 - 0.5 / w.max(1.0)),
        y: centre.y + (p.y - centre.y) * (1.0 - 0.5 / h.max(1.0)),
    };
    let corners = quad.0.map(|p| inward(&p));
    html! { polygon.plan-wet points=(sheet.points(&corners)) {} }
}

/// The id of a room and the letters of who does it.
fn inner_label(site: &Site, sheet: Sheet, owners: &Owners, placed: &Placed) -> Option<Label> {
    let room = site.room_at(placed.place)?;
    let quad = placed.text_box()?;
    let (middle, there) = sheet.text_box(&quad);
    let mark = owners.marks_of_room(room);
    let id = site.rooms[room.index()].id.clone();
    let both: Vec<String> = [id.clone(), mark.clone()]
        .into_iter()
        .filter(|l| !l.is_empty())
        .collect();
    let label = fit(&both, middle, there, &SIZES)?;
    if label.lines.len() == both.len() {
        return Some(label);
    }
    // One line for both, then the letters alone: whose a room is matters more here than its id.
    let one = format!("{id} {mark}");
    let alone = [one, mark].into_iter().filter_map(|line| {
        let label = fit(std::slice::from_ref(&line), middle, there, &SIZES)?;
        (label.lines == [line]).then_some(label)
    });
    alone.into_iter().next().or(Some(label))
}

fn closet_signs(site: &Site, sheet: Sheet, placed: &Placed) -> Markup {
    let (Some(closet), Drawn::Box(quad)) = (site.closet_at(placed.place), &placed.drawn) else {
        return html! {};
    };
    let closet = &site.closets[closet.index()];
    let (x, y) = sheet.at(quad.centre());
    let both = closet.fill_point && closet.waste_point;
    let off = if both { 5.5 } else { 0.0 };
    html! {
        @if closet.fill_point { (sign(Sign::Water, (x - off, y))) }
        @if closet.waste_point { (sign(Sign::Waste, (x + off, y))) }
    }
}

/// Names of closets, stairs, lifts and other places, beside them; then those of halls that have no room of their own.
fn names(site: &Site, sheet: Sheet, plan: &FloorPlan, taken: &mut Taken) -> Markup {
    let mut labels = Vec::new();
    for climb in &plan.climbs {
        let name = &site.ways[climb.way].id;
        labels.extend(taken.beside(name, sheet.area(&climb.square), &BESIDE));
    }
    for placed in plan
        .places
        .iter()
        .filter(|p| site.room_at(p.place).is_none())
    {
        let name = &site.places[placed.place.index()].id;
        let area = match &placed.drawn {
            Drawn::Box(quad) => sheet.area(quad),
            _ => sign::area(sheet.at(placed.door)),
        };
        labels.extend(taken.beside(name, area, &BESIDE));
    }
    for (hall, line) in &plan.lines {
        let hall = &site.halls[hall.index()];
        let strips = strips(line, 0.0, f64::MAX);
        let longest = strips.iter().max_by(|a, b| {
            let length = |q: &Quad| q.room_inside().0.max(q.room_inside().1);
            length(a).total_cmp(&length(b))
        });
        let label = longest.and_then(|quad| {
            let (middle, there) = sheet.text_box(quad);
            fit(std::slice::from_ref(&hall.id), middle, there, &BESIDE)
        });
        let free = |label: &Label| taken.is_free(&label.area());
        labels.extend(label.filter(free));
    }
    html! { @for label in labels { (label.draw("beside")) } }
}
