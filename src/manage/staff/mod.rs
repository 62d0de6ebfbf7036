//! How many people it takes: the least crew of people alike for a given shift with nothing undone.
//!
//! A plan is made for each number of people, one more at a time, beginning with the least number that is not ruled out, until nothing is
//! left undone but what nobody ever does: that number is enough. Ruled out is what the proven bound on the highest share says does not fit into the
//! shifts, and what the hours of the rooms do not let so few hands do. Both count only what no plan can avoid, so between the two numbers nobody knows.

mod alike;
mod attempt;
mod document;
mod formulas;
mod least;
mod pace;
mod workload;

pub use attempt::Attempt;
pub use document::StaffDocument;
pub use formulas::{Formula, SchoolFigures, casbo, formulas, usps_people};
pub use workload::{Turn, Workload, workload};

use crate::plan::Ground;
use crate::route::{Settings, pose};
use crate::site::{Priority, Site};
use crate::units::{Seconds, Span};
use crate::walk::ideal_times;
use attempt::tried;
use jiff::civil::Date;
use least::{at_least, possible};
use pace::Pace;

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
