//! Which tasks are due in which rooms on a date.
//!
//! Daily and named days are plain. Work "so many times a week", "every n weeks", "monthly" and "termly" falls on days
//! chosen by a stable function of room and task, so that it spreads evenly and adding a room moves nobody else's day; a calendar
//! file of the site stands in place of that function. Nothing is due on a holiday.

use crate::site::{Frequency, KindId, Method, Priority, Rate, Room, RoomId, Site, Weekdays};
use jiff::civil::Date;

/// A task that is due in a room.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct DueTask {
    /// The room.
    pub room: RoomId,
    /// Its kind.
    pub kind: KindId,
    /// Index of the task in its kind's list.
    pub index: usize,
}

impl DueTask {
    /// The task of the standard.
    pub fn task(self, site: &Site) -> &crate::site::Task {
        &site.kinds[self.kind.index()].tasks[self.index]
    }

    /// Minutes at pace 1: spraying for a sprayed task, all of it for others.
    pub fn minutes(self, site: &Site) -> f64 {
        let task = self.task(site);
        task.minutes * quantity(task.rate, &site.rooms[self.room.index()])
    }

    /// Minutes of wiping at pace 1, for a sprayed task.
    pub fn wipe_minutes(self, site: &Site) -> f64 {
        let task = self.task(site);
        task.wipe_minutes * quantity(task.rate, &site.rooms[self.room.index()])
    }

    /// Litres of waste it brings.
    pub fn waste_litres(self, site: &Site) -> f64 {
        let task = self.task(site);
        task.waste_litres * quantity(task.waste_rate, &site.rooms[self.room.index()])
    }

    /// How much it matters: the task's own priority, or its room's or tonight's if that is higher.
    pub fn priority(self, site: &Site) -> Priority {
        let own = self.task(site).priority;
        let room = site.rooms[self.room.index()].priority;
        let called = site.called.get(&(self.room, self.index));
        let tonight = called.and_then(|c| c.priority);
        [room, tonight]
            .into_iter()
            .flatten()
            .fold(own, Priority::min)
    }

    /// Whether it has waited too long and comes before all else of its priority.
    pub fn is_overdue(self, site: &Site) -> bool {
        let called = site.called.get(&(self.room, self.index));
        called.is_some_and(|c| c.overdue)
    }

    /// Whether it needs a cart: said so, or because it has waste, water or a machine.
    pub fn needs_cart(self, site: &Site) -> bool {
        let task = self.task(site);
        task.cart
            || task.machine.is_some()
            || self.is_mopping(site)
            || self.waste_litres(site) > 0.0
    }

    /// Whether it uses water from a bucket.
    pub fn is_mopping(self, site: &Site) -> bool {
        matches!(self.task(site).method, Method::Mop { .. })
    }
}

/// How many units of a rate a room has.
pub fn quantity(rate: Rate, room: &Room) -> f64 {
    match rate {
        Rate::Visit => 1.0,
        Rate::SquareMetre => room.area.0,
        Rate::Per(fixture) => f64::from(room.fixtures.get(&fixture).copied().unwrap_or(0)),
        Rate::Occupant => f64::from(room.occupants),
    }
}

/// Everything due on `date` by the calendar, and what the site is called on for that night, by room and then in the order of the standard.
/// A task with nothing to do (no such fixture, no area) is not due, nor is any in a room that is done already.
pub fn due_on(site: &Site, date: Date) -> Vec<DueTask> {
    let crew_days = crew_days(site);
    let falls = |task: &DueTask| {
        let written = site.diary.as_ref().filter(|_| task.is_periodic(site));
        let says = written.and_then(|d| d.says(task.room, &task.task(site).name, date));
        says.unwrap_or_else(|| task.falls_by_itself_on(site, date, crew_days))
    };
    let called = |task: &DueTask| site.called.contains_key(&(task.room, task.index));
    let holiday = site.holidays.contains(&date);
    let due = |task: &DueTask| called(task) || !holiday && !task.is_skipped(site) && falls(task);
    let to_do = |task: &DueTask| !site.done.contains(&task.room) && due(task);
    with_something_to_do(site).filter(to_do).collect()
}

/// Every task of every room that ever has anything to do, by room and then in the order of the standard.
pub fn all_tasks(site: &Site) -> impl Iterator<Item = DueTask> + '_ {
    with_something_to_do(site).filter(|task| !task.is_skipped(site))
}

fn with_something_to_do(site: &Site) -> impl Iterator<Item = DueTask> + '_ {
    let rooms = site.rooms.iter().enumerate();
    rooms.flat_map(|(index, room)| {
        let tasks = site.kinds[room.kind.index()].tasks.iter().enumerate();
        tasks
            .filter(move |(_, task)| quantity(task.rate, room) > 0.0)
            .map(move |(position, _)| DueTask {
                room: RoomId::from(index),
                kind: room.kind,
                index: position,
            })
    })
}

/// The days of the week on which anybody works.
pub fn crew_days(site: &Site) -> Weekdays {
    let days = site.crew.iter().map(|w| w.days);
    days.fold(Weekdays::default(), Weekdays::or)
}

impl DueTask {
    /// Whether the room leaves it out.
    fn is_skipped(self, site: &Site) -> bool {
        site.rooms[self.room.index()]
            .skip
            .contains(&self.task(site).name)
    }

    /// Whether it is due so often in a stretch of time, on days to be chosen.
    pub fn is_periodic(self, site: &Site) -> bool {
        !matches!(
            self.task(site).frequency,
            Frequency::Daily | Frequency::On(_)
        )
    }

    /// Whether it would be due on a date if there were no calendar file and no holidays.
    pub fn falls_by_itself_on(self, site: &Site, date: Date, crew_days: Weekdays) -> bool {
        let task = self.task(site);
        let room = &site.rooms[self.room.index()].id;
        falls_on(&task.frequency, date, crew_days, room, &task.name)
    }
}

/// Weeks between termly work: three terms a year (assumption).
pub const WEEKS_OF_A_TERM: u32 = 17;

fn falls_on(
    frequency: &Frequency,
    date: Date,
    crew_days: Weekdays,
    room: &str,
    task: &str,
) -> bool {
    let days: Vec<_> = crew_days.iter().collect();
    let Some(today) = days.iter().position(|d| *d == date.weekday()) else {
        return false;
    };
    let count = days.len() as u64;
    let turn = stable_turn(room, task);
    match frequency {
        Frequency::Daily => true,
        Frequency::On(named) => named.contains(date.weekday()),
        Frequency::PerWeek(times) => {
            // The day on which the running total of times/count passes a whole number.
            let (times, day) = (u64::from(*times).min(count), (today as u64 + turn) % count);
            (day + 1) * times / count > day * times / count
        }
        Frequency::EveryWeeks(weeks) => once_in(
            u64::from(*weeks).max(1),
            week_number(date),
            turn,
            today as u64,
            count,
        ),
        Frequency::Termly => once_in(
            u64::from(WEEKS_OF_A_TERM),
            week_number(date),
            turn,
            today as u64,
            count,
        ),
        Frequency::Monthly => day_of_month(date, crew_days, turn),
    }
}

fn once_in(weeks: u64, week: u64, turn: u64, today: u64, days: u64) -> bool {
    let slot = turn % (weeks * days);
    (week % weeks) * days + today == slot
}

/// Weeks since Monday 3 January 2000.
pub fn week_number(date: Date) -> u64 {
    let days = (date - jiff::civil::date(2000, 1, 3)).get_days();
    i64::from(days).div_euclid(7).unsigned_abs()
}

/// Whether `date` is the turn's working day among the first twenty or so of its month.
fn day_of_month(date: Date, crew_days: Weekdays, turn: u64) -> bool {
    let mut working = Vec::new();
    let mut day = date.first_of_month();
    while day.month() == date.month() {
        if crew_days.contains(day.weekday()) {
            working.push(day);
        }
        let Ok(next) = day.tomorrow() else { break };
        day = next;
    }
    !working.is_empty() && working[(turn % working.len() as u64) as usize] == date
}

/// FNV-1a (Fowler, Noll, Vo 1991) of room and task: the same on every machine and in every version.
fn stable_turn(room: &str, task: &str) -> u64 {
    let bytes = room.bytes().chain([0]).chain(task.bytes());
    let hash = bytes.fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
    });
    // The low bits alone repeat for names that differ in one digit.
    hash ^ (hash >> 32)
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::ToSpan;
    use jiff::civil::date;

    fn days_due(frequency: &Frequency, days: i32) -> Vec<Date> {
        let first = date(2026, 3, 2);
        let all = (0..days).map(|i| first.checked_add(i.days()).unwrap());
        all.filter(|d| falls_on(frequency, *d, Weekdays::WORKING, "G12", "vacuum"))
            .collect()
    }

    #[test]
    fn periodic_work_falls_due_exactly_as_often_as_stated() {
        assert_eq!(days_due(&Frequency::Daily, 7).len(), 5);
        assert_eq!(days_due(&Frequency::PerWeek(3), 7).len(), 3);
        assert_eq!(days_due(&Frequency::PerWeek(1), 7).len(), 1);
        assert_eq!(days_due(&Frequency::EveryWeeks(2), 28).len(), 2);
        assert_eq!(days_due(&Frequency::Monthly, 30).len(), 1);
        assert_eq!(days_due(&Frequency::Termly, 17 * 7).len(), 1);
    }

    #[test]
    fn weekly_work_of_many_rooms_spreads_over_the_days() {
        let monday = date(2026, 3, 2);
        let due = |room: usize| {
            falls_on(
                &Frequency::PerWeek(1),
                monday,
                Weekdays::WORKING,
                &format!("{room}"),
                "dust",
            )
        };
        let count = (0..500).filter(|room| due(*room)).count();
        assert!(
            (60..=140).contains(&count),
            "{count} of 500 on one of five days"
        );
    }
}
