//! The time axis that all panels of the timeline share, and the frame of a panel.

use crate::report::Answer;
use crate::report::view::View;
use crate::report::words::Words;
use crate::units::{Clock, Seconds, Span};
use maud::{Markup, html};

/// Width of a panel in its own units.
const WIDTH: f64 = 1200.0;
/// Free space on either side, so that the outer hours' labels fit.
const MARGIN: f64 = 34.0;
/// Height of the hours' labels.
const HEAD: f64 = 22.0;
/// Height of a row: its label, then its bar.
const ROW: f64 = 36.0;
/// Height of a heading, which has no bar.
const HEADING: f64 = 22.0;
/// Where in a row the bar begins, and how high it is.
pub(super) const BAR: (f64, f64) = (17.0, 14.0);
/// Most rows of one panel: what a landscape page holds.
const ROWS: usize = 16;
/// Most labelled hours; with more, only every second, third ... has one.
const LABELS: i64 = 16;
/// An hour.
const HOUR: i64 = 3600;

/// From the first hour to the last.
#[derive(Clone, Copy, Debug)]
pub(super) struct Axis {
    from: i64,
    to: i64,
}

impl Axis {
    /// An axis that holds every shift and every stop.
    pub(super) fn of(view: &View) -> Axis {
        let spans = view
            .runs
            .iter()
            .flat_map(|r| [Some(r.shift), r.span])
            .flatten();
        let (from, to) = spans.fold((i64::MAX, i64::MIN), |(from, to), s| {
            (from.min(s.from.0), to.max(s.to.0))
        });
        if from >= to {
            return Axis { from: 0, to: HOUR };
        }
        Axis {
            from: from.div_euclid(HOUR) * HOUR,
            to: (to + HOUR - 1).div_euclid(HOUR) * HOUR,
        }
    }

    /// Where a moment is.
    pub(super) fn x(self, moment: Clock) -> f64 {
        let part = (moment.0 - self.from) as f64 / (self.to - self.from) as f64;
        MARGIN + part * (WIDTH - 2.0 * MARGIN)
    }

    /// From its first moment to its last.
    pub(super) fn whole(self) -> Span {
        Span::new(Clock(self.from), Clock(self.to))
    }

    /// Left edge and width of a stretch of time.
    pub(super) fn stretch(self, span: Span) -> (String, String) {
        let left = self.x(span.from);
        (tenth(left), tenth((self.x(span.to) - left).max(0.5)))
    }

    fn hours(self) -> impl Iterator<Item = (Clock, bool)> {
        let hours = (self.to - self.from) / HOUR;
        let every = (hours / LABELS + 1).max(1);
        (0..=hours).map(move |h| (Clock(self.from) + Seconds(h * HOUR), h % every == 0))
    }
}

/// A length in the drawing, to a tenth.
pub(super) fn tenth(length: f64) -> String {
    format!("{length:.1}")
}

/// Longest name in a row's label; the title of the mark has all of it.
pub(super) const NAME: usize = 44;

/// A row of a panel: a label, and marks drawn from the row's own top.
pub(super) struct Row {
    /// What is written above the bar.
    pub(super) label: String,
    /// Whether it is a heading for the rows below it.
    pub(super) heading: bool,
    /// What is drawn.
    pub(super) marks: Markup,
}

impl Row {
    fn height(&self) -> f64 {
        if self.heading { HEADING } else { ROW }
    }
}

/// Panels of at most a page's rows each, named one by one for screen readers.
pub(super) fn panels(
    answer: &Answer,
    words: &Words,
    axis: Axis,
    id: &str,
    title: &str,
    rows: &[Row],
) -> Markup {
    html! {
        @for (index, part) in rows.chunks(ROWS).enumerate() {
            div.scroll tabindex="0" role="region" aria-label={ (title) " " (index + 1) } {
                (panel(answer, words, axis, &format!("{id}-{index}"), title, part))
            }
        }
    }
}

fn panel(
    answer: &Answer,
    words: &Words,
    axis: Axis,
    id: &str,
    title: &str,
    rows: &[Row],
) -> Markup {
    let height = HEAD + rows.iter().map(Row::height).sum::<f64>();
    let named: Vec<_> = rows.iter().map(|r| r.label.as_str()).collect();
    html! {
        svg.panel viewBox={ "0 0 " (WIDTH) " " (tenth(height)) } role="img" aria-labelledby={ (id) "-title " (id) "-desc" } {
            title id={ (id) "-title" } { (title) }
            desc id={ (id) "-desc" } { (named.join("; ")) ". " (words.say("panel-also")) }
            (hours(answer, words, axis, height))
            @for (row, top) in rows.iter().zip(tops(rows)) {
                g transform={ "translate(0 " (tenth(top)) ")" } {
                    text.label.heading[row.heading] x=(tenth(MARGIN)) y="12" { (row.label) }
                    (row.marks)
                }
            }
        }
    }
}

fn hours(answer: &Answer, words: &Words, axis: Axis, height: f64) -> Markup {
    html! {
        @for (hour, labelled) in axis.hours() {
            @let x = tenth(axis.x(hour));
            line.hour x1=(x) x2=(x) y1=(tenth(HEAD - 4.0)) y2=(tenth(height)) {}
            @if labelled {
                text.hour x=(x) y="13" text-anchor="middle" { (words.clock(answer.calendar, hour)) }
            }
        }
    }
}

/// Where each row begins.
fn tops(rows: &[Row]) -> impl Iterator<Item = f64> {
    rows.iter().scan(HEAD, |next, row| {
        let top = *next;
        *next += row.height();
        Some(top)
    })
}
