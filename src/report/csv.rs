//! The plan as tables for spreadsheets: stops, rooms, people, and what is undone.
//!
//! UTF-8 with a mark at the beginning, so that spreadsheets take it for that. A cell that a spreadsheet would take for a formula is given
//! an apostrophe in front, which makes it text (OWASP, *CSV Injection*). Heads are English words in any language, for programs.

use super::words::Words;
use super::{Answer, Written};
use crate::plan::UndoneWork;
use crate::report::view::{View, floor_of, place_name};
use crate::units::{Clock, Seconds};
use ::csv::Terminator;

/// The mark that says UTF-8.
const MARK: &str = "\u{feff}";
/// What a formula may begin with: OWASP's list, and the same signs in full width.
const FORMULA: [char; 11] = ['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠'];

/// The four tables.
pub fn csv(answer: &Answer, words: &Words) -> Vec<Written> {
    let view = View::of(answer, words);
    vec![
        table("stops", &STOPS, stops(answer, &view)),
        table("rooms", &ROOMS, rooms(answer, &view)),
        table("people", &PEOPLE, people(answer, &view)),
        table("undone", &UNDONE, undone(answer, words)),
    ]
}

const STOPS: [&str; 13] = [
    "date", "worker", "stop", "from", "to", "room", "place", "floor", "what", "tasks", "notes",
    "walk_s", "wait_s",
];
const ROOMS: [&str; 7] = ["room", "name", "floor", "worker", "from", "to", "what"];
const PEOPLE: [&str; 10] = [
    "worker",
    "shift_from",
    "shift_to",
    "share",
    "available_min",
    "load_min",
    "work_min",
    "walk_min",
    "fill_min",
    "wait_min",
];
const UNDONE: [&str; 6] = ["room", "place", "task", "duty", "priority", "minutes"];

fn stops(answer: &Answer, view: &View) -> Vec<Vec<String>> {
    let mut rows = Vec::new();
    for run in &view.runs {
        for stop in &run.stops {
            let room = stop.room.map(|r| answer.site.rooms[r.index()].id.clone());
            let walk = stop.walk.as_ref().map_or(Seconds::ZERO, |w| w.time);
            let wait = stop.wait.as_ref().map_or(Seconds::ZERO, |w| w.time);
            rows.push(vec![
                answer.plan.date.to_string(),
                run.name.clone(),
                stop.number.to_string(),
                time(answer, stop.span.from),
                time(answer, stop.span.to),
                room.unwrap_or_default(),
                place_name(answer.site, stop.place_id),
                stop.floor.clone(),
                stop.title.clone(),
                stop.tasks.join("; "),
                stop.notes.join(" "),
                walk.0.to_string(),
                wait.0.to_string(),
            ]);
        }
    }
    rows
}

/// Every stop in a room, by room; rooms without any have one row.
fn rooms(answer: &Answer, view: &View) -> Vec<Vec<String>> {
    let site = answer.site;
    let mut rows = Vec::new();
    for (index, room) in site.rooms.iter().enumerate() {
        let id = crate::site::RoomId::from(index);
        let begin = || {
            let floor = floor_of(site, site.place_of_room(id));
            vec![room.id.clone(), room.name.clone(), floor]
        };
        let stops = view
            .runs
            .iter()
            .flat_map(|run| run.stops.iter().map(move |stop| (run, stop)));
        let mut here: Vec<_> = stops.filter(|(_, stop)| stop.room == Some(id)).collect();
        here.sort_by_key(|(_, stop)| stop.span);
        if here.is_empty() {
            let none = std::iter::repeat_n(String::new(), ROOMS.len() - 3);
            rows.push(begin().into_iter().chain(none).collect());
        }
        for (run, stop) in here {
            let mut row = begin();
            row.extend([
                run.name.clone(),
                time(answer, stop.span.from),
                time(answer, stop.span.to),
                stop.title.clone(),
            ]);
            rows.push(row);
        }
    }
    rows
}

fn people(answer: &Answer, view: &View) -> Vec<Vec<String>> {
    let minutes = |time: Seconds| format!("{:.2}", time.as_minutes());
    let rows = view.each().map(|(run, figures)| {
        let mut row = vec![
            run.name.clone(),
            time(answer, run.shift.from),
            time(answer, run.shift.to),
            format!("{:.6}", figures.share),
        ];
        let times = [
            figures.available,
            figures.load,
            figures.work,
            figures.walk,
            figures.fill,
            figures.wait,
        ];
        row.extend(times.map(minutes));
        row
    });
    rows.collect()
}

fn undone(answer: &Answer, words: &Words) -> Vec<Vec<String>> {
    let site = answer.site;
    let row = |undone: &crate::plan::Undone| match undone.what {
        UndoneWork::Task(due) => {
            let minutes = due.minutes(site) + due.wipe_minutes(site);
            vec![
                site.rooms[due.room.index()].id.clone(),
                place_name(site, site.place_of_room(due.room)),
                words.known(&due.task(site).name),
                String::new(),
                due.priority(site).word().to_string(),
                format!("{minutes:.2}"),
            ]
        }
        UndoneWork::Duty(index) => {
            let duty = &site.duties[index];
            vec![
                String::new(),
                place_name(site, duty.place),
                String::new(),
                duty.name.clone(),
                String::new(),
                format!("{:.2}", duty.minutes),
            ]
        }
    };
    answer.plan.undone.iter().map(row).collect()
}

/// `25:10` is ten past one the next morning, so that times of a night sort.
fn time(answer: &Answer, moment: Clock) -> String {
    answer.calendar.wall(moment).hour_minute()
}

fn table(name: &str, head: &[&str], rows: Vec<Vec<String>>) -> Written {
    let mut table = ::csv::WriterBuilder::new()
        .terminator(Terminator::CRLF)
        .from_writer(MARK.as_bytes().to_vec());
    // Writing into memory does not fail.
    let _ = table.write_record(head);
    for row in rows {
        let _ = table.write_record(row.iter().map(|cell| harmless(cell)));
    }
    let bytes = table.into_inner().unwrap_or_default();
    Written {
        name: format!("{name}.csv"),
        text: String::from_utf8_lossy(&bytes).into_owned(),
    }
}

/// Text that no spreadsheet takes for a formula.
fn harmless(cell: &str) -> String {
    if cell.trim_start().starts_with(FORMULA) || cell.starts_with(FORMULA) {
        format!("'{cell}")
    } else {
        cell.to_string()
    }
}

#[cfg(test)]
mod tests {
    use super::harmless;

    /// The signs are those of OWASP, *CSV Injection*.
    #[test]
    fn what_looks_like_a_formula_becomes_text() {
        for cell in [
            "=1+1",
            "+1",
            "-1",
            "@SUM(A1)",
            "\t=1",
            " =cmd|' /C calc'!A0",
            "＝1",
        ] {
            assert!(harmless(cell).starts_with('\''), "{cell:?}");
        }
        assert_eq!(harmless("G12"), "G12");
    }
}
