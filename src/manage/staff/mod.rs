//! How many people it takes: the least crew of people alike for a given shift with nothing undone.
//!
//! A plan is made for each number of people, one more at a time, beginning with the least number that is not ruled out, until nothing is
//! left undone but what nobody ever does: that number is enough. Ruled out is what the proven bound on the highest share says does not fit into the
//! shifts, and what the hours of the rooms do not let so few hands do. Both count only what no plan can avoid, so between the two numbers nobody knows.

mod alike;
mod document;
mod formulas;
mod pace;
mod workload;

pub use document::StaffDocument;
pub use formulas::{Formula, SchoolFigures, casbo, formulas, usps_people};
pub use workload::{Turn, Workload, workload};

use crate::balance::{bound, least_people};
use crate::plan::{Ground, Request, UndoneWork, draft, measure, settle};
use crate::route::{Alone, Budget, Instance, Job, Settings, Stop, pose};
use crate::site::{PlaceId, Priority, Site};
use crate::units::{Seconds, Span};
use crate::walk::{Times, ideal_times};
use jiff::civil::Date;
use pace::Pace;
use std::time::Duration;

/// What is asked.
#[derive(Clone, Copy, Debug)]
pub struct StaffRequest<'a> {
    /// Where.
    pub site: &'a Site,
    /// For which date.
    pub date: Date,
    /// Everybody's shift; none is that of the first of the crew.
    pub shift: Option<Span>,
    /// Whether the people for work that matters more are looked for, too.
    pub levels: bool,
    /// What is known of a school.
    pub school: Option<SchoolFigures>,
    /// How long and how to search, for all of it together.
    pub settings: Settings<'a>,
}

/// A plan with so many people.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Attempt {
    /// How many.
    pub people: usize,
    /// Whether they are enough: a sound plan leaves nothing undone but what nobody ever does.
    pub enough: bool,
    /// The highest share.
    pub highest: f64,
    /// The lowest share.
    pub lowest: f64,
    /// Undone work at pace 1.
    pub undone: Seconds,
    /// Undone tasks and duties.
    pub left: usize,
}

/// The people for all work that matters at least so much.
#[derive(Clone, Debug, PartialEq)]
pub struct Level {
    /// The least important work that is done.
    pub priority: Priority,
    /// Fewer than so many cannot do it.
    pub at_least: usize,
    /// So many were found to be enough; `None` if no number that was tried was.
    pub enough: Option<usize>,
    /// What is left undone by nobody's lack of time: the same for any number of people.
    pub never_done: usize,
    /// Plans that were made, by number of people: also with one more and one fewer than enough.
    pub attempts: Vec<Attempt>,
    /// Hours of cleaning a week.
    pub weekly_hours: f64,
    /// Hours of cleaning a year.
    pub yearly_hours: f64,
}

/// How many people it takes.
#[derive(Clone, Debug)]
pub struct Staff {
    /// For which date.
    pub date: Date,
    /// Everybody's shift, as elapsed time.
    pub shift: Span,
    /// Time available to each.
    pub available: Seconds,
    /// All work first, then, if asked for, without appearance, and health alone.
    pub levels: Vec<Level>,
    /// How many of those asked for there was no time for.
    pub levels_left: usize,
    /// Hours by how often and how much it matters.
    pub workload: Workload,
    /// Floor area of all rooms in square feet.
    pub square_feet: f64,
    /// Published formulas.
    pub formulas: Vec<Formula>,
}

/// Most people that are tried: more than any one building has on one shift.
const MOST: usize = 400;

/// Plans that a budget of time is shared among at most; the demo takes about half as many.
const PLANS: f64 = 9.0;

/// So much of a budget of time may pass, for each kind of work, before fewer people are no longer ruled out.
const PROOF: f64 = 0.2;

/// Finds how many people it takes.
///
/// # Complexity
/// One search for each number of people that is tried.
pub fn staff(request: &StaffRequest, watch: &mut dyn FnMut(usize)) -> Staff {
    let site = request.site;
    let priorities: &[Priority] = if request.levels {
        &[Priority::Appearance, Priority::Expected, Priority::Health]
    } else {
        &[Priority::Appearance]
    };
    let workload = workload(site);
    let mut pace = Pace::new(request.settings.stop);
    let (mut levels, mut everybody) = (Vec::new(), Everybody::default());
    for priority in priorities {
        if levels.is_empty() || pace.has_time() {
            let (level, alike) = level(request, *priority, &workload, &mut pace, watch);
            levels.push(level);
            everybody = alike;
        }
    }
    let square_feet = formulas::square_feet(site);
    let yearly = workload.yearly_to(Priority::Appearance);
    Staff {
        date: request.date,
        shift: everybody.shift,
        available: everybody.available,
        levels_left: priorities.len() - levels.len(),
        levels,
        formulas: formulas(square_feet, yearly, request.school.as_ref()),
        square_feet,
        workload,
    }
}

/// What all of them have in common.
#[derive(Clone, Copy, Debug, Default)]
struct Everybody {
    shift: Span,
    available: Seconds,
}

fn level(
    request: &StaffRequest,
    priority: Priority,
    workload: &Workload,
    pace: &mut Pace,
    watch: &mut dyn FnMut(usize),
) -> (Level, Everybody) {
    let site = alike::with_work_to(request.site, priority);
    let crew = |people| alike::with_people(&site, request.shift, people);
    let one = crew(1);
    let ground = Ground::of(&one, request.date, &[]);
    let instance = pose(&ground.question(&one));
    let available = instance.workers.first().map_or(0, |w| w.available);
    let everybody = Everybody {
        shift: ground.calendar.elapsed_span(one.crew[0].shift),
        available: Seconds(i64::from(available)),
    };
    let (scope, never_done) = possible(&ground, &instance);
    let ideal = ideal_times(&one, &ground.calendar);
    let at_least = at_least(instance, &scope, &ideal, request.settings.stop);
    let mut attempts: Vec<Attempt> = Vec::new();
    let mut attempt = |people: usize, attempts: &mut Vec<Attempt>, pace: &mut Pace| {
        watch(people);
        let tried = pace.time(|| tried(request, &crew(people), people, never_done));
        attempts.push(tried);
        tried.enough
    };
    let mut enough = None;
    for people in at_least..=MOST.max(at_least) {
        if attempt(people, &mut attempts, pace) {
            enough = Some(people);
            break;
        }
        // More people do not help where the last ones had nothing to do.
        let idle = attempts.last().is_some_and(|a| a.lowest <= 0.0);
        if idle || !pace.has_time() {
            break;
        }
    }
    if let Some(people) = enough {
        let untried = [Some(people + 1), people.checked_sub(1).filter(|p| *p > 0)];
        for people in untried.into_iter().flatten() {
            if pace.has_time() && attempts.iter().all(|a| a.people != people) {
                attempt(people, &mut attempts, pace);
            }
        }
    }
    attempts.sort_by_key(|a| a.people);
    let level = Level {
        priority,
        at_least,
        enough,
        never_done,
        attempts,
        weekly_hours: workload.weekly_to(priority),
        yearly_hours: workload.yearly_to(priority),
    };
    (level, everybody)
}

/// How many tasks of each job can be done at all; and how many tasks and duties are left undone however many people there are: nobody may
/// do them, or they fit into no shift even alone.
fn possible(ground: &Ground, instance: &Instance) -> (Vec<u8>, usize) {
    let mut alone = Alone::new(instance);
    let most = |(index, job): (usize, &Job)| {
        let fits = |scope: &u8| alone.fits(index as u32, *scope);
        (1..=job.full()).rev().find(fits).unwrap_or(0)
    };
    let scope: Vec<u8> = instance.jobs.iter().enumerate().map(most).collect();
    let jobs = instance.jobs.iter().zip(&scope);
    let left: usize = jobs.map(|(job, most)| usize::from(job.full() - most)).sum();
    let nobody = ground.jobs.nobody.len() + ground.jobs.nobody_duty.len();
    (scope, nobody + left)
}

/// The least number of people that is not ruled out: with fewer, some run would have to be longer than anybody's time, or the rooms' hours
/// are too short for so few hands. Where time is short, not all that could be are ruled out.
fn at_least(mut instance: Instance, scope: &[u8], ideal: &Times, stop: Stop) -> usize {
    let Some(worker) = instance.workers.first() else {
        return 1;
    };
    // Reserve may be used where nothing else helps; breaks may not.
    let rest: i32 = worker.breaks.iter().map(|b| b.length).sum();
    let most = f64::from(worker.latest - worker.from - rest);
    let available = f64::from(worker.available);
    let by_windows = least_people(&instance, scope);
    let way = |from, to| ideal.get(PlaceId(from), PlaceId(to)).map_or(0, |t| t.0);
    let mut possible = |people: usize| {
        instance.be_alike(people);
        let fits = |stop: Stop| bound(&instance, scope, &way, stop).share * available <= most;
        // Far too few are ruled out without any look at walking.
        fits(stop.leaving(Duration::MAX)) && fits(stop)
    };
    let begun = stop.used();
    let enough = (begun + stop.left()).mul_f64(PROOF);
    let in_time = || stop.used().saturating_sub(begun) <= enough;
    let (mut ruled_out, mut open) = (0, 1);
    while in_time() && open < MOST && !possible(open) {
        (ruled_out, open) = (open, open * 2);
    }
    // More people never need more: the least one is found by halving.
    while in_time() && open - ruled_out > 1 {
        let middle = usize::midpoint(ruled_out, open);
        if possible(middle) {
            open = middle;
        } else {
            ruled_out = middle;
        }
    }
    (ruled_out + 1).max(by_windows)
}

/// A plan with so many people. What a plan that leaves nothing undone is worth the check tells.
fn tried(request: &StaffRequest, site: &Site, people: usize, never_done: usize) -> Attempt {
    let ground = Ground::of(site, request.date, &[]);
    let request = Request {
        site,
        date: request.date,
        absent: &[],
        keep: None,
        settings: part_of(request.settings, request.levels),
    };
    let mut plan = draft(&request, &ground);
    let enough = plan.undone.len() <= never_done
        && settle(site, &mut plan, &ground.present, &|_, _| true).is_empty();
    let minutes = |work: &UndoneWork| match work {
        UndoneWork::Task(task) => task.minutes(site) + task.wipe_minutes(site),
        UndoneWork::Duty(duty) => site.duties[*duty].minutes,
    };
    let undone: f64 = plan.undone.iter().map(|u| minutes(&u.what)).sum();
    let evenness = measure(site, &plan).evenness;
    Attempt {
        people,
        enough,
        highest: evenness.highest,
        lowest: evenness.lowest,
        undone: Seconds::of_work(undone, 1.0),
        left: plan.undone.len(),
    }
}

/// The part of a budget of time that one plan has; rounds are for each.
fn part_of(settings: Settings<'_>, levels: bool) -> Settings<'_> {
    let Budget::Until { from, to } = settings.stop.budget else {
        return settings;
    };
    let plans = if levels { PLANS * 1.5 } else { PLANS };
    let each = to.saturating_duration_since(from).div_f64(plans);
    let now = from + from.elapsed();
    Settings {
        stop: Stop {
            budget: Budget::Until {
                from: now,
                to: (now + each).min(to),
            },
            ..settings.stop
        },
        ..settings
    }
}
