//! The smallest thing that would have saved what is left undone: some more minutes, somebody who may do it, a longer opening.

use crate::plan::{Reason, Undone, UndoneWork};
use crate::route::{Found, Instance, Overrun, Question, Stop, overruns};
use crate::site::{Moves, Site, WorkerId};
use crate::units::{Clock, Seconds};
use crate::work::{DueTask, Jobs, Target};
use itertools::Itertools;

/// Something that would have saved a piece of work, all else as planned.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Saver {
    /// More time for somebody who is there.
    Minutes {
        /// How much.
        more: Seconds,
        /// Who would need the least.
        nearest: WorkerId,
        /// What whoever does it must have: skills, keys, a cart.
        needs: Vec<String>,
        /// By when, if the room is not open for long enough.
        before: Option<Clock>,
    },
    /// Somebody who is not there.
    Person {
        /// How long the work takes at pace 1.
        work: Seconds,
        /// What that person must have.
        needs: Vec<String>,
        /// Who of the crew could, were they there.
        could: Vec<WorkerId>,
        /// By when.
        before: Option<Clock>,
    },
    /// A room that is open for longer while somebody is there.
    Opening {
        /// How long the work takes at pace 1.
        work: Seconds,
    },
}

impl Saver {
    /// What saves two pieces of work in one room that the same thing saves, this one being less important than the other; `None` if they are
    /// saved by different things.
    pub fn and(&self, other: &Saver) -> Option<Saver> {
        match (self, other) {
            // More minutes are reckoned with all that is more important in the room done too.
            (
                Saver::Minutes {
                    more: own, needs, ..
                },
                Saver::Minutes {
                    more, needs: same, ..
                },
            ) => (needs == same).then(|| {
                if more > own {
                    other.clone()
                } else {
                    self.clone()
                }
            }),
            (
                Saver::Person {
                    work: a,
                    needs,
                    could,
                    before,
                },
                Saver::Person {
                    work: b,
                    needs: same,
                    ..
                },
            ) => (needs == same).then(|| Saver::Person {
                work: *a + *b,
                needs: needs.clone(),
                could: could.clone(),
                before: *before,
            }),
            (Saver::Opening { work: a }, Saver::Opening { work: b }) => {
                Some(Saver::Opening { work: *a + *b })
            }
            _ => None,
        }
    }

    /// In words, as a lead would say it.
    pub fn words(&self, site: &Site) -> String {
        let name = |w: &WorkerId| site.crew[w.index()].name.as_str();
        let by = |before: &Option<Clock>| {
            before.map_or_else(String::new, |at| format!(" before {}", at.hour_minute()))
        };
        match self {
            Saver::Minutes {
                more,
                nearest,
                needs,
                before,
            } if needs.is_empty() => {
                format!(
                    "{} for {}{}",
                    minutes(*more, "more "),
                    name(nearest),
                    by(before)
                )
            }
            Saver::Minutes {
                more,
                nearest,
                needs,
                before,
            } => format!(
                "{} for anyone with {}{} ({} comes nearest)",
                minutes(*more, "more "),
                needs.join(" and "),
                by(before),
                name(nearest)
            ),
            Saver::Person {
                work,
                needs,
                could,
                before,
            } => {
                let who = if needs.is_empty() {
                    "one more person".to_string()
                } else {
                    format!("anyone with {}", needs.join(" and "))
                };
                let could = could.iter().map(name).join(" or ");
                let could = if could.is_empty() {
                    could
                } else {
                    format!(" ({could})")
                };
                format!("{} of {who}{}{could}", minutes(*work, ""), by(before))
            }
            Saver::Opening { work } => format!(
                "the room open for {} longer while somebody is there who may do it",
                minutes(*work, "")
            ),
        }
    }
}

/// `12 more minutes`, rounded up.
fn minutes(time: Seconds, more: &str) -> String {
    let whole = ((time.0 + 59) / 60).max(1);
    format!(
        "{whole} {more}{}",
        if whole == 1 { "minute" } else { "minutes" }
    )
}

/// For each piece of undone work what would have saved it; `None` where nothing so simple would, or it is time to stop.
/// `staying` are those who are there to the end.
///
/// # Complexity
/// As [`overruns`], for each room left undone.
pub fn saved_by(
    question: &Question,
    staying: &[WorkerId],
    jobs: &Jobs,
    (instance, found): (&Instance, &Found),
    undone: &[Undone],
    stop: Stop,
) -> Vec<Option<Saver>> {
    let wants = undone.iter().map(|u| wanted(jobs, u.what)).collect_vec();
    let asked = wants.iter().flatten().copied().unique().collect_vec();
    let answers = overruns(instance, found, &asked, stop);
    let one = |(undone, want): (&Undone, &Option<(u32, u8)>)| {
        let at = asked.iter().position(|a| Some(*a) == *want);
        let answer = at.map_or(Some(&None), |at| answers.get(at))?;
        saver(question, staying, undone, *answer)
    };
    undone.iter().zip(&wants).map(one).collect()
}

/// The job, and how many of its tasks it takes to do this one too.
fn wanted(jobs: &Jobs, what: UndoneWork) -> Option<(u32, u8)> {
    let at = |job: &crate::work::Job| match (&job.target, what) {
        (Target::Duty(duty), UndoneWork::Duty(wanted)) => (*duty == wanted).then_some(0),
        (Target::Room(tasks), UndoneWork::Task(task)) => tasks.iter().position(|t| *t == task),
        _ => None,
    };
    let mut found = (0..)
        .zip(&jobs.jobs)
        .filter_map(|(job, j)| Some((job, at(j)? as u8 + 1)));
    found.next()
}

fn saver(
    question: &Question,
    staying: &[WorkerId],
    undone: &Undone,
    overrun: Option<Overrun>,
) -> Option<Saver> {
    let (site, work) = (question.site, undone.what);
    let (time, needs) = match work {
        UndoneWork::Task(task) => (
            Seconds::of_work(task.minutes(site) + task.wipe_minutes(site), 1.0),
            needs(site, task),
        ),
        UndoneWork::Duty(duty) => (
            Seconds::of_work(site.duties[duty].minutes, 1.0),
            named(
                &site.skills,
                site.duties[duty].skills.iter().map(|s| s.index()),
            ),
        ),
    };
    match (&undone.reason, overrun) {
        (Reason::NoTime | Reason::NoWindow(_), Some(Overrun { seconds, worker }))
            if seconds > 0 =>
        {
            Some(Saver::Minutes {
                more: Seconds(i64::from(seconds)),
                nearest: question.present[worker],
                needs,
                before: closes(question, staying, work),
            })
        }
        (Reason::NoWindow(_), _) => Some(Saver::Opening { work: time }),
        // Time alone would not do: somebody would have to stand beside those who are there.
        (Reason::Nobody(_), _) | (Reason::NoTime, None) => Some(Saver::Person {
            work: time,
            needs,
            could: could(site, staying, work),
            before: closes(question, staying, work),
        }),
        (Reason::NoTime, Some(_)) | (Reason::TooLate(_), _) => None,
    }
}

fn named(names: &[String], indices: impl Iterator<Item = usize>) -> Vec<String> {
    indices.map(|i| format!("`{}`", names[i])).collect()
}

/// Skills, keys and a cart that a task takes.
fn needs(site: &Site, task: DueTask) -> Vec<String> {
    let room = &site.rooms[task.room.index()];
    let mut needs = named(
        &site.skills,
        task.task(site).skills.iter().map(|s| s.index()),
    );
    needs.extend(named(&site.access, room.needs.iter().map(|a| a.index())));
    let door = site.places[task.room.index()].door.as_ref();
    let keys = door.map_or(&[][..], |d| &d.needs);
    needs.extend(named(&site.access, keys.iter().map(|a| a.index())));
    if task.needs_cart(site) && site.crew.iter().any(|w| w.moves == Moves::Foot) {
        needs.push("a cart".to_string());
    }
    needs.into_iter().unique().collect()
}

/// Who of the crew is not there and has all it takes; whether they could get there is not looked at.
fn could(site: &Site, staying: &[WorkerId], work: UndoneWork) -> Vec<WorkerId> {
    let UndoneWork::Task(task) = work else {
        return Vec::new();
    };
    let (room, need) = (&site.rooms[task.room.index()], task.task(site));
    let able = |id: &WorkerId| {
        let who = &site.crew[id.index()];
        !staying.contains(id)
            && !room.never.contains(id)
            && (room.only.is_empty() || room.only.contains(id))
            && need.skills.iter().all(|s| who.skills.contains(s))
            && room.needs.iter().all(|a| who.access.contains(a))
            && (who.heavy || !need.heavy)
            && (who.moves != Moves::Foot || !task.needs_cart(site))
    };
    (0..site.crew.len())
        .map(WorkerId::from)
        .filter(able)
        .collect()
}

/// When a room, or the window of a duty, is shut for the night, if that is before everybody has gone.
fn closes(question: &Question, staying: &[WorkerId], work: UndoneWork) -> Option<Clock> {
    let site = question.site;
    let hours = match work {
        UndoneWork::Task(task) => site.rooms[task.room.index()].open.as_ref(),
        UndoneWork::Duty(duty) => site.duties[duty].window.as_ref(),
    };
    let shifts = staying.iter().map(|w| site.crew[w.index()].shift);
    let end = shifts.map(|s| question.calendar.elapsed(s.to)).max()?;
    let begin = question
        .present
        .iter()
        .map(|w| site.crew[w.index()].shift.from)
        .min()?;
    let windows = question.calendar.windows(hours?);
    let tonight = windows.iter().filter(|w| w.to > begin && w.from < end);
    let last = tonight.map(|w| w.to).max()?;
    (last < end).then(|| question.calendar.wall(last))
}
