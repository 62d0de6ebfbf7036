//! The calendar of periodic work: how heavy its days are, as tables, and what falls on them, as a calendar for each owner.

use super::Written;
use super::names::FileNames;
use super::sheet::{Grid, Sheet, page_of, texts};
use super::view::place_name;
use super::words::Words;
use crate::manage::{DayLoad, Heaviest, PeriodicCalendar};
use crate::site::{RoomId, Site, WorkerId};
use crate::units::Seconds;
use crate::work::DueTask;
use icalendar::{Calendar, Component, Event, Property};
use itertools::Itertools;
use jiff::ToSpan;
use jiff::civil::Date;
use std::collections::BTreeMap;

/// Turns listed one by one; the JSON object has all.
const LISTED: usize = 12;

/// The calendar for the terminal.
pub fn calendar_table(site: &Site, calendar: &PeriodicCalendar) -> String {
    texts(&[sheet(site, calendar, &Words::terminal())])
}

/// The calendar as a page.
pub fn calendar_html(site: &Site, calendar: &PeriodicCalendar, words: &Words) -> String {
    let all = [
        sheet(site, calendar, words),
        work_sheet(site, calendar, words),
    ];
    page_of(words, &site.name, &all)
}

fn sheet(site: &Site, calendar: &PeriodicCalendar, words: &Words) -> Sheet {
    let about = [
        ("site", site.name.as_str().into()),
        ("from", words.date(calendar.diary.from).into()),
        ("to", words.date(calendar.diary.to).into()),
    ];
    Sheet {
        id: "calendar",
        head: words.tell("calendar-head", &about),
        lead: lead(calendar, words),
        grids: vec![
            heaviest(site, calendar, words),
            days(calendar, words),
            listed(site, words, "calendar-without-day", &calendar.without_day),
            listed(
                site,
                words,
                "calendar-irregular",
                &calendar.irregular.iter().map(|(t, _)| *t).collect_vec(),
            ),
        ],
        notes: vec![words.say("calendar-how")],
    }
}

fn lead(calendar: &PeriodicCalendar, words: &Words) -> Vec<String> {
    let counted = words.tell(
        "calendar-counted",
        &[
            ("turns", calendar.turns.into()),
            ("days", calendar.days.len().into()),
            ("kept", calendar.kept.into()),
        ],
    );
    let heaviest = calendar.heaviest.first().map(|all| {
        words.tell(
            "calendar-lead",
            &[
                ("before", words.percent(all.before).into()),
                ("share", words.percent(all.share).into()),
                ("bound", words.percent(all.bound).into()),
                ("gap", gap(all, words).into()),
            ],
        )
    });
    std::iter::once(counted).chain(heaviest).collect()
}

fn gap(heaviest: &Heaviest, words: &Words) -> String {
    format!("{} %", words.number(heaviest.gap() * 100.0, 2))
}

fn heaviest(site: &Site, calendar: &PeriodicCalendar, words: &Words) -> Grid {
    let row = |h: &Heaviest| {
        let name = |w: WorkerId| site.crew[w.index()].name.clone();
        vec![
            h.owner
                .map_or_else(|| words.say("calendar-everybody"), name),
            words.percent(h.before),
            words.percent(h.share),
            words.percent(h.bound),
            gap(h, words),
        ]
    };
    Grid {
        caption: words.say("calendar-heaviest"),
        columns: vec![
            (words.say("col-worker"), false),
            (words.say("col-without-calendar"), true),
            (words.say("col-with-calendar"), true),
            (words.say("col-bound"), true),
            (words.say("col-gap"), true),
        ],
        rows: calendar.heaviest.iter().map(row).collect(),
    }
}

fn days(calendar: &PeriodicCalendar, words: &Words) -> Grid {
    let row = |day: &DayLoad| {
        let share = (day.daily + day.periodic) as f64 / day.available.max(1) as f64;
        vec![
            words.date(day.date),
            words.minutes(Seconds(day.daily)),
            words.minutes(Seconds(day.periodic)),
            words.percent(share),
        ]
    };
    Grid {
        caption: words.say("calendar-days"),
        columns: vec![
            (words.say("col-day"), false),
            (words.say("col-daily"), true),
            (words.say("col-periodic"), true),
            (words.say("col-share"), true),
        ],
        rows: calendar.days.iter().map(row).collect(),
    }
}

fn listed(site: &Site, words: &Words, caption: &str, turns: &[DueTask]) -> Grid {
    let counted = turns.iter().counts().into_iter().sorted().collect_vec();
    let row = |(task, count): &(&DueTask, usize)| {
        vec![
            place_name(site, site.place_of_room(task.room)),
            words.known(&task.task(site).name),
            count.to_string(),
        ]
    };
    let mut rows = counted.iter().take(LISTED).map(row).collect_vec();
    let more = counted.len().saturating_sub(LISTED);
    if more > 0 {
        rows.push(vec![words.count("n-more-places", more)]);
    }
    Grid {
        caption: words.say(caption),
        columns: vec![
            (words.say("col-room"), false),
            (words.say("col-tasks"), false),
            (words.say("col-turns"), true),
        ],
        rows,
    }
}

/// What falls on a day in whose run: rooms with their tasks.
type DayWork = BTreeMap<RoomId, Vec<String>>;

fn by_day(calendar: &PeriodicCalendar, owner: Option<WorkerId>) -> BTreeMap<Date, DayWork> {
    let mut all: BTreeMap<Date, DayWork> = BTreeMap::new();
    for ((room, task), entry) in &calendar.diary.work {
        if entry.owner == owner {
            for day in &entry.days {
                let rooms = all.entry(*day).or_default();
                rooms.entry(*room).or_default().push(task.clone());
            }
        }
    }
    all
}

fn owners(calendar: &PeriodicCalendar) -> Vec<Option<WorkerId>> {
    let owners = calendar.diary.work.values().map(|e| e.owner);
    owners.sorted_unstable().dedup().collect()
}

fn told(site: &Site, words: &Words, work: &DayWork) -> Vec<String> {
    let one = |(room, tasks): (&RoomId, &Vec<String>)| {
        let room = place_name(site, site.place_of_room(*room));
        let tasks = tasks.iter().map(|t| words.known(t)).join(", ");
        format!("{room}: {tasks}")
    };
    work.iter().map(one).collect()
}

/// What falls on which day, for the page.
fn work_sheet(site: &Site, calendar: &PeriodicCalendar, words: &Words) -> Sheet {
    let grid = |owner: Option<WorkerId>| {
        let name = |w: WorkerId| site.crew[w.index()].name.clone();
        let row = |(day, work): (Date, DayWork)| {
            vec![words.date(day), told(site, words, &work).join("; ")]
        };
        Grid {
            caption: owner.map_or_else(|| words.say("calendar-nobody"), name),
            columns: vec![
                (words.say("col-day"), false),
                (words.say("col-tasks"), false),
            ],
            rows: by_day(calendar, owner).into_iter().map(row).collect(),
        }
    };
    Sheet {
        id: "calendar-work",
        head: words.say("calendar-work-head"),
        grids: owners(calendar).into_iter().map(grid).collect(),
        ..Sheet::default()
    }
}

/// One calendar (RFC 5545) for each owner: an event of a whole day for each day with periodic work.
pub fn calendar_ics(
    site: &Site,
    calendar: &PeriodicCalendar,
    program: &str,
    words: &Words,
) -> Vec<Written> {
    let mut names = FileNames::default();
    let file = |owner: Option<WorkerId>| {
        let title = owner.map_or_else(
            || words.say("calendar-nobody"),
            |w| site.crew[w.index()].name.clone(),
        );
        let name = names.next(&[&title], "ics");
        let mut all = Calendar::empty();
        let id = format!("-//evenrun//{program}//EN");
        for (key, value) in [
            ("VERSION", "2.0"),
            ("PRODID", &id),
            ("CALSCALE", "GREGORIAN"),
        ] {
            all.append_property((key, value));
        }
        all.name(&plain(&format!("{}, {title}", site.name)));
        for (day, work) in by_day(calendar, owner) {
            all.push(event(site, words, &name, day, &work));
        }
        Written {
            name,
            text: all.to_string(),
        }
    };
    owners(calendar).into_iter().map(file).collect()
}

fn event(site: &Site, words: &Words, file: &str, day: Date, work: &DayWork) -> Event {
    let date = |day: Date| day.strftime("%Y%m%d").to_string();
    let whole_day = |key: &str, day: Date| {
        let mut property = Property::new(key, date(day));
        property.append_parameter(icalendar::Parameter::new("VALUE", "DATE"));
        property.done()
    };
    let about = told(site, words, work).iter().map(|t| plain(t)).join("\n");
    let mut event = Event::new();
    event
        // The same day of the same owner has the same id, so that a new calendar replaces the old one.
        .uid(&format!("{day}-{file}@evenrun"))
        .summary(&plain(&words.count("calendar-event", work.len())))
        .description(&about)
        .append_property(Property::new("DTSTAMP", format!("{}T000000Z", date(day))))
        .append_property(whole_day("DTSTART", day))
        .append_property(whole_day("DTEND", day.checked_add(1.day()).unwrap_or(day)));
    event.done()
}

/// Text without what would end a line or steer a terminal.
fn plain(text: &str) -> String {
    text.chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect()
}
