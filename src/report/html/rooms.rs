//! Every room: who does it when, what is done there, and what is not.

use crate::plan::UndoneWork;
use crate::report::Answer;
use crate::report::map::Owners;
use crate::report::view::{View, floor_of, place_name};
use crate::report::words::Words;
use crate::site::{RoomId, Site};
use maud::{Markup, html};
use std::collections::{BTreeMap, BTreeSet};

/// What happens in a room.
#[derive(Default)]
struct Night {
    /// When, and what for.
    times: Vec<String>,
    done: Vec<String>,
    left: Vec<String>,
}

/// The section with the table of rooms.
pub(super) fn section(answer: &Answer, words: &Words, view: &View, owners: &Owners) -> Markup {
    let nights = nights(answer, words, view);
    let site = answer.site;
    let nothing = Night::default();
    html! {
        section #rooms aria-labelledby="rooms-head" {
            h2 #rooms-head { (words.say("rooms-head")) }
            div.scroll tabindex="0" role="region" aria-labelledby="rooms-head" {
                table.rooms {
                    thead { tr {
                        th scope="col" { (words.say("col-room")) }
                        th scope="col" { (words.say("col-floor")) }
                        th scope="col" { (words.say("col-who")) }
                        th scope="col" { (words.say("col-when")) }
                        th scope="col" { (words.say("col-done")) }
                        th scope="col" { (words.say("col-left")) }
                    } }
                    tbody {
                        @for room in (0..site.rooms.len()).map(RoomId::from) {
                            @let night = nights.get(&room).unwrap_or(&nothing);
                            (row(site, words, view, owners, room, night))
                        }
                    }
                }
            }
        }
    }
}

fn row(
    site: &Site,
    words: &Words,
    view: &View,
    owners: &Owners,
    room: RoomId,
    night: &Night,
) -> Markup {
    let place = site.place_of_room(room);
    let names = owners
        .of_room(room)
        .iter()
        .map(|run| view.runs[*run].name.as_str());
    let kind = &site.kinds[site.rooms[room.index()].kind.index()].id;
    let idle = night.done.is_empty() && night.left.is_empty() && night.times.is_empty();
    html! {
        tr {
            th scope="row" { bdi { (place_name(site, place)) } span.at { " " (words.known(kind)) } }
            td { (floor_of(site, place)) }
            td { bdi { (names.collect::<Vec<_>>().join(", ")) } }
            td.when { @for time in &night.times { div { (time) } } }
            td { @if idle { span.at { (words.say("not-due")) } } @else { bdi { (night.done.join(", ")) } } }
            td { bdi { (night.left.join(", ")) } }
        }
    }
}

fn nights(answer: &Answer, words: &Words, view: &View) -> BTreeMap<RoomId, Night> {
    let mut nights: BTreeMap<RoomId, Night> = BTreeMap::new();
    let mut seen = BTreeSet::new();
    let site = answer.site;
    for (run, shown) in answer.plan.runs.iter().zip(&view.runs) {
        for (stop, shown) in run.stops.iter().zip(&shown.stops) {
            let Some(room) = stop.what.room() else {
                continue;
            };
            let night = nights.entry(room).or_default();
            let times = words.clocks(answer.calendar, stop.span);
            night.times.push(format!("{times} {}", shown.title));
            let new = stop.what.tasks().iter().filter(|due| seen.insert(**due));
            night
                .done
                .extend(new.map(|due| words.known(&due.task(site).name)));
        }
    }
    for undone in &answer.plan.undone {
        if let UndoneWork::Task(due) = undone.what {
            let left = &mut nights.entry(due.room).or_default().left;
            left.push(words.known(&due.task(site).name));
        }
    }
    nights
}
