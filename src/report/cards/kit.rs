//! What to take along, by what it is for, each with a box to tick.

use crate::report::view::RunView;
use crate::report::words::Words;
use maud::{Markup, html};

/// The list; nothing if nothing is needed.
pub(super) fn kit(words: &Words, run: &RunView) -> Markup {
    html! {
        @if !run.kit.is_empty() {
            h3 { (words.say("kit-head")) }
            dl.kit {
                @for group in &run.kit {
                    div {
                        dt { (group.purpose) }
                        dd { @for thing in &group.things { span.tick { bdi { (thing) } } " " } }
                    }
                }
            }
        }
    }
}
