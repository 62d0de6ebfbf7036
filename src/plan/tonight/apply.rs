//! One night's copy of a site.

use super::hours::without;
use super::raise::raised;
use super::{AddedTonight, ClosedTonight, ShiftTonight, Tonight, Waited};
use crate::plan::document::{Misfit, break_names};
use crate::site::{
    Calendar, Called, Duty, Frequency, Method, Priority, Rate, RoomId, Site, Task, Weekdays,
};
use crate::units::{Clock, Seconds, Span};
use crate::work::quantity;
use jiff::civil::Date;

impl Tonight {
    /// The site as it is on this night.
    ///
    /// # Errors
    /// Everything that names what the site does not have, or says what cannot be, with its path.
    pub fn apply(&self, site: &Site, date: Date) -> Result<Site, Vec<Misfit>> {
        let mut night = Night {
            site: site.clone(),
            calendar: Calendar::new(date, site.time_zone.as_deref()),
            misfits: Vec::new(),
        };
        night.site.now = self.now.as_ref().and_then(|now| night.clock(now, "now"));
        for (index, name) in self.extra.iter().enumerate() {
            night.extra(name, &format!("extra[{index}]"));
        }
        if let Some(minutes) = self.overtime_min {
            night.overtime(minutes);
        }
        for (index, shift) in self.shifts.iter().enumerate() {
            night.shift(shift, &format!("shifts[{index}]"));
        }
        for (index, closed) in self.closed.iter().enumerate() {
            night.close(closed, &format!("closed[{index}]"));
        }
        for (index, added) in self.added.iter().enumerate() {
            night.add(added, &format!("added[{index}]"));
        }
        for (index, waited) in self.waited.iter().enumerate() {
            night.wait(waited, &format!("waited[{index}]"));
        }
        for (index, room) in self.done.iter().enumerate() {
            let done = night.room(room, &format!("done[{index}]"));
            night.site.done.extend(done);
        }
        if night.misfits.is_empty() {
            Ok(night.site)
        } else {
            Err(night.misfits)
        }
    }
}

/// The copy in the making. Whatever is not found is noted and left out.
struct Night {
    site: Site,
    calendar: Calendar,
    misfits: Vec<Misfit>,
}

impl Night {
    fn extra(&mut self, name: &str, path: &str) {
        let Some(index) = self.worker(name, path) else {
            return;
        };
        // Only this weekday: it is one of the crew's anyhow, so what is due does not change.
        let today = Weekdays::of([self.calendar.date().weekday()]);
        let days = &mut self.site.crew[index].days;
        *days = days.or(today);
    }

    fn overtime(&mut self, minutes: f64) {
        if (0.0..=24.0 * 60.0).contains(&minutes) {
            self.site.policy.overtime = Seconds((minutes * 60.0).round() as i64);
        } else {
            self.note(Misfit::new("overtime_min", "must be from 0 to 1440"));
        }
    }

    fn shift(&mut self, shift: &ShiftTonight, path: &str) {
        let Some(index) = self.worker(&shift.worker, &format!("{path}.worker")) else {
            return;
        };
        let from = (shift.from.as_ref()).and_then(|t| self.clock(t, &format!("{path}.from")));
        let to = (shift.to.as_ref()).and_then(|t| self.clock(t, &format!("{path}.to")));
        let (from, to) = (
            from.map(|t| self.calendar.wall(t)),
            to.map(|t| self.calendar.wall(t)),
        );
        let names = break_names(&self.site.crew[index]);
        for name in shift.no_breaks.iter().filter(|n| !names.contains(n)) {
            let known = names.iter().map(String::as_str);
            self.note(Misfit::unknown(
                format!("{path}.no_breaks"),
                "break",
                name,
                known,
            ));
        }
        let worker = &mut self.site.crew[index];
        worker.shift = Span::new(
            from.unwrap_or(worker.shift.from),
            to.unwrap_or(worker.shift.to),
        );
        let mut kept = names.iter().map(|name| !shift.no_breaks.contains(name));
        worker.breaks.retain(|_| kept.next().unwrap_or(true));
        if self.site.crew[index].shift.is_empty() {
            let message = format!("nothing is left of the shift of `{}`", shift.worker);
            self.note(Misfit::new(path, message));
        }
    }

    fn close(&mut self, closed: &ClosedTonight, path: &str) {
        let room = self.room(&closed.room, &format!("{path}.room"));
        let from = self.clock(&closed.from, &format!("{path}.from"));
        let to = self.clock(&closed.to, &format!("{path}.to"));
        let (Some(room), Some(from), Some(to)) = (room, from, to) else {
            return;
        };
        if to <= from {
            self.note(Misfit::new(path, "ends before it begins"));
            return;
        }
        let shut = Span::new(from, to);
        let place = &mut self.site.rooms[room.index()];
        place.open = Some(without(place.open.as_ref(), &self.calendar, shut));
        place.closure = Some(without(place.closure.as_ref(), &self.calendar, shut));
    }

    fn add(&mut self, added: &AddedTonight, path: &str) {
        let Some(room) = self.room(&added.room, &format!("{path}.room")) else {
            return;
        };
        if added
            .minutes
            .is_some_and(|m| !(m > 0.0 && m <= 24.0 * 60.0))
        {
            self.note(Misfit::new(
                format!("{path}.minutes"),
                "must be above 0 and at most 1440",
            ));
            return;
        }
        let kind = &self.site.kinds[self.site.rooms[room.index()].kind.index()];
        let known = kind.tasks.iter().position(|t| t.name == added.task);
        match (known, added.minutes) {
            (None, None) => {
                let names = kind.tasks.iter().map(|t| t.name.as_str());
                let of = format!("task for `{}`", added.room);
                let misfit = Misfit::unknown(format!("{path}.task"), &of, &added.task, names);
                let more = "to add something else, say how many minutes it takes";
                let hint = match &misfit.hint {
                    Some(near) => format!("{near}; {more}"),
                    None => more.to_string(),
                };
                self.note(misfit.hint(hint));
            }
            (Some(index), None) if !added.again => self.call(room, index, &added.task, path),
            (known, minutes) => self.add_other(room, added, known, minutes),
        }
    }

    /// A task of the standard that is not due by the calendar.
    fn call(&mut self, room: RoomId, index: usize, name: &str, path: &str) {
        let place = &self.site.rooms[room.index()];
        let task = &self.site.kinds[place.kind.index()].tasks[index];
        if quantity(task.rate, place) > 0.0 {
            self.site.called.entry((room, index)).or_default();
        } else {
            let message = format!("`{}` has nothing to do for `{name}`", place.id);
            self.note(Misfit::new(format!("{path}.task"), message));
        }
    }

    /// Something that takes other minutes than the standard says, is not in it, or comes after the room has been done.
    fn add_other(
        &mut self,
        room: RoomId,
        added: &AddedTonight,
        known: Option<usize>,
        minutes: Option<f64>,
    ) {
        let place = self.site.rooms[room.index()].clone();
        let kind = &mut self.site.kinds[place.kind.index()];
        let like = known.map(|index| kind.tasks[index].clone());
        let usual = like.as_ref().map_or(0.0, |t| {
            (t.minutes + t.wipe_minutes) * quantity(t.rate, &place)
        });
        let minutes = minutes.unwrap_or(usual);
        if added.again {
            self.site.duties.push(Duty {
                name: format!("{} in {}", added.task, place.id),
                place: self.site.place_of_room(room),
                minutes,
                window: place.open,
                days: Weekdays::of([self.calendar.date().weekday()]),
                skills: like.map(|t| t.skills).unwrap_or_default(),
                last: false,
            });
            return;
        }
        let same = |t: &Task| t.name.starts_with(&format!("{} (added", added.task));
        let count = kind.tasks.iter().filter(|t| same(t)).count();
        let number = if count == 0 {
            String::new()
        } else {
            format!(" {}", count + 1)
        };
        let like = like.unwrap_or(Task {
            priority: Priority::Health,
            ..Task::default()
        });
        let wiped = if matches!(like.method, Method::Spray { .. }) {
            0.5
        } else {
            0.0
        };
        kind.tasks.push(Task {
            name: format!("{} (added{number})", added.task),
            minutes: minutes * (1.0 - wiped),
            wipe_minutes: minutes * wiped,
            rate: Rate::Visit,
            // Never by the calendar.
            frequency: Frequency::On(Weekdays::default()),
            ..like
        });
        let index = kind.tasks.len() - 1;
        self.site.called.insert((room, index), Called::default());
    }

    fn wait(&mut self, waited: &Waited, path: &str) {
        let Ok(since) = waited.since.parse::<Date>() else {
            let message = format!("`{}` is not a date", waited.since);
            self.note(Misfit::new(format!("{path}.since"), message));
            return;
        };
        let days = (self.calendar.date() - since).get_days();
        match (&waited.room, &waited.task, &waited.duty) {
            (Some(room), Some(task), None) => {
                let Some(id) = self.room(room, &format!("{path}.room")) else {
                    return;
                };
                let kind = &self.site.kinds[self.site.rooms[id.index()].kind.index()];
                let Some(index) = kind.tasks.iter().position(|t| t.name == *task) else {
                    let names = kind.tasks.iter().map(|t| t.name.as_str());
                    let of = format!("task for `{room}`");
                    self.note(Misfit::unknown(format!("{path}.task"), &of, task, names));
                    return;
                };
                let called = raised(&kind.tasks[index].frequency, days);
                self.site.called.insert((id, index), called);
            }
            (None, None, Some(duty)) => self.wait_duty(duty, path),
            _ => self.note(Misfit::new(
                path,
                "either `room` and `task` or `duty` is needed",
            )),
        }
    }

    fn wait_duty(&mut self, name: &str, path: &str) {
        let today = Weekdays::of([self.calendar.date().weekday()]);
        if let Some(duty) = self.site.duties.iter_mut().find(|d| d.name == name) {
            duty.days = duty.days.or(today);
        } else {
            let known = self.site.duties.iter().map(|d| d.name.as_str());
            let misfit = Misfit::unknown(format!("{path}.duty"), "duty", name, known);
            self.note(misfit);
        }
    }

    fn worker(&mut self, name: &str, path: &str) -> Option<usize> {
        let found = self.site.worker_named(name);
        if found.is_none() {
            let known = self.site.crew.iter().map(|w| w.name.as_str());
            let misfit = Misfit::unknown(path.to_string(), "worker", name, known);
            self.note(misfit);
        }
        found.map(crate::site::WorkerId::index)
    }

    fn room(&mut self, id: &str, path: &str) -> Option<RoomId> {
        let found = self.site.room_named(id);
        if found.is_none() {
            let known = self.site.rooms.iter().map(|r| r.id.as_str());
            let misfit = Misfit::unknown(path.to_string(), "room", id, known);
            self.note(misfit);
        }
        found
    }

    fn clock(&mut self, text: &str, path: &str) -> Option<Clock> {
        let clock = text.parse();
        clock
            .map_err(|e: crate::units::NotAClock| self.note(Misfit::new(path, e.to_string())))
            .ok()
    }

    fn note(&mut self, misfit: Misfit) {
        self.misfits.push(misfit);
    }
}
