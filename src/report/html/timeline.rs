//! All runs side by side on one time axis, and below them when rooms are closed.

use super::axis::{self, Axis, BAR, NAME, Row, tenth};
use super::{closures, marks};
use crate::report::Answer;
use crate::report::cut::cut;
use crate::report::view::{RunView, StopView, View};
use crate::report::words::{Words, short};
use crate::units::{Seconds, Span};
use maud::{Markup, html};

/// The section with the timeline.
pub(super) fn section(answer: &Answer, words: &Words, view: &View) -> Markup {
    let axis = Axis::of(view);
    let rows: Vec<_> = view
        .runs
        .iter()
        .map(|run| row(answer, words, axis, run))
        .collect();
    html! {
        section.charts #timeline aria-labelledby="timeline-head" {
            h2 #timeline-head { (words.say("nav-timeline")) }
            p.small { (words.say("timeline-note")) }
            (marks::legend(words))
            (axis::panels(answer, words, axis, "runs", &words.say("timeline-runs"), &rows))
            (closures::closures(answer, words, axis, view))
        }
    }
}

fn row(answer: &Answer, words: &Words, axis: Axis, run: &RunView) -> Row {
    let (x, width) = axis.stretch(run.shift);
    Row {
        label: cut(&run.name, NAME),
        heading: false,
        marks: html! {
            rect.shift x=(x) y=(tenth(BAR.0)) width=(width) height=(tenth(BAR.1)) {
                title { (words.tell("shift-of", &[("name", run.name.as_str().into()), ("shift", words.clocks(answer.calendar, run.shift).into())])) }
            }
            @for stop in &run.stops { (way(words, axis, stop)) (mark(answer, words, axis, stop)) }
        },
    }
}

/// The walk to a stop as a thin line, and the wait after it as an empty box.
fn way(words: &Words, axis: Axis, stop: &StopView) -> Markup {
    let waited = stop.wait.as_ref().map_or(Seconds::ZERO, |w| w.time);
    let arrived = stop.span.from - waited;
    let middle = tenth(BAR.0 + BAR.1 / 2.0);
    let (x, width) = axis.stretch(Span {
        from: arrived,
        to: stop.span.from,
    });
    html! {
        @if let Some(walk) = &stop.walk {
            line.m-walk x1=(tenth(axis.x(arrived - walk.time))) x2=(tenth(axis.x(arrived))) y1=(middle) y2=(middle) {
                title { (words.tell("walk-to", &[("place", stop.place.as_str().into()), ("time", short(walk.time).into())])) }
            }
        }
        @if let Some(wait) = &stop.wait {
            rect.m-wait x=(x) y=(tenth(BAR.0 + 2.0)) width=(width) height=(tenth(BAR.1 - 4.0)) {
                title { (wait.words) }
            }
        }
    }
}

fn mark(answer: &Answer, words: &Words, axis: Axis, stop: &StopView) -> Markup {
    let (x, width) = axis.stretch(stop.span);
    html! {
        @if !stop.span.is_empty() {
            rect class=(marks::class(stop.sort)) x=(x) y=(tenth(BAR.0)) width=(width) height=(tenth(BAR.1)) {
                title { (words.clocks(answer.calendar, stop.span)) " " (stop.title) ", " (stop.place) }
            }
        }
    }
}
