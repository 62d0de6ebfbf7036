//! Evenness: each person's share as a bar, the proven bound as a line through all of them, and what that means.
//!
//! One table serves as chart and as data, so it reads aloud, prints, and fits a phone.

use crate::plan::Certificate;
use crate::report::Answer;
use crate::report::view::{RunFigures, View};
use crate::report::words::Words;
use maud::{Markup, html};

/// Width of the drawing's own units.
const WIDTH: f64 = 1000.0;

/// The section on evenness.
pub(super) fn section(answer: &Answer, words: &Words, view: &View) -> Markup {
    html! {
        section #evenness aria-labelledby="evenness-head" {
            h2 #evenness-head { (words.say("evenness-head")) }
            p.lead { bdi { (view.evenness.lead) } }
            (chart(answer, words, view))
            p { bdi { (view.evenness.sentence) } }
            dl.measures {
                @for (name, value) in view.evenness.measures.iter().chain(&view.evenness.proof) {
                    div { dt { (name) } dd { (value) } }
                }
            }
            @if !answer.facts.certificate.is_empty() { (certificate(words, &answer.facts.certificate)) }
        }
    }
}

fn certificate(words: &Words, parts: &[Certificate]) -> Markup {
    html! {
        details {
            summary { (words.say("bound-made-of")) }
            table {
                thead { tr { th scope="col" { (words.say("bound-part")) } th.number scope="col" { (words.say("col-minutes")) } } }
                tbody {
                    @for part in parts {
                        tr { th scope="row" { (words.known(&part.what)) } td.number { (words.number(part.minutes, 1)) } }
                    }
                }
            }
        }
    }
}

fn chart(answer: &Answer, words: &Words, view: &View) -> Markup {
    let most = view
        .figures
        .iter()
        .map(|f| f.share)
        .filter(|s| s.is_finite())
        .fold(1.0, f64::max);
    let bound = answer.facts.bound;
    let narrow = ["col-work", "col-walk", "col-fill", "col-wait"];
    html! {
        table.shares {
            caption {
                (words.say("share-is"))
                @if let Some(bound) = bound {
                    " " (words.tell("share-bound", &[("bound", words.percent(bound).into())]))
                }
            }
            thead { tr {
                th scope="col" { (words.say("col-worker")) }
                th.number scope="col" { (words.say("col-share")) }
                th.bar scope="col" { (words.tell("col-bar", &[("most", format!("{:.0} %", most * 100.0).into())])) }
                th.number scope="col" { (words.say("col-load")) }
                @for id in narrow { th.number.wide scope="col" { (words.say(id)) } }
                th.wide scope="col" { (words.say("col-floors")) }
            } }
            tbody {
                @for (run, figures) in view.each() {
                    tr {
                        th scope="row" { bdi { (run.name) } }
                        td.number { (words.percent(figures.share)) }
                        td.bar { (bar(figures, bound, most)) }
                        td.number { (figures.load) }
                        @for time in [figures.work, figures.walk, figures.fill, figures.wait] {
                            td.number.wide { (words.minutes(time)) }
                        }
                        td.wide { (run.floors.join(", ")) }
                    }
                }
            }
        }
        p.small.wide { (words.say("share-columns")) }
    }
}

/// Only a picture of the number beside it, so it is hidden from screen readers.
fn bar(figures: &RunFigures, bound: Option<f64>, most: f64) -> Markup {
    let x = |share: f64| format!("{:.1}", share.max(0.0).min(most) / most * WIDTH);
    html! {
        svg viewBox={ "0 0 " (WIDTH) " 30" } preserveAspectRatio="none" aria-hidden="true" focusable="false" {
            rect.track x="0" y="5" width=(WIDTH) height="20" {}
            rect.share x="0" y="5" width=(x(figures.share)) height="20" {}
            @if let Some(bound) = bound {
                line.bound x1=(x(bound)) x2=(x(bound)) y1="0" y2="30" {}
            }
        }
    }
}
