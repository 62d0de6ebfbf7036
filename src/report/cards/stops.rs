//! The stops of a card in order: when, where, what, what is there, what to mind, with a box to tick and the way there folded.

use crate::report::Answer;
use crate::report::html::{new_day, walk};
use crate::report::view::{RunView, StopView};
use crate::report::words::Words;
use maud::{Markup, html};

/// Lists of tasks longer than this are not said again; letters.
const SAID_ONCE: usize = 60;

/// The table of stops.
pub(super) fn stops(answer: &Answer, words: &Words, run: &RunView) -> Markup {
    let caption = words.tell("stops-of", &[("name", run.name.as_str().into())]);
    html! {
        table.stops {
            caption.hidden { (caption) }
            thead { tr {
                th.count scope="col" { (words.say("col-number")) }
                th scope="col" { (words.say("col-time")) }
                th scope="col" { (words.say("col-where-what")) span.paper aria-hidden="true" { bdi { (run.name) } } }
            } }
            tbody {
                @for (index, stop) in run.stops.iter().enumerate() {
                    @if let Some(day) = new_day(answer, words, run, index) {
                        tr.day { th scope="colgroup" colspan="3" { (day) } }
                    }
                    (row(answer, words, run, index, stop))
                }
            }
        }
    }
}

fn row(answer: &Answer, words: &Words, run: &RunView, index: usize, stop: &StopView) -> Markup {
    let before = index.checked_sub(1).map(|i| &run.stops[i]);
    let other_floor = before.is_none_or(|b| b.floor != stop.floor);
    html! {
        tr.rest[stop.tasks.is_empty()] {
            td.count { (stop.number) }
            th.time scope="row" { (words.clocks(answer.calendar, stop.span)) }
            td {
                strong { bdi { (stop.place) } } " "
                @if other_floor { strong.to-floor { (words.tell("on-floor", &[("floor", stop.floor.as_str().into())])) } ", " }
                span.at { (stop.spot) }
                (walk(words, stop))
                @if let Some(wait) = &stop.wait { p.wait { (wait.words) } }
                div.do {
                    strong { bdi { (stop.title) } }
                    @if !stop.tasks.is_empty() { ": " bdi { (work(words, &run.stops[..index], stop)) } "." }
                    @if !stop.contents.is_empty() { " " span.at { "[" (stop.contents.join(", ")) "]" } }
                    @if !stop.notes.is_empty() {
                        ul.notes { @for note in &stop.notes { li { (note) } } }
                    }
                }
            }
        }
    }
}

/// What is due at a stop; "as at 2" where that is the same long list.
fn work(words: &Words, before: &[StopView], stop: &StopView) -> String {
    let tasks = stop.tasks.join(", ");
    let same = |earlier: &&StopView| earlier.title == stop.title && earlier.tasks == stop.tasks;
    let said = before.iter().find(same);
    match said.filter(|_| tasks.len() > SAID_ONCE) {
        Some(earlier) => words.tell("as-at", &[("number", earlier.number.into())]),
        None => tasks,
    }
}
