//! The run cards: one person's shift on a sheet or two, to be carried along. They print on A4 and on Letter, in black and white as well.

mod card;
mod end;
mod kit;
mod stops;

use super::Answer;
use super::html::page::page;
use super::map::{FloorPlan, outlines, patterns};
use super::view::View;
use super::words::Words;
use maud::html;

/// The style of cards, on top of that of all pages.
const STYLE: &str = include_str!("cards.css");

/// All cards as a page; `large` prints them larger, on as many sheets as that takes.
pub fn cards(answer: &Answer, words: &Words, large: bool) -> String {
    let view = View::of(answer, words);
    let plans = FloorPlan::of_site(answer.site);
    let definitions = html! {
        (patterns(view.runs.len()))
        @for plan in &plans { (outlines(answer.site, plan)) }
    };
    let title = words.tell("cards-title", &[("title", view.title.as_str().into())]);
    let body = html! {
        header.top {
            h1 { bdi { (title) } }
            (warning(answer, words))
            nav.contents aria-label=(words.say("contents")) {
                @for (index, run) in view.runs.iter().enumerate() {
                    a href={ "#card-" (index) } { bdi { (run.name) } }
                }
            }
        }
        main {
            @for (index, run) in view.runs.iter().enumerate() {
                (card::card(answer, words, &view.title, &plans, index, run))
            }
        }
    };
    let class = if large { "cards large" } else { "cards" };
    page(words, &title, class, STYLE, &definitions, &body)
}

/// Cards of a plan that breaks a rule are not to be worked from.
fn warning(answer: &Answer, words: &Words) -> maud::Markup {
    html! {
        @if !answer.violations.is_empty() {
            p.verdict.broken role="alert" { strong { (words.say("not-sound")) } " " (words.say("not-sound-do")) }
        }
    }
}
