//! The report: for the lead and the manager. Evenness first, then what is undone, the night on one time axis, the maps, every run, every
//! room, and what all of it rests on.

mod assumptions;
mod axis;
mod closures;
mod maps;
mod marks;
pub(super) mod page;
mod people;
mod rooms;
mod shares;
mod timeline;
mod undone;

pub(super) use people::{idle, new_day, walk};

use super::Answer;
use super::map::{FloorPlan, Owners, outlines, patterns};
use super::sheet::Sheet;
use super::view::View;
use super::words::Words;
use maud::{Markup, html};

/// The plan as a page.
pub fn html(answer: &Answer, words: &Words) -> String {
    with_sheets(answer, words, &[])
}

/// The plan as a page, with sheets of figures before it.
pub(super) fn with_sheets(answer: &Answer, words: &Words, sheets: &[Sheet]) -> String {
    let view = View::of(answer, words);
    let plans = FloorPlan::of_site(answer.site);
    let owners = Owners::of(answer, &view);
    let definitions = html! {
        (marks::patterns())
        (patterns(view.runs.len()))
        @for plan in &plans { (outlines(answer.site, plan)) }
    };
    let title = words.tell("report-title", &[("title", view.title.as_str().into())]);
    let body = html! {
        header.top {
            h1 { bdi { (view.title) } }
            (verdict(answer, words, &view))
            @if let Some(away) = view.away() { p { (words.say("away")) ": " bdi { (away) } } }
            (contents(words, &view, sheets))
        }
        main {
            @for sheet in sheets { (sheet.section()) }
            (shares::section(answer, words, &view))
            (undone::section(words, &view.undone))
            (timeline::section(answer, words, &view))
            (maps::section(answer, words, &view, &plans, &owners))
            (people::section(answer, words, &view, &plans))
            (rooms::section(answer, words, &view, &owners))
            (assumptions::section(answer, words))
        }
    };
    page::page(words, &title, "report", "", &definitions, &body)
}

/// Whether the plan can be worked from, and whether it does all there is to do: two things, both said at once.
fn verdict(answer: &Answer, words: &Words, view: &View) -> Markup {
    if !answer.violations.is_empty() {
        return html! {
            div.verdict.broken role="alert" {
                p { strong { (words.say("not-sound")) } " " (words.say("not-sound-do")) }
                ul { @for violation in answer.violations { li { (violation.rule) ": " bdi { (violation.message) } } } }
            }
        };
    }
    if view.undone.is_empty() {
        return html! { p.verdict { strong { (words.say("sound-all")) } " " (words.say("sound-rules")) } };
    }
    let time = view.undone_time().to_string();
    html! {
        p.verdict.partly {
            strong { (words.tell("sound-undone", &[("time", time.into())])) } " "
            a href="#undone" { (words.say("sound-undone-see")) } " " (words.say("sound-rules"))
        }
    }
}

fn contents(words: &Words, view: &View, sheets: &[Sheet]) -> Markup {
    let sections = [
        "evenness",
        "undone",
        "timeline",
        "maps",
        "people",
        "rooms",
        "assumptions",
    ];
    html! {
        nav.contents aria-label=(words.say("contents")) {
            @for sheet in sheets { a href={ "#" (sheet.id) } { (words.say(&format!("nav-{}", sheet.id))) } }
            @for section in sections { a href={ "#" (section) } { (words.say(&format!("nav-{section}"))) } }
        }
        @if !view.runs.is_empty() {
            nav.contents aria-label=(words.say("nav-people")) {
                @for (index, run) in view.runs.iter().enumerate() {
                    a href={ "#run-" (index) } { bdi { (run.name) } }
                }
            }
        }
    }
}
