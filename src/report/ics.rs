//! Each run as a calendar (RFC 5545): an event for every stop that takes time.
//!
//! Times are in UTC where the site has a time zone, and otherwise "floating": the clock on the wall, wherever that is.

use super::names::FileNames;
use super::view::{RunView, StopView, View};
use super::words::Words;
use super::{Answer, Written};
use crate::site::Calendar as Night;
use crate::units::Clock;
use icalendar::{Calendar, Component, Event, EventLike, Property};
use jiff::ToSpan;
use jiff::tz::TimeZone;

/// One file for each worker with stops.
pub fn ics(answer: &Answer, words: &Words) -> Vec<Written> {
    let view = View::of(answer, words);
    let mut names = FileNames::default();
    let with_stops = view.runs.iter().filter(|run| !run.stops.is_empty());
    let files = with_stops.map(|run| {
        let name = names.next(&[&run.name], "ics");
        let text = calendar(answer, words, &name, run);
        Written { name, text }
    });
    files.collect()
}

fn calendar(answer: &Answer, words: &Words, file: &str, run: &RunView) -> String {
    let mut calendar = Calendar::empty();
    let program = format!("-//evenrun//{}//EN", answer.facts.program);
    for (key, value) in [
        ("VERSION", "2.0"),
        ("PRODID", &plain(&program)),
        ("CALSCALE", "GREGORIAN"),
    ] {
        calendar.append_property((key, value));
    }
    let title = format!("{}, {}", run.name, words.date(answer.plan.date));
    calendar.name(&plain(&title));
    for stop in run.stops.iter().filter(|stop| !stop.span.is_empty()) {
        calendar.push(event(answer, words, file, stop));
    }
    calendar.to_string()
}

fn event(answer: &Answer, words: &Words, file: &str, stop: &StopView) -> Event {
    let place = format!(
        "{}, {}",
        stop.place,
        words.tell("on-floor", &[("floor", stop.floor.as_str().into())])
    );
    let tasks = stop.tasks.join(", ");
    let walk = stop.walk.as_ref().map(|w| w.words.clone());
    let about = std::iter::once(tasks).chain(stop.notes.clone()).chain(walk);
    let about: Vec<String> = about
        .filter(|line| !line.is_empty())
        .map(|l| plain(&l))
        .collect();
    let site = file_stem(&answer.site.name);
    // The same stop of the same plan has the same id, so that reading a file twice brings nothing twice.
    let id = format!("{}-{site}-{file}-{}@evenrun", answer.plan.date, stop.number);
    let mut event = Event::new();
    event
        .uid(&id)
        .summary(&plain(&format!("{}: {}", stop.title, stop.place)))
        .location(&plain(&place))
        .description(&about.join("\n"))
        .append_property(Property::new("DTSTAMP", stamp(answer)))
        .append_property(Property::new("DTSTART", moment(answer, stop.span.from)))
        .append_property(Property::new("DTEND", moment(answer, stop.span.to)));
    event.done()
}

fn file_stem(name: &str) -> String {
    let file = FileNames::default().next(&[name], "");
    file.trim_end_matches('.').to_string()
}

/// When the entry was made: the plan's date, so that the same plan makes the same file.
fn stamp(answer: &Answer) -> String {
    answer.plan.date.strftime("%Y%m%dT000000Z").to_string()
}

/// A moment in UTC, or as the clock on the wall shows it.
fn moment(answer: &Answer, moment: Clock) -> String {
    in_zone(answer, moment).unwrap_or_else(|| on_the_wall(answer.calendar, moment))
}

fn in_zone(answer: &Answer, moment: Clock) -> Option<String> {
    let zone = TimeZone::get(answer.site.time_zone.as_deref()?).ok()?;
    let midnight = answer.plan.date.to_zoned_datetime(zone).ok()?;
    let then = midnight.checked_add(moment.0.seconds()).ok()?;
    let there = then.with_time_zone(TimeZone::UTC);
    Some(there.strftime("%Y%m%dT%H%M%SZ").to_string())
}

fn on_the_wall(night: &Night, moment: Clock) -> String {
    let wall = night.wall(moment);
    let date = night.date().checked_add(wall.0.div_euclid(86_400).days());
    let date = date.unwrap_or(night.date());
    let time = wall.0.rem_euclid(86_400);
    let (h, m, s) = (time / 3600, time % 3600 / 60, time % 60);
    format!("{}T{h:02}{m:02}{s:02}", date.strftime("%Y%m%d"))
}

/// Text without what would end a line or steer a terminal.
fn plain(text: &str) -> String {
    text.chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect()
}
