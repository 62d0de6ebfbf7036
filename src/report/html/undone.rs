//! What is left undone, most important first, and why.

use crate::report::view::UndoneGroup;
use crate::report::words::Words;
use maud::{Markup, html};

/// The section on undone work.
pub(super) fn section(words: &Words, groups: &[UndoneGroup]) -> Markup {
    html! {
        section #undone aria-labelledby="undone-head" {
            h2 #undone-head { (words.say("nav-undone")) }
            @if groups.is_empty() {
                p { (words.say("undone-nothing")) }
            } @else {
                @for group in groups { (one(words, group)) }
            }
        }
    }
}

fn one(words: &Words, group: &UndoneGroup) -> Markup {
    html! {
        table.undone {
            caption {
                strong { (group.priority) } ", " (words.count("n-places", group.places.len())) ", " (group.time) ": "
                bdi { (group.reason) }
            }
            thead { tr { th scope="col" { (words.say("col-place")) } th scope="col" { (words.say("col-left")) } } }
            tbody {
                @for (place, tasks) in &group.places {
                    tr { th scope="row" { bdi { (place) } } td { bdi { (tasks.join(", ")) } } }
                }
            }
        }
    }
}
