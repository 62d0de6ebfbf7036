//! How many people it takes: least and proven, one more and one fewer, hours of work, and published formulas beside them.

use super::sheet::{Grid, Sheet, page_of, texts};
use super::words::Words;
use crate::manage::{Attempt, Formula, Level, Staff, Turn, usps_people};
use crate::site::{Calendar, Priority, Site};
use crate::units::{SQUARE_METRES_PER_SQUARE_FOOT, SquareMetres};

/// The answer for the terminal.
pub fn staff_table(site: &Site, staff: &Staff) -> String {
    texts(&sheets(site, staff, &Words::terminal()))
}

/// The answer as a page.
pub fn staff_html(site: &Site, staff: &Staff, words: &Words) -> String {
    page_of(words, &site.name, &sheets(site, staff, words))
}

fn sheets(site: &Site, staff: &Staff, words: &Words) -> Vec<Sheet> {
    vec![
        people(site, staff, words),
        hours(staff, words),
        orientation(staff, words),
    ]
}

fn name(priority: Priority) -> &'static str {
    match priority {
        Priority::Health => "staff-to-health",
        Priority::Expected => "staff-to-expected",
        Priority::Appearance => "staff-to-appearance",
    }
}

fn people(site: &Site, staff: &Staff, words: &Words) -> Sheet {
    let calendar = Calendar::new(staff.date, site.time_zone.as_deref());
    let about = [
        ("site", site.name.as_str().into()),
        ("date", words.date(staff.date).into()),
    ];
    let shift = words.tell(
        "staff-shift",
        &[
            ("shift", words.clocks(&calendar, staff.shift).into()),
            ("available", staff.available.to_string().into()),
        ],
    );
    let found = staff.levels.first().map(|level| found(level, words));
    let never = staff.levels.first().filter(|l| l.never_done > 0);
    let never = never.map(|l| words.count("staff-never", l.never_done));
    let left = (staff.levels_left > 0).then(|| words.count("staff-levels-left", staff.levels_left));
    Sheet {
        id: "staff",
        head: words.tell("staff-head", &about),
        lead: found
            .into_iter()
            .chain([shift])
            .chain(never)
            .chain(left)
            .collect(),
        grids: std::iter::once(levels(staff, words))
            .chain(staff.levels.iter().map(|l| attempts(l, words)))
            .collect(),
        notes: vec![words.say("staff-how"), words.say("staff-alike")],
    }
}

fn found(level: &Level, words: &Words) -> String {
    let about = [
        ("atLeast", level.at_least.into()),
        ("enough", level.enough.unwrap_or(0).into()),
    ];
    match level.enough {
        None => words.tell("staff-none", &about[..1]),
        Some(enough) if enough == level.at_least => words.tell("staff-proven", &about[1..]),
        Some(_) => words.tell("staff-lead", &about),
    }
}

fn levels(staff: &Staff, words: &Words) -> Grid {
    let row = |level: &Level| {
        vec![
            words.say(name(level.priority)),
            level.enough.map_or_else(|| "-".into(), |n| n.to_string()),
            level.at_least.to_string(),
            words.number(level.weekly_hours, 1),
            words.number(level.yearly_hours, 0),
            words.number(usps_people(level.yearly_hours), 1),
        ]
    };
    Grid {
        caption: words.say("staff-levels"),
        columns: vec![
            (words.say("col-work-done"), false),
            (words.say("col-enough"), true),
            (words.say("col-at-least"), true),
            (words.say("col-hours-week"), true),
            (words.say("col-hours-year"), true),
            (words.say("col-usps"), true),
        ],
        rows: staff.levels.iter().map(row).collect(),
    }
}

fn attempts(level: &Level, words: &Words) -> Grid {
    let row = |attempt: &Attempt| {
        vec![
            attempt.people.to_string(),
            words.percent(attempt.highest),
            words.percent(attempt.lowest),
            attempt.undone.to_string(),
            attempt.left.to_string(),
        ]
    };
    Grid {
        caption: words.tell(
            "staff-attempts",
            &[("work", words.say(name(level.priority)).into())],
        ),
        columns: vec![
            (words.say("col-people"), true),
            (words.say("col-highest"), true),
            (words.say("col-lowest"), true),
            (words.say("col-undone-time"), true),
            (words.say("col-undone-tasks"), true),
        ],
        rows: level.attempts.iter().map(row).collect(),
    }
}

fn turn(turn: Turn) -> &'static str {
    match turn {
        Turn::Daily => "turn-daily",
        Turn::Named => "turn-named",
        Turn::Weekly => "turn-weekly",
        Turn::Weeks => "turn-weeks",
        Turn::Monthly => "turn-monthly",
        Turn::Termly => "turn-termly",
    }
}

fn hours(staff: &Staff, words: &Words) -> Sheet {
    let load = &staff.workload;
    let cells = |head: String, row: [f64; 3]| {
        let all: f64 = row.iter().sum();
        let year = all * load.yearly_to(Priority::Appearance)
            / load.weekly_to(Priority::Appearance).max(1e-9);
        std::iter::once(head)
            .chain(row.map(|h| words.number(h, 1)))
            .chain([words.number(all, 1), words.number(year, 0)])
            .collect::<Vec<_>>()
    };
    let mut sum = [0.0; 3];
    for row in load.weekly.values() {
        for (sum, own) in sum.iter_mut().zip(row) {
            *sum += own;
        }
    }
    let rows = load.weekly.iter();
    let rows = rows.map(|(often, row)| cells(words.say(turn(*often)), *row));
    Sheet {
        id: "hours",
        head: words.say("hours-head"),
        lead: Vec::new(),
        grids: vec![Grid {
            caption: words.say("hours-caption"),
            columns: vec![
                (words.say("col-often"), false),
                (words.say("priority-health"), true),
                (words.say("priority-expected"), true),
                (words.say("priority-appearance"), true),
                (words.say("col-hours-week"), true),
                (words.say("col-hours-year"), true),
            ],
            rows: rows.chain([cells(words.say("hours-all"), sum)]).collect(),
        }],
        notes: vec![words.say("hours-how")],
    }
}

fn orientation(staff: &Staff, words: &Words) -> Sheet {
    let row = |formula: &Formula| {
        let number = |people: f64| words.number(people, 1);
        let people = if formula.least < formula.most {
            format!("{} - {}", number(formula.least), number(formula.most))
        } else {
            number(formula.least)
        };
        vec![
            formula.list.to_string(),
            formula.basis.to_string(),
            people,
            formula.source.to_string(),
        ]
    };
    let area = SquareMetres(staff.square_feet * SQUARE_METRES_PER_SQUARE_FOOT);
    let about = [
        ("area", words.area(area).into()),
        ("sqft", words.number(staff.square_feet, 0).into()),
    ];
    Sheet {
        id: "formulas",
        head: words.say("formulas-head"),
        lead: vec![words.tell("formulas-lead", &about)],
        grids: vec![Grid {
            caption: String::new(),
            columns: vec![
                (words.say("col-list"), false),
                (words.say("col-basis"), false),
                (words.say("col-people"), true),
                (words.say("col-source"), false),
            ],
            rows: staff.formulas.iter().map(row).collect(),
        }],
        notes: vec![words.say("formulas-differ")],
    }
}
