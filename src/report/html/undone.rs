//! What is left undone, most important first, and why.

use crate::report::view::{UndoneGroup, words};
use maud::{Markup, html};

/// The section on undone work.
pub(super) fn section(groups: &[UndoneGroup]) -> Markup {
    html! {
        section #undone aria-labelledby="undone-head" {
            h2 #undone-head { "Undone" }
            @if groups.is_empty() {
                p { "Nothing: all work due is in a run." }
            } @else {
                @for group in groups { (one(group)) }
            }
        }
    }
}

fn one(group: &UndoneGroup) -> Markup {
    html! {
        table.undone {
            caption {
                strong { (group.priority) } ", " (words::count(group.places.len(), "place", "places")) ", " (group.time) ": "
                bdi { (group.reason) }
            }
            thead { tr { th scope="col" { "Place" } th scope="col" { "Left undone" } } }
            tbody {
                @for (place, tasks) in &group.places {
                    tr { th scope="row" { bdi { (place) } } td { bdi { (tasks.join(", ")) } } }
                }
            }
        }
    }
}
