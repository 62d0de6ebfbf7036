//! What stands at the end of a card: room to note defects, and the cautions that its work calls for.

use crate::report::view::RunView;
use crate::report::words::Words;
use maud::{Markup, html};

/// Lines to write on.
const LINES: usize = 3;

/// Defects and cautions.
pub(super) fn end(words: &Words, run: &RunView) -> Markup {
    html! {
        div.defects {
            h3 { (words.say("defects-head")) }
            p.small { (words.say("defects-note")) }
            @for _ in 0..LINES { div.write-on {} }
        }
        (cautions(words, run))
    }
}

fn cautions(words: &Words, run: &RunView) -> Markup {
    html! {
        aside.cautions aria-label=(words.tell("mind-of", &[("name", run.name.as_str().into())])) {
            // They may stand on a sheet of their own, which then says whose it is.
            h3 { (words.say("mind-head")) span.paper aria-hidden="true" { bdi { (run.name) } } }
            ul {
                @for caution in &run.cautions {
                    @let (about, what) = caution.messages();
                    li { strong { (words.say(about)) ": " } (words.say(what)) }
                }
            }
        }
    }
}
