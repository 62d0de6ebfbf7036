//! What the signs and fills of the maps mean, as a list beside them.

use super::owner::{self, Owners};
use super::sign::{Sign, sign};
use crate::report::view::View;
use crate::report::words::Words;
use maud::{Markup, html};

const SIGNS: [(Sign, &str); 5] = [
    (Sign::Water, "map-water"),
    (Sign::Waste, "map-waste"),
    (Sign::Stairs, "map-stairs"),
    (Sign::Lift, "map-lift"),
    (Sign::Spot, "map-spot"),
];

/// Who has which fill and letters, then the signs.
pub(in crate::report) fn legend(words: &Words, view: &View, owners: &Owners) -> Markup {
    html! {
        ul.legend aria-label=(words.say("map-who")) {
            @for (index, run) in view.runs.iter().enumerate() {
                li {
                    svg viewBox="0 0 28 14" width="28" height="14" aria-hidden="true" focusable="false" {
                        rect.plan-box x="1" y="1" width="26" height="12" fill=(owner::fill(index)) {}
                    }
                    strong { (owners.mark(index)) } " " bdi { (run.name) }
                }
            }
        }
        ul.legend aria-label=(words.say("map-signs")) {
            @for (which, id) in SIGNS {
                li {
                    svg viewBox="-8 -8 16 16" width="16" height="16" aria-hidden="true" focusable="false" { (sign(which, (0.0, 0.0))) }
                    (words.say(id))
                }
            }
            li {
                svg viewBox="0 0 28 14" width="28" height="14" aria-hidden="true" focusable="false" {
                    rect.plan-box x="1" y="1" width="26" height="12" {}
                    rect.plan-wet x="3.5" y="3.5" width="21" height="7" {}
                }
                (words.say("map-wet"))
            }
            li {
                svg viewBox="0 0 28 14" width="28" height="14" aria-hidden="true" focusable="false" {
                    line.plan-route x1="1" x2="27" y1="7" y2="7" {}
                }
                (words.say("map-route"))
            }
        }
    }
}
