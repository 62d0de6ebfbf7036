//! A plan with a number of people alike, made to count what it leaves undone.

use super::StaffRequest;
use crate::plan::{Ground, ReadWalks, Request, UndoneWork, draft, measure_with, settle};
use crate::route::{Budget, Settings, Stop};
use crate::site::Site;
use crate::units::Seconds;

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

/// Plans that a budget of time is shared among at most; the demo takes about half as many.
const PLANS: f64 = 9.0;

/// A plan with so many people. What a plan that leaves nothing undone is worth the check tells.
pub(super) fn tried(
    request: &StaffRequest,
    site: &Site,
    people: usize,
    never_done: usize,
) -> Attempt {
    let ground = Ground::of(site, request.date, &[]);
    let request = Request {
        site,
        date: request.date,
        absent: &[],
        keep: None,
        settings: part_of(request.settings, request.levels),
    };
    let mut plan = draft(&request, &ground);
    let mut walks = ReadWalks::default();
    let enough = plan.undone.len() <= never_done
        && settle(site, &mut plan, &ground.present, &|_, _| true, &mut walks).is_empty();
    let minutes = |work: &UndoneWork| match work {
        UndoneWork::Task(task) => task.minutes(site) + task.wipe_minutes(site),
        UndoneWork::Duty(duty) => site.duties[*duty].minutes,
    };
    let undone: f64 = plan.undone.iter().map(|u| minutes(&u.what)).sum();
    let evenness = measure_with(site, &plan, &mut walks).evenness;
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
