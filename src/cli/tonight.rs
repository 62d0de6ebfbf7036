//! What changed tonight, as it is typed: names, rooms and times looked up, every mistake told at once.

use super::exit::Exit;
use super::output::Output;
use super::refusal::{Refusal, refuse};
use evenrun::cover::Changes;
use evenrun::input::text_from;
use evenrun::plan::Misfit;
use evenrun::site::{Calendar, RoomId, Site, WorkerId};
use evenrun::units::{Clock, Seconds, Span};
use std::fs::File;
use std::path::{Path, PathBuf};

/// What changed.
#[derive(Debug, clap::Args)]
pub(super) struct Told {
    /// Who is away for the whole night, or leaves at a time; may be given more than once
    #[arg(long, value_name = "NAME[@HH:MM]")]
    absent: Vec<String>,
    /// Who of the crew comes though not on duty, or comes after all; may be given more than once
    #[arg(long, value_name = "NAME")]
    extra: Vec<String>,
    /// Most overtime for anyone
    #[arg(long, value_name = "MIN", value_parser = clap::value_parser!(u16).range(0..=720))]
    overtime: Option<u16>,
    /// Who comes later; may be given more than once
    #[arg(long, value_name = "NAME@HH:MM")]
    late: Vec<String>,
    /// A room that cannot be cleaned for a while; may be given more than once
    #[arg(long, value_name = "ROOM@HH:MM-HH:MM")]
    close: Vec<String>,
    /// A task asked for besides, with its minutes if it is none of the standard's; may be given more than once
    #[arg(long, value_name = "ROOM:TASK[:MIN]")]
    add: Vec<String>,
    /// The time it is: what has begun stays as it is. If left out, the first time at which somebody leaves, else before all shifts
    #[arg(long, value_name = "HH:MM")]
    now: Option<String>,
    /// The rooms done by now, one a line, if these are not the ones that the plan says
    #[arg(long, value_name = "FILE", requires = "now")]
    done: Option<PathBuf>,
}

/// In a line each, for the sheet.
pub(super) fn news(told: &Told) -> Vec<String> {
    let mut news = Vec::new();
    news.extend(
        told.now
            .iter()
            .map(|at| format!("it is {at}; what has begun stays as it is")),
    );
    for text in &told.absent {
        news.push(match timed(text) {
            Some((name, at)) => format!("{name} leaves at {at}"),
            None => format!("{text} is away"),
        });
    }
    news.extend(
        told.late
            .iter()
            .filter_map(|t| timed(t))
            .map(|(n, at)| format!("{n} comes at {at}")),
    );
    news.extend(
        told.extra
            .iter()
            .map(|name| format!("{name} comes besides")),
    );
    news.extend(
        told.overtime
            .map(|min| format!("overtime of up to {min} min is allowed")),
    );
    news.extend(told.close.iter().map(|t| t.replacen('@', " is shut ", 1)));
    news.extend(
        told.add
            .iter()
            .map(|t| format!("asked for besides: {}", t.replace(':', ", "))),
    );
    news
}

/// A name and a time after the last `@`, if there is one.
fn timed(text: &str) -> Option<(&str, &str)> {
    text.rsplit_once('@')
}

/// What is typed against the site of the night before the change.
pub(super) fn changes(
    told: &Told,
    site: &Site,
    calendar: &Calendar,
    output: Output,
) -> Result<Changes, Exit> {
    let mut reader = Reader {
        site,
        calendar,
        refusals: Vec::new(),
    };
    let changes = reader.changes(told);
    if reader.refusals.is_empty() {
        Ok(changes)
    } else {
        Err(refuse(&reader.refusals, output))
    }
}

/// Looks names and times up; what is wrong is noted and left out.
struct Reader<'a> {
    site: &'a Site,
    calendar: &'a Calendar,
    refusals: Vec<Refusal>,
}

impl Reader<'_> {
    fn changes(&mut self, told: &Told) -> Changes {
        let mut changes = Changes {
            overtime: told.overtime.map(|min| Seconds::minutes(i64::from(min))),
            extra: told
                .extra
                .iter()
                .filter_map(|name| self.worker(name))
                .collect(),
            ..Changes::default()
        };
        for text in &told.absent {
            match timed(text) {
                Some((name, at)) => changes.leaves.extend(self.at(name, at)),
                None => changes.absent.extend(self.worker(text)),
            }
        }
        for text in &told.late {
            match timed(text) {
                Some((name, at)) => changes.late.extend(self.at(name, at)),
                None => self.note(
                    "bad-change",
                    format!("`--late {text}`: when? Write NAME@HH:MM"),
                ),
            }
        }
        changes.closed = told
            .close
            .iter()
            .filter_map(|text| self.closing(text))
            .collect();
        changes.added = told.add.iter().filter_map(|text| self.task(text)).collect();
        changes.now = told
            .now
            .as_ref()
            .and_then(|text| self.clock(text, self.night()));
        changes.done = told.done.as_ref().map(|path| self.done(path));
        self.present(&changes);
        changes
    }

    /// Who is away or late must be on duty, and nobody both.
    fn present(&mut self, changes: &Changes) {
        let today = self.calendar.date().weekday();
        let late = changes.late.iter().map(|(w, _)| w);
        let gone = changes
            .absent
            .iter()
            .chain(changes.leaves.iter().map(|(w, _)| w));
        for worker in gone.clone().chain(late) {
            let who = &self.site.crew[worker.index()];
            if !who.days.contains(today) {
                self.note(
                    "not-on-duty",
                    format!("{} is not on duty on this date", who.name),
                );
            }
        }
        for worker in gone {
            if changes.extra.contains(worker) {
                let name = &self.site.crew[worker.index()].name;
                self.note(
                    "bad-change",
                    format!("{name} is said to be away and to come besides"),
                );
            }
        }
    }

    fn at(&mut self, name: &str, at: &str) -> Option<(WorkerId, Clock)> {
        let worker = self.worker(name);
        let shift = worker.map(|w| self.site.crew[w.index()].shift);
        let at = self.clock(at, shift.unwrap_or_else(|| self.night()));
        worker.zip(at)
    }

    fn worker(&mut self, name: &str) -> Option<WorkerId> {
        let found = self.site.worker_named(name);
        if found.is_none() {
            let known: Vec<&str> = self.site.crew.iter().map(|w| w.name.as_str()).collect();
            let message = format!("nobody in the crew is called `{name}`");
            self.unknown("unknown-worker", message, name, &known);
        }
        found
    }

    fn room(&mut self, id: &str) -> Option<RoomId> {
        let found = self.site.room_named(id);
        if found.is_none() {
            let known: Vec<&str> = self.site.rooms.iter().map(|r| r.id.as_str()).collect();
            self.unknown(
                "unknown-room",
                format!("the site has no room `{id}`"),
                id,
                &known,
            );
        }
        found
    }

    fn closing(&mut self, text: &str) -> Option<(RoomId, Span)> {
        let Some(((room, times), (from, to))) =
            timed(text).and_then(|(room, times)| Some(((room, times), times.split_once('-')?)))
        else {
            self.note(
                "bad-change",
                format!("`--close {text}`: write ROOM@HH:MM-HH:MM"),
            );
            return None;
        };
        let room = self.room(room);
        let (from, to) = (
            self.clock(from, self.night())?,
            self.clock(to, self.night())?,
        );
        if to <= from {
            self.note("bad-change", format!("`{times}` ends before it begins"));
            return None;
        }
        Some((room?, Span::new(from, to)))
    }

    /// Ids and tasks may hold colons themselves: the longest room that fits is meant, and minutes are what is a number at the end.
    fn task(&mut self, text: &str) -> Option<(RoomId, String, Option<f64>)> {
        let of = |room: &str| text.strip_prefix(room)?.strip_prefix(':');
        let rooms = self.site.rooms.iter().map(|r| r.id.as_str());
        let room = rooms
            .filter(|id| of(id).is_some())
            .max_by_key(|id| id.len());
        let Some((room, rest)) = room
            .and_then(|id| Some((id, of(id)?)))
            .or(text.split_once(':'))
        else {
            self.note(
                "bad-change",
                format!("`--add {text}`: write ROOM:TASK or ROOM:TASK:MIN"),
            );
            return None;
        };
        let room = self.room(room)?;
        let minutes = rest
            .rsplit_once(':')
            .and_then(|(task, min)| Some((task, min.parse().ok()?)));
        Some(match minutes {
            Some((task, minutes)) => (room, task.to_string(), Some(minutes)),
            None => (room, rest.to_string(), None),
        })
    }

    /// From the first shift's start to the last one's end, on the wall.
    fn night(&self) -> Span {
        let today = self.calendar.date().weekday();
        let shifts = self
            .site
            .crew
            .iter()
            .filter(|w| w.days.contains(today))
            .map(|w| w.shift);
        let night = shifts.reduce(|a, b| Span::new(a.from.min(b.from), a.to.max(b.to)));
        night.unwrap_or_default()
    }

    /// A time on the wall; one before the shift that lies in it a day later is meant so.
    fn clock(&mut self, text: &str, shift: Span) -> Option<Clock> {
        match text.parse::<Clock>() {
            Ok(wall) => {
                let next = wall + Seconds(86_400);
                let after_midnight = wall < shift.from && next <= shift.to;
                Some(
                    self.calendar
                        .elapsed(if after_midnight { next } else { wall }),
                )
            }
            Err(error) => {
                self.note("bad-time", error.to_string());
                None
            }
        }
    }

    /// The rooms of a list: one a line, or the column `room` of a CSV file.
    fn done(&mut self, path: &Path) -> Vec<RoomId> {
        let text = match File::open(path).and_then(text_from) {
            Ok(text) => text,
            Err(error) => {
                let message = format!("cannot read `{}`: {error}", path.display());
                self.refusals
                    .push(Refusal::of_file("unreadable", path, message));
                return Vec::new();
            }
        };
        let ids = text.lines().map(|line| line.trim().trim_matches('"'));
        let ids = ids.filter(|id| !id.is_empty() && *id != "room");
        ids.filter_map(|id| self.room(id)).collect()
    }

    fn unknown(&mut self, code: &'static str, message: String, name: &str, known: &[&str]) {
        let hint = Misfit::nearest(name, known).map_or_else(
            || {
                let all: Vec<String> = known.iter().take(20).map(|k| format!("`{k}`")).collect();
                format!("known are {}", all.join(", "))
            },
            |near| format!("did you mean `{near}`?"),
        );
        self.refusals.push(Refusal::new(code, message).hint(hint));
    }

    fn note(&mut self, code: &'static str, message: String) {
        self.refusals.push(Refusal::new(code, message));
    }
}
