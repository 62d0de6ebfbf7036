//! Each run as a card: what to take along, the stops in order, the cautions. On paper each begins a page.

use crate::report::Answer;
use crate::report::view::{RunFigures, RunView, StopView, View, run_clocks, words};
use maud::{Markup, html};

/// All cards.
pub(super) fn section(answer: &Answer, view: &View) -> Markup {
    html! {
        @for (index, (run, figures)) in view.each().enumerate() {
            (card(answer, view, index, run, figures))
        }
    }
}

fn card(answer: &Answer, view: &View, index: usize, run: &RunView, figures: &RunFigures) -> Markup {
    let head = format!("run-{index}-head");
    html! {
        section.run id={ "run-" (index) } aria-labelledby=(head) {
            h2 id=(head) { bdi { (run.name) } }
            p.small { bdi { (view.title) } }
            @if run.stops.is_empty() {
                p { "No stops in this shift (" (words::clocks(answer.calendar, run.shift)) ")." }
            } @else {
                (facts(answer, run, figures))
                (stops(answer, run))
                (cautions(run))
            }
        }
    }
}

fn facts(answer: &Answer, run: &RunView, figures: &RunFigures) -> Markup {
    let shift = words::clocks(answer.calendar, run.shift);
    let share = format!(
        "{} ({} of {})",
        words::percent(figures.share),
        figures.load,
        figures.available
    );
    let named = [
        ("shift", shift),
        ("run", run_clocks(answer, run)),
        ("share", share),
        ("going", run.moves.to_string()),
        ("floors", run.floors.join(", ")),
        ("keys", run.keys.join(", ")),
        ("take along", run.supplies.join(", ")),
    ];
    html! {
        dl.facts {
            @for (name, value) in named.iter().filter(|(_, value)| !value.is_empty()) {
                div { dt { (name) } dd { bdi { (value) } } }
            }
        }
    }
}

fn stops(answer: &Answer, run: &RunView) -> Markup {
    html! {
        table.stops {
            caption.hidden { "Stops of " (run.name) " in order" }
            thead { tr {
                th scope="col" { "Time" }
                th scope="col" { "Where" }
                th scope="col" { "What" span.paper aria-hidden="true" { bdi { (run.name) } } }
            } }
            tbody {
                @for (index, stop) in run.stops.iter().enumerate() {
                    @if let Some(day) = new_day(answer, run, index) {
                        tr.day { th scope="colgroup" colspan="3" { (day) } }
                    }
                    (row(answer, stop))
                }
            }
        }
    }
}

/// The date, before the first stop that begins on another day than the one before it.
fn new_day(answer: &Answer, run: &RunView, index: usize) -> Option<String> {
    let day = |stop: &StopView| words::day_of(answer.calendar, stop.span.from);
    let before = index.checked_sub(1).map_or(0, |i| day(&run.stops[i]));
    let today = day(&run.stops[index]);
    let date = answer
        .plan
        .date
        .checked_add(jiff::Span::new().try_days(today).ok()?)
        .ok()?;
    (today != before).then(|| words::date(date))
}

fn row(answer: &Answer, stop: &StopView) -> Markup {
    html! {
        tr.rest[stop.tasks.is_empty()] {
            th.time scope="row" {
                (words::clock(answer.calendar, stop.span.from))
                @if !stop.span.is_empty() {
                    span.until { " to " (words::clock(answer.calendar, stop.span.to)) }
                }
            }
            td { (place(stop)) }
            td {
                strong { bdi { (stop.title) } }
                @if !stop.tasks.is_empty() { ": " bdi { (stop.tasks.join(", ")) } }
                @if !stop.notes.is_empty() {
                    ul.notes { @for note in &stop.notes { li { (note) } } }
                }
            }
        }
    }
}

fn place(stop: &StopView) -> Markup {
    html! {
        bdi { (stop.place) }
        span.floor { " floor " bdi { (stop.floor) } }
        @if let Some(walk) = &stop.walk {
            details.walk {
                summary {
                    "walk " (words::short(walk.time))
                    @if let Some(floor) = &walk.to_floor { span.screen { ", to floor " bdi { (floor) } } }
                }
                bdi { (walk.words) }
            }
        }
        @if stop.wait.0 > 0 { p.wait { "wait " (words::short(stop.wait)) } }
    }
}

fn cautions(run: &RunView) -> Markup {
    html! {
        aside.cautions aria-label={ "Cautions for " (run.name) } {
            h3 { "Mind" }
            ul {
                @for caution in &run.cautions {
                    @let (about, text) = caution.words();
                    li { strong { (about) ": " } (text) }
                }
            }
        }
    }
}
