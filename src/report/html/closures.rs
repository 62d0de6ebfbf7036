//! On the timeline's axis: when each room is closed to its users, each once, and how many rooms of each closure group are open meanwhile.

use super::axis::{self, Axis, BAR, NAME, Row, tenth};
use crate::report::Answer;
use crate::report::cut::cut;
use crate::report::view::{Closed, GroupView, View};
use crate::report::words::Words;
use maud::{Markup, html};

/// The panels of groups and of closed rooms; nothing where there are none.
pub(super) fn closures(answer: &Answer, words: &Words, axis: Axis, view: &View) -> Markup {
    let groups: Vec<_> = view
        .groups
        .iter()
        .map(|group| group_row(answer, words, axis, group))
        .collect();
    let rooms: Vec<_> = view
        .closed
        .iter()
        .map(|closed| room_row(answer, words, axis, closed))
        .collect();
    html! {
        @if !groups.is_empty() {
            h3 { (words.say("groups-head")) }
            p.small { (words.say("groups-note")) }
            (axis::panels(answer, words, axis, "groups", &words.say("groups-head"), &groups))
        }
        @if !rooms.is_empty() {
            h3 { (words.say("closed-head")) }
            p.small { (words.say("closed-note")) }
            (axis::panels(answer, words, axis, "closed", &words.say("closed-head"), &rooms))
        }
    }
}

/// One group: a bar that is full where all its rooms are open, and hatched from above by as much as is closed.
fn group_row(answer: &Answer, words: &Words, axis: Axis, group: &GroupView) -> Row {
    let (x, width) = axis.stretch(axis.whole());
    let (top, high) = BAR;
    let level = |open: usize| top + high * (1.0 - open as f64 / group.rooms.max(1) as f64);
    let about = [
        ("name", group.name.as_str().into()),
        ("keep", group.keep_open.into()),
        ("rooms", group.rooms.into()),
        ("fewest", group.fewest().into()),
    ];
    let least = tenth(level(group.keep_open as usize));
    let shown = [("name", cut(&group.name, NAME).into())];
    let shown: Vec<_> = shown
        .into_iter()
        .chain(about[1..].iter().cloned())
        .collect();
    Row {
        label: words.tell("group-row", &shown),
        heading: false,
        marks: html! {
            rect.g-open x=(x) y=(tenth(top)) width=(width) height=(tenth(high)) {
                title { (words.tell("group-all", &about)) }
            }
            @for (span, open) in &group.open {
                @let (x, width) = axis.stretch(*span);
                rect.m-closed x=(x) y=(tenth(top)) width=(width) height=(tenth(level(*open) - top)) {
                    @let clocks = words.clocks(answer.calendar, *span);
                    title { (words.tell("group-open", &[("name", group.name.as_str().into()), ("open", (*open).into()),
                        ("rooms", group.rooms.into()), ("times", clocks.into())])) }
                }
            }
            line.g-least x1=(tenth(axis.x(axis.whole().from))) x2=(tenth(axis.x(axis.whole().to))) y1=(least) y2=(least) {}
        },
    }
}

/// One room: its times stand in the label, so that nothing depends on measuring the drawing.
fn room_row(answer: &Answer, words: &Words, axis: Axis, closed: &[Closed]) -> Row {
    let told = |c: &Closed| format!("{} {}", words.clocks(answer.calendar, c.span), c.by);
    let short = |c: &Closed| {
        let times = words.clocks(answer.calendar, c.span);
        format!("{times} {}", cut(&c.by, NAME / 2))
    };
    let times: Vec<_> = closed.iter().map(short).collect();
    let room = closed.first().map_or("", |c| c.room.as_str());
    Row {
        label: format!("{}: {}", cut(room, NAME), times.join("; ")),
        heading: false,
        marks: html! {
            @for one in closed {
                @let (x, width) = axis.stretch(one.span);
                rect.m-closed x=(x) y=(tenth(BAR.0)) width=(width) height=(tenth(BAR.1)) {
                    title { (one.room) ": " (told(one)) }
                }
            }
        },
    }
}
