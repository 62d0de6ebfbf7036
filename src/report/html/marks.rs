//! The marks of the timeline and their legend: every sort of time has its own pattern, so colour is never the only sign.

use crate::report::view::Sort;
use crate::report::words::Words;
use maud::{Markup, html};

/// The class of a sort of stop, which the style gives its pattern.
pub(super) fn class(sort: Sort) -> &'static str {
    match sort {
        Sort::Work => "m-work",
        Sort::Fill => "m-fill",
        Sort::Dump => "m-dump",
        Sort::Machine => "m-machine",
        Sort::SetUp => "m-setup",
        Sort::Break => "m-break",
    }
}

/// Every mark with the message of its meaning.
const LEGEND: [(&str, &str); 8] = [
    ("m-work", "mark-work"),
    ("m-walk", "mark-walk"),
    ("m-fill", "mark-fill"),
    ("m-dump", "mark-dump"),
    ("m-machine", "mark-machine"),
    ("m-setup", "mark-setup"),
    ("m-break", "mark-break"),
    ("m-wait", "mark-wait"),
];

/// The legend of the runs.
pub(super) fn legend(words: &Words) -> Markup {
    html! {
        ul.legend aria-label=(words.say("marks")) {
            @for (class, meaning) in LEGEND {
                li {
                    svg viewBox="0 0 28 14" width="28" height="14" aria-hidden="true" focusable="false" {
                        @if class == "m-walk" {
                            line class=(class) x1="1" x2="27" y1="7" y2="7" {}
                        } @else {
                            rect class=(class) x="1" y="1" width="26" height="12" {}
                        }
                    }
                    (words.say(meaning))
                }
            }
        }
    }
}

/// The patterns that the style refers to, once for the whole page.
pub(super) fn patterns() -> Markup {
    html! {
        (pattern("p-fill", "dots", &[]))
        (pattern("p-dump", "dump", &["M-1,7 L7,-1 M-1,1 L1,-1 M5,7 L7,5"]))
        (pattern("p-machine", "machine", &["M0,3 H6", "M3,0 V6"]))
        (pattern("p-break", "break", &["M3,0 V6"]))
        (pattern("p-closed", "closed", &["M-1,-1 L7,7 M-1,5 L1,7 M5,-1 L7,1"]))
    }
}

/// A six-unit tile: a ground, then dots or strokes.
fn pattern(id: &str, tone: &str, strokes: &[&str]) -> Markup {
    html! {
        pattern id=(id) width="6" height="6" patternUnits="userSpaceOnUse" {
            rect class={ "ground " (tone) } width="6" height="6" {}
            @if strokes.is_empty() {
                circle class={ "dot " (tone) } cx="3" cy="3" r="1.5" {}
            }
            @for stroke in strokes { path class={ "stroke " (tone) } d=(stroke) {} }
        }
    }
}
