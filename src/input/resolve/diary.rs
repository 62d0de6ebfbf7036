//! The calendar of periodic work: rooms, tasks and days looked up.

use super::Names;
use super::words::date;
use crate::input::at::At;
use crate::input::log::Log;
use crate::input::raw::{RawDiary, RawDiaryEntry};
use crate::site::{Diary, DiaryEntry, Room, RoomId, RoomKind, WorkerId};
use jiff::civil::Date;

/// The version of calendars read here.
const VERSION: u32 = 1;

/// The calendar; `None` if its stretch of days cannot be read.
pub(super) fn diary(
    raw: &RawDiary,
    rooms: &[Room],
    kinds: &[RoomKind],
    names: &Names,
    log: &Log,
) -> Option<Diary> {
    if let Some(other) = raw
        .version
        .as_ref()
        .filter(|v| v.sound && v.value != VERSION)
    {
        let message = format!("calendars of version {} are not known here", other.value);
        log.error(
            "E218",
            other.pos,
            message,
            format!("this program reads version {VERSION}; make the calendar again with it"),
        );
    }
    let (from, to) = date(log, &raw.from).zip(date(log, &raw.to))?;
    if to < from {
        let message = format!("this calendar ends on {to}, before it begins on {from}");
        log.error("E216", raw.to.pos, message, "give the last day under `to`");
    }
    let mut diary = Diary {
        from,
        to,
        ..Diary::default()
    };
    for entry in &raw.work {
        let room = names.rooms.find(&entry.room, log);
        let known = room.and_then(|r| kinds.get(rooms.get(r)?.kind.index()));
        if let Some(kind) = known {
            known_task(&entry.task, kind, log);
        }
        let entry_read = read(entry, from, to, names, log);
        let Some(room) = room else { continue };
        let key = (RoomId::from(room), entry.task.value.trim().to_string());
        if diary.work.insert(key, entry_read).is_some() && entry.task.sound {
            let message = format!(
                "`{}` of this room is in the calendar twice",
                entry.task.value
            );
            log.error(
                "E301",
                entry.task.pos,
                message,
                "put all its days into one entry",
            );
        }
    }
    Some(diary)
}

fn known_task(name: &At<String>, kind: &RoomKind, log: &Log) {
    let known: Vec<&str> = kind.tasks.iter().map(|t| t.name.as_str()).collect();
    if name.sound && !known.contains(&name.value.trim()) {
        let message = format!("room kind `{}` has no task `{}`", kind.id, name.value);
        log.error("E312", name.pos, message, log.near(&name.value, &known));
    }
}

fn read(raw: &RawDiaryEntry, from: Date, to: Date, names: &Names, log: &Log) -> DiaryEntry {
    let mut days = Vec::new();
    for written in &raw.days {
        let Some(day) = date(log, written) else {
            continue;
        };
        if from <= to && !(from..=to).contains(&day) {
            let message = format!("{day} is outside this calendar, which is for {from} to {to}");
            log.error(
                "E217",
                written.pos,
                message,
                "take it out, or change `from` and `to`",
            );
        }
        days.push(day);
    }
    days.sort_unstable();
    days.dedup();
    let owner = raw.worker.as_ref().and_then(|w| names.workers.find(w, log));
    DiaryEntry {
        days,
        owner: owner.map(WorkerId::from),
    }
}
