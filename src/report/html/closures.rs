//! When rooms are closed to their users, by closure group, on the timeline's axis.

use super::axis::{self, Axis, BAR, Row, tenth};
use crate::report::Answer;
use crate::report::view::{Closed, ClosedGroup, words};
use maud::{Markup, html};

/// The panels of closed rooms; nothing if no room is closed.
pub(super) fn closures(answer: &Answer, axis: Axis, groups: &[ClosedGroup]) -> Markup {
    let rows: Vec<_> = groups
        .iter()
        .flat_map(|group| rows(answer, axis, group))
        .collect();
    html! {
        @if !rows.is_empty() {
            h3 { "Rooms closed while they are cleaned" }
            p.small { "Hatched: closed, from the first stop of a visit until it is open again." }
            (axis::panels(answer, axis, "closed", "Closed rooms, hour by hour", &rows))
        }
    }
}

fn rows(answer: &Answer, axis: Axis, group: &ClosedGroup) -> Vec<Row> {
    let heading = Row {
        label: group.name.clone(),
        heading: true,
        marks: html! {},
    };
    let rooms = group.rows.iter().map(|closed| row(answer, axis, closed));
    std::iter::once(heading).chain(rooms).collect()
}

/// One room: its times stand in the label, so that nothing depends on measuring the drawing.
fn row(answer: &Answer, axis: Axis, closed: &[Closed]) -> Row {
    let told = |c: &Closed| format!("{} {}", words::clocks(answer.calendar, c.span), c.by);
    let times: Vec<_> = closed.iter().map(told).collect();
    let room = closed.first().map_or("", |c| c.room.as_str());
    Row {
        label: format!("{room}: {}", times.join("; ")),
        heading: false,
        marks: html! {
            @for one in closed {
                @let (x, width) = axis.stretch(one.span);
                rect.m-closed x=(x) y=(tenth(BAR.0)) width=(width) height=(tenth(BAR.1)) {
                    title { (one.room) " closed " (told(one)) }
                }
            }
        },
    }
}
