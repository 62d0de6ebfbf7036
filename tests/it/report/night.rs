//! A plan for one night in the small building, put together by hand: every stop follows the one before it by the walk between
//! them.

use super::building::{ROOMS_PER_FLOOR, staff_room};
use evenrun::plan::{Plan, PlannedStop, Reason, Run, Undone, UndoneWork, What};
use evenrun::site::{Calendar, KindId, MachineId, Method, PlaceId, RoomId, Site, WorkerId};
use evenrun::units::{Clock, Seconds, Span};
use evenrun::walk::{Times, Walker};
use evenrun::work::DueTask;
use jiff::civil::date;

/// A room's tasks, those that are wanted.
fn due(site: &Site, room: RoomId, wanted: impl Fn(Method) -> bool) -> Vec<DueTask> {
    let kind = site.rooms[room.index()].kind;
    let all = (0..site.kinds[kind.index()].tasks.len()).map(|index| DueTask { room, kind, index });
    all.filter(|d| wanted(d.task(site).method)).collect()
}

/// A run in the making.
struct Builder<'a> {
    site: &'a Site,
    times: &'a Times,
    stops: Vec<PlannedStop>,
}

impl Builder<'_> {
    fn add(&mut self, what: What, place: PlaceId, length: Seconds, not_before: Clock) {
        let ready = self.stops.last().map_or(not_before, |last| {
            last.span.to + self.times.get(last.place, place).unwrap_or(Seconds::ZERO)
        });
        let from = ready.max(not_before);
        self.stops.push(PlannedStop {
            what,
            place,
            span: Span::new(from, from + length),
        });
    }

    fn room(&mut self, room: RoomId) {
        let place = self.site.place_of_room(room);
        let restroom = self.site.rooms[room.index()].kind == KindId(0);
        let start = Clock(0);
        if !restroom {
            let tasks = due(self.site, room, |_| true);
            let minutes: f64 = tasks.iter().map(|t| t.minutes(self.site)).sum();
            return self.add(
                What::Clean(room, tasks),
                place,
                Seconds::of_work(minutes, 1.0),
                start,
            );
        }
        let fill = self
            .site
            .fill_points()
            .nth(room.index() / ROOMS_PER_FLOOR)
            .unwrap_or(place);
        let wet = due(self.site, room, |m| m.step() <= 2);
        self.add(What::OpenAndWet(room, wet), place, Seconds(300), start);
        let wet_until = self
            .stops
            .last()
            .map_or(start, |s| s.span.from + Seconds(180 + 600));
        self.add(What::Fill, fill, Seconds(180), start);
        let wipe = due(self.site, room, |m| m.step() == 1 || m.step() > 2);
        self.add(What::WipeAndMop(room, wipe), place, Seconds(540), wet_until);
        let dry = self
            .stops
            .last()
            .map_or(start, |s| s.span.to + Seconds(900));
        self.add(What::Reopen(room), place, Seconds(120), dry);
    }
}

/// Rooms dealt out in turn; the last worker, if there are several, stays idle; the last classroom and the lock-up stay undone.
pub(crate) fn plan(site: &Site) -> Plan {
    let working = site.crew.len().max(2) - 1;
    let runs = (0..site.crew.len())
        .map(|w| run(site, w, working))
        .collect();
    let left = RoomId::from(site.rooms.len() - 2);
    let mut undone: Vec<_> = due(site, left, |_| true)
        .into_iter()
        .map(|task| Undone {
            what: UndoneWork::Task(task),
            reason: Reason::NoTime,
        })
        .collect();
    undone.push(Undone {
        what: UndoneWork::Duty(0),
        reason: Reason::Nobody("nobody holds the skill <alarm> & key".into()),
    });
    Plan {
        date: date(2026, 3, 10),
        runs,
        undone,
    }
}

fn run(site: &Site, index: usize, working: usize) -> Run {
    let worker = WorkerId::from(index);
    let times = Times::between_places(
        site,
        &Walker::of(site, worker, true, &calendar()),
        &calendar(),
    );
    let mut builder = Builder {
        site,
        times: &times,
        stops: vec![],
    };
    let rooms = site.rooms.len();
    let mine: Vec<_> = (0..rooms)
        .filter(|i| i * working / rooms == index && *i != rooms - 2)
        .map(RoomId::from)
        .collect();
    if !mine.is_empty() {
        let (home, start) = (site.crew[index].start, site.crew[index].shift.from);
        builder.add(What::SetUp, home, Seconds(600), start);
        let machine = mine
            .iter()
            .any(|r| site.rooms[r.index()].kind == KindId(2))
            .then_some(MachineId(0));
        if let Some(machine) = machine {
            builder.add(What::Fetch(machine), home, Seconds(120), start);
        }
        for (i, room) in mine.iter().enumerate() {
            builder.room(*room);
            if i == mine.len() / 2 {
                builder.add(
                    What::Break(0),
                    staff_room(site),
                    Seconds(1800),
                    Clock::at(20, 0),
                );
            }
        }
        builder.add(What::Dump, home, Seconds(120), start);
        if let Some(machine) = machine {
            builder.add(What::Return(machine), home, Seconds(120), start);
        }
        builder.add(What::TearDown, home, Seconds(600), start);
    }
    Run {
        worker,
        stops: builder.stops,
    }
}

/// The night of the plan.
pub(crate) fn calendar() -> Calendar {
    Calendar::new(date(2026, 3, 10), None)
}
