//! Evenness: each person's share as a bar, the proven bound as a line through all of them, and what that means.
//!
//! One table serves as chart and as data, so it reads aloud, prints, and fits a phone.

use crate::plan::Certificate;
use crate::report::Answer;
use crate::report::view::{RunFigures, View, words};
use crate::units::Seconds;
use maud::{Markup, html};

/// Width of the drawing's own units.
const WIDTH: f64 = 1000.0;

/// The section on evenness.
pub(super) fn section(answer: &Answer, view: &View) -> Markup {
    html! {
        section #evenness aria-labelledby="evenness-head" {
            h2 #evenness-head { "How evenly the work is shared" }
            p.lead { bdi { (view.evenness.sentence) } }
            dl.measures {
                @for (name, value) in view.evenness.measures.iter().chain(&view.evenness.proof) {
                    div { dt { (name) } dd { (value) } }
                }
            }
            (chart(answer, view))
            @if !answer.facts.certificate.is_empty() { (certificate(&answer.facts.certificate)) }
        }
    }
}

fn certificate(parts: &[Certificate]) -> Markup {
    html! {
        details {
            summary { "What the bound is made of" }
            table {
                thead { tr { th scope="col" { "What no plan can do without" } th.number scope="col" { "Minutes" } } }
                tbody {
                    @for part in parts {
                        tr { th scope="row" { (part.what) } td.number { (format!("{:.1}", part.minutes)) } }
                    }
                }
            }
        }
    }
}

fn chart(answer: &Answer, view: &View) -> Markup {
    let most = view
        .figures
        .iter()
        .map(|f| f.share)
        .filter(|s| s.is_finite())
        .fold(1.0, f64::max);
    html! {
        table.shares {
            caption {
                "Share: busy time of available time (shift less breaks and reserve)."
                @if let Some(bound) = answer.facts.bound {
                    " The broken line is the proven bound, " (words::percent(bound)) ": no plan could bring the longest below it."
                }
            }
            thead { tr {
                th scope="col" { "Worker" }
                th.number scope="col" { "Share" }
                th.bar scope="col" { "0 to " (format!("{:.0} %", most * 100.0)) }
                th.number scope="col" { "Load" }
                th.number.wide scope="col" { "Work" }
                th.number.wide scope="col" { "Walk" }
                th.number.wide scope="col" { "Fill" }
                th.number.wide scope="col" { "Wait" }
                th.wide scope="col" { "Floors" }
            } }
            tbody {
                @for (run, figures) in view.each() {
                    tr {
                        th scope="row" { bdi { (run.name) } }
                        td.number { (words::percent(figures.share)) }
                        td.bar { (bar(figures, answer.facts.bound, most)) }
                        td.number { (figures.load) }
                        td.number.wide { (minutes(figures.work)) }
                        td.number.wide { (minutes(figures.walk)) }
                        td.number.wide { (minutes(figures.fill)) }
                        td.number.wide { (minutes(figures.wait)) }
                        td.wide { (run.floors.join(", ")) }
                    }
                }
            }
        }
        p.small.wide { "Work (with getting ready and putting away), walk, fill (with emptying and machines) and wait in minutes. \
            Waiting between stops is not load." }
    }
}

fn minutes(time: Seconds) -> String {
    format!("{:.0}", time.as_minutes())
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
