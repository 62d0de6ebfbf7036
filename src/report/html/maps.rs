//! The floors, lowest first: who does which rooms.

use crate::report::Answer;
use crate::report::map::{FloorPlan, Owners, floor_map, legend};
use crate::report::view::View;
use crate::report::words::Words;
use maud::{Markup, html};

/// The section with the maps of all floors.
pub(super) fn section(
    answer: &Answer,
    words: &Words,
    view: &View,
    plans: &[FloorPlan],
    owners: &Owners,
) -> Markup {
    html! {
        section.maps #maps aria-labelledby="maps-head" {
            h2 #maps-head { (words.say("maps-head")) }
            p.small { (words.say("map-schematic")) }
            @if plans.iter().any(|p| !p.is_drawn()) { p.small { (words.say("map-laid-out")) } }
            (legend(words, view, owners))
            @for (index, plan) in plans.iter().enumerate() {
                @let floor = answer.site.floors[plan.floor().index()].id.as_str();
                div.floor {
                    h3 id={ "floor-" (index) "-head" } { (words.tell("floor-head", &[("floor", floor.into())])) }
                    div.scroll tabindex="0" role="region" aria-labelledby={ "floor-" (index) "-head" } {
                        (floor_map(answer, words, view, plan, owners, &format!("floor-{index}"), None))
                    }
                }
            }
        }
    }
}
