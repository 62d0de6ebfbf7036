//! All runs side by side on one time axis, and below them when rooms are closed.

use super::axis::{self, Axis, BAR, Row, tenth};
use super::{closures, marks};
use crate::report::Answer;
use crate::report::view::{RunView, StopView, View, words};
use crate::units::Span;
use maud::{Markup, html};

/// The section with the timeline.
pub(super) fn section(answer: &Answer, view: &View) -> Markup {
    let axis = Axis::of(view);
    let rows: Vec<_> = view.runs.iter().map(|run| row(answer, axis, run)).collect();
    html! {
        section.charts #timeline aria-labelledby="timeline-head" {
            h2 #timeline-head { "Timeline" }
            (marks::legend())
            (axis::panels(answer, axis, "runs", "All runs, hour by hour", &rows))
            (closures::closures(answer, axis, &view.closures))
        }
    }
}

fn row(answer: &Answer, axis: Axis, run: &RunView) -> Row {
    let (x, width) = axis.stretch(run.shift);
    Row {
        label: run.name.clone(),
        heading: false,
        marks: html! {
            rect.shift x=(x) y=(tenth(BAR.0)) width=(width) height=(tenth(BAR.1)) {
                title { "Shift of " (run.name) ", " (words::clocks(answer.calendar, run.shift)) }
            }
            @for stop in &run.stops { (way(axis, stop)) (mark(answer, axis, stop)) }
        },
    }
}

/// The walk to a stop as a thin line, and the wait after it as an empty box.
fn way(axis: Axis, stop: &StopView) -> Markup {
    let arrived = stop.span.from - stop.wait;
    let middle = tenth(BAR.0 + BAR.1 / 2.0);
    let (x, width) = axis.stretch(Span {
        from: arrived,
        to: stop.span.from,
    });
    html! {
        @if let Some(walk) = &stop.walk {
            line.m-walk x1=(tenth(axis.x(arrived - walk.time))) x2=(tenth(axis.x(arrived))) y1=(middle) y2=(middle) {
                title { "Walk to " (stop.place) ", " (words::short(walk.time)) }
            }
        }
        @if stop.wait.0 > 0 {
            rect.m-wait x=(x) y=(tenth(BAR.0 + 2.0)) width=(width) height=(tenth(BAR.1 - 4.0)) {
                title { "Wait, " (words::short(stop.wait)) }
            }
        }
    }
}

fn mark(answer: &Answer, axis: Axis, stop: &StopView) -> Markup {
    let (x, width) = axis.stretch(stop.span);
    html! {
        @if !stop.span.is_empty() {
            rect class=(marks::class(stop.sort)) x=(x) y=(tenth(BAR.0)) width=(width) height=(tenth(BAR.1)) {
                title { (words::clocks(answer.calendar, stop.span)) " " (stop.title) ", " (stop.place) }
            }
        }
    }
}
