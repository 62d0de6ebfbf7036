//! One card: whose and when, what to take along, the maps, the stops, and what stands at its end.

use super::{end, kit, stops};
use crate::report::Answer;
use crate::report::html::idle;
use crate::report::map::{FloorPlan, run_map};
use crate::report::view::{RunView, Sort, run_clocks};
use crate::report::words::Words;
use maud::{Markup, html};

/// A card. What it warns of comes before anything to do.
pub(super) fn card(
    answer: &Answer,
    words: &Words,
    title: &str,
    plans: &[FloorPlan],
    index: usize,
    run: &RunView,
) -> Markup {
    let head = format!("card-{index}-head");
    html! {
        section.card id={ "card-" (index) } aria-labelledby=(head) {
            div.head {
                h2 id=(head) { bdi { (run.name) } }
                p { bdi { (title) } }
            }
            @if !answer.violations.is_empty() { p.stamp { (words.say("not-sound")) } }
            @if run.stops.is_empty() {
                p { (idle(answer, words, run)) }
            } @else {
                (facts(answer, words, run))
                (kit::kit(words, run))
                (maps(answer, words, plans, index, run))
                (stops::stops(answer, words, run))
                (end::end(words, run))
            }
        }
    }
}

fn facts(answer: &Answer, words: &Words, run: &RunView) -> Markup {
    let named = [
        ("fact-shift", words.clocks(answer.calendar, run.shift)),
        ("fact-run", run_clocks(answer, words, run)),
        ("fact-start", run.start.clone()),
        ("fact-going", run.moves.clone()),
        ("fact-floors", run.floors.join(", ")),
        ("fact-breaks", breaks(answer, words, run)),
    ];
    html! {
        dl.facts {
            @for (name, value) in named.iter().filter(|(_, value)| !value.is_empty()) {
                div { dt { (words.say(name)) } dd { bdi { (value) } } }
            }
        }
    }
}

/// When and where each break is.
fn breaks(answer: &Answer, words: &Words, run: &RunView) -> String {
    let breaks = run.stops.iter().filter(|s| s.sort == Sort::Break);
    let told = breaks.map(|s| format!("{} {}", words.clocks(answer.calendar, s.span), s.place));
    told.collect::<Vec<_>>().join("; ")
}

/// A strip of map for each floor worked on, with the numbers of the stops.
fn maps(
    answer: &Answer,
    words: &Words,
    plans: &[FloorPlan],
    index: usize,
    run: &RunView,
) -> Markup {
    html! {
        div.strips {
            @for (number, plan) in plans.iter().enumerate() {
                @let id = format!("card-{index}-map-{number}");
                @if run.floor_ids.contains(&plan.floor()) && let Some(map) = run_map(answer, words, plan, run, index, &id, None) {
                    @let floor = answer.site.floors[plan.floor().index()].id.as_str();
                    div.floor { p.small { (words.tell("floor-head", &[("floor", floor.into())])) } (map) }
                }
            }
        }
    }
}
