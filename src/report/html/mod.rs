//! The page: one self-contained file that needs no network and no script, and prints as one card per person.
//!
//! `maud` escapes every text by type; the only thing put in unescaped is the page's own style, a constant.

mod assumptions;
mod axis;
mod cards;
mod closures;
mod marks;
mod shares;
mod timeline;
mod undone;

use super::Answer;
use super::view::View;
use maud::{DOCTYPE, Markup, PreEscaped, html};

/// The page's own style.
const STYLE: &str = include_str!("page.css");

/// The plan as a page.
pub fn html(answer: &Answer) -> String {
    let view = View::of(answer);
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { "Runs: " (view.title) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                (marks::patterns())
                (body(answer, &view))
            }
        }
    };
    page.into_string()
}

fn body(answer: &Answer, view: &View) -> Markup {
    html! {
        header.top {
            h1 { bdi { (view.title) } }
            (soundness(answer))
            @if let Some(away) = view.away() { p { "Away: " bdi { (away) } } }
            (contents(view))
        }
        main {
            (shares::section(answer, view))
            (undone::section(&view.undone))
            (timeline::section(answer, view))
            (cards::section(answer, view))
            (assumptions::section(answer))
        }
    }
}

fn soundness(answer: &Answer) -> Markup {
    if answer.violations.is_empty() {
        return html! { p.verdict { strong { "Sound." } " Every rule is kept." } };
    }
    html! {
        div.verdict.broken role="alert" {
            p { strong { "Not sound." } " Do not work from these sheets before this is put right:" }
            ul { @for violation in answer.violations { li { (violation.rule) ": " bdi { (violation.message) } } } }
        }
    }
}

fn contents(view: &View) -> Markup {
    html! {
        nav.contents aria-label="On this page" {
            a href="#evenness" { "Evenness" }
            a href="#undone" { "Undone" }
            a href="#timeline" { "Timeline" }
            @for (index, run) in view.runs.iter().enumerate() {
                a href={ "#run-" (index) } { bdi { (run.name) } }
            }
            a href="#assumptions" { "Assumptions" }
        }
    }
}
