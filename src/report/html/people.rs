//! Every run: its figures, its maps, its stops in order with the way to each.

use crate::report::Answer;
use crate::report::map::{FloorPlan, run_map};
use crate::report::view::{RunFigures, RunView, StopView, View, run_clocks};
use crate::report::words::{Words, day_of, short};
use maud::{Markup, html};

/// The section with all runs.
pub(super) fn section(answer: &Answer, words: &Words, view: &View, plans: &[FloorPlan]) -> Markup {
    html! {
        section #people aria-labelledby="people-head" {
            h2 #people-head { (words.say("people-head")) }
            p.small { (words.say("people-note")) }
            @for (index, (run, figures)) in view.each().enumerate() {
                (one(answer, words, plans, index, run, figures))
            }
        }
    }
}

fn one(
    answer: &Answer,
    words: &Words,
    plans: &[FloorPlan],
    index: usize,
    run: &RunView,
    figures: &RunFigures,
) -> Markup {
    let head = format!("run-{index}-head");
    html! {
        section.run id={ "run-" (index) } aria-labelledby=(head) {
            h3 id=(head) { bdi { (run.name) } }
            @if run.stops.is_empty() {
                p { (idle(answer, words, run)) }
            } @else {
                (facts(answer, words, run, figures))
                div.strips {
                    @for (floor, plan) in plans.iter().enumerate() {
                        @let id = format!("run-{index}-map-{floor}");
                        @if run.floor_ids.contains(&plan.floor()) && let Some(map) = run_map(answer, words, plan, run, index, &id, None) {
                            div.floor {
                                @let floor = answer.site.floors[plan.floor().index()].id.as_str();
                                p.small { (words.tell("floor-head", &[("floor", floor.into())])) }
                                (map)
                            }
                        }
                    }
                }
                (stops(answer, words, run))
            }
        }
    }
}

/// What is said of somebody without stops.
pub(in crate::report) fn idle(answer: &Answer, words: &Words, run: &RunView) -> String {
    let shift = words.clocks(answer.calendar, run.shift);
    words.tell("no-stops", &[("shift", shift.into())])
}

fn facts(answer: &Answer, words: &Words, run: &RunView, figures: &RunFigures) -> Markup {
    let share = words.tell(
        "share-of",
        &[
            ("share", words.percent(figures.share).into()),
            ("load", figures.load.to_string().into()),
            ("available", figures.available.to_string().into()),
        ],
    );
    let named = [
        ("fact-shift", words.clocks(answer.calendar, run.shift)),
        ("fact-run", run_clocks(answer, words, run)),
        ("fact-share", share),
        ("fact-going", run.moves.clone()),
        ("fact-floors", run.floors.join(", ")),
    ];
    html! {
        dl.facts {
            @for (name, value) in named.iter().filter(|(_, value)| !value.is_empty()) {
                div { dt { (words.say(name)) } dd { bdi { (value) } } }
            }
        }
    }
}

fn stops(answer: &Answer, words: &Words, run: &RunView) -> Markup {
    let caption = words.tell("stops-of", &[("name", run.name.as_str().into())]);
    html! {
        table.stops {
            caption.hidden { (caption) }
            thead { tr {
                th.count scope="col" { (words.say("col-number")) }
                th scope="col" { (words.say("col-time")) }
                th scope="col" { (words.say("col-where")) }
                th scope="col" { (words.say("col-what")) }
            } }
            tbody {
                @for (index, stop) in run.stops.iter().enumerate() {
                    @if let Some(day) = new_day(answer, words, run, index) {
                        tr.day { th scope="colgroup" colspan="4" { (day) } }
                    }
                    tr {
                        td.count { (stop.number) }
                        th.time scope="row" { (words.clocks(answer.calendar, stop.span)) }
                        td {
                            bdi { (stop.place) } span.at { " " (words.tell("on-floor", &[("floor", stop.floor.as_str().into())])) }
                            (walk(words, stop))
                        }
                        td {
                            bdi { (stop.title) }
                            @if let Some(wait) = &stop.wait { p.wait { (wait.words) } }
                        }
                    }
                }
            }
        }
    }
}

/// The walk to a stop, folded.
pub(in crate::report) fn walk(words: &Words, stop: &StopView) -> Markup {
    html! {
        @if let Some(walk) = &stop.walk {
            details.walk {
                summary {
                    @let time = short(walk.time);
                    @match &walk.to_floor {
                        Some(floor) => (words.tell("walk-to-floor", &[("time", time.into()), ("floor", floor.as_str().into())])),
                        None => (words.tell("walk-time", &[("time", time.into())])),
                    }
                }
                bdi { (walk.words) }
            }
        }
    }
}

/// The date, before the first stop that begins on another day than the one before it.
pub(in crate::report) fn new_day(
    answer: &Answer,
    words: &Words,
    run: &RunView,
    index: usize,
) -> Option<String> {
    let day = |stop: &StopView| day_of(answer.calendar, stop.span.from);
    let before = index.checked_sub(1).map_or(0, |i| day(&run.stops[i]));
    let today = day(&run.stops[index]);
    let date = answer
        .plan
        .date
        .checked_add(jiff::Span::new().try_days(today).ok()?)
        .ok()?;
    (today != before).then(|| words.date(date))
}
