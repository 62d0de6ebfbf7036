//! Today's split against the best one.
//!
//! ```text
//! split ──> today's plan: the same engine, every job left to its owner ([`today`])
//!                │
//!                ├──> best plan: the same engine and the same work, starting from today's
//!                ▼
//!           the fewest rooms that have to change hands ([`moves`])
//! ```
//!
//! Today's runs may end after the shift, which is then a broken rule and not work left undone: that is how an overlong area shows
//! itself. The independent checker lists the broken rules from the site alone.

mod document;
mod moves;
mod rotation;
mod today;

pub use document::AuditDocument;
pub use moves::{Hand, Moves};
pub use rotation::{Rotation, RotationDocument, rotation};
pub use today::{GivenStop, Late};

use crate::plan::{
    Afterwards, Effort, Ground, Judged, Made, Plan, ReadWalks, Run, begin_with, check_with,
    efforts_with, measure_with, prefer_earlier,
};
use crate::route::{Budget, Handover, Instance, Settings, Standing, Stop, pose};
use crate::site::{RoomId, Site, WorkerId};
use crate::work::{DueTask, Split, Target};
use jiff::civil::Date;
use std::sync::atomic::AtomicBool;
use std::time::Duration;
use today::Today;

/// What is audited.
#[derive(Clone, Copy, Debug)]
pub struct AuditRequest<'a> {
    /// Where.
    pub site: &'a Site,
    /// When.
    pub date: Date,
    /// Who is away.
    pub absent: &'a [WorkerId],
    /// Who owns which rooms.
    pub split: &'a Split,
    /// The order, and the times if there are any, that are to be taken as they are; none to order every run as well as possible.
    pub given: Option<&'a [GivenStop]>,
    /// How long and how to search, for all of it together.
    pub settings: Settings<'a>,
}

/// A room that the split gives to two workers: the first has it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Twice {
    /// The room.
    pub room: RoomId,
    /// Who is written first, and has it here.
    pub first: WorkerId,
    /// Who is written, too.
    pub also: WorkerId,
}

/// Today's split, the best one, and what lies between them.
#[derive(Clone, Debug)]
pub struct Audit {
    /// Today's plan. That undone work would fit into the run of somebody who does not own the room breaks no rule.
    pub today: Judged,
    /// The best plan that was found for the same work, with its proof.
    pub best: Made,
    /// Rooms with work due that nobody on duty owns; their work is in neither plan.
    pub unassigned: Vec<RoomId>,
    /// Stops that cannot begin when they are said to.
    pub late: Vec<Late>,
    /// The rooms that have to change hands.
    pub moves: Moves,
    /// How hard today's runs are.
    pub efforts_today: Vec<(WorkerId, Effort)>,
    /// How hard the best plan's runs are.
    pub efforts_best: Vec<(WorkerId, Effort)>,
}

/// Shares of a budget of time: today's runs, the best plan; the rest is for the moves.
const TODAY: f64 = 0.2;
const BEST: f64 = 0.55;

/// Audits a split.
///
/// # Complexity
/// Two searches as long as `settings` say, and some hundred thousand timings of single runs.
pub fn audit(request: &AuditRequest, watch: &mut dyn FnMut(f64, &Standing)) -> Audit {
    let site = request.site;
    let ground = Ground::of(site, request.date, request.absent);
    let unassigned = unassigned(request, &ground);
    let setting = Today::of(request, &ground);
    let instance = setting.instance(request);
    let after = Afterwards::of(request.settings.stop);
    let request = &AuditRequest {
        settings: request.settings.leaving(after.files),
        ..*request
    };
    let first = until(request.settings, TODAY);
    // Without a best plan there is nothing to tell yet.
    let mut walks = ReadWalks::default();
    let (today_orders, today, late) = setting.plan(request, &instance, first, &mut walks);
    let anyone = Anyone::of(request, &ground, &today);
    let (best_orders, best) = anyone.plan(request, &today, after.proof, watch);
    // Before the moves, which end on time however long this takes.
    let judge = || {
        let today = judged(request, today, &ground, &mut walks);
        let efforts = efforts_with(site, &today.plan, &mut walks);
        (today, efforts)
    };
    let strain = || efforts_with(site, &best.plan, &mut ReadWalks::default());
    let ((today, efforts_today), efforts_best) = rayon::join(judge, strain);
    let wide = moves::wide(&instance, &setting.ground, &anyone.ground);
    let moves = moves::moves(
        request,
        &setting.ground.question(&setting.site),
        today_orders.within(&wide),
        (instance.jobs.len() == anyone.instance.jobs.len()).then(|| best_orders.within(&wide)),
        &best_orders.standing(),
        best.measures.evenness.highest,
    );
    Audit {
        today,
        best,
        unassigned,
        late,
        moves,
        efforts_today,
        efforts_best,
    }
}

/// The same settings with a budget of time cut to its first part; rounds are not cut.
fn until(settings: Settings, part: f64) -> Settings {
    let budget = match settings.stop.budget {
        Budget::Until { from, to } => Budget::Until {
            from,
            to: from + to.saturating_duration_since(from).mul_f64(part),
        },
        rounds @ Budget::Iterations(_) => rounds,
    };
    with_budget(settings, budget)
}

fn with_budget(settings: Settings, budget: Budget) -> Settings {
    let interrupted: &AtomicBool = settings.stop.interrupted;
    Settings {
        stop: Stop {
            budget,
            interrupted,
        },
        ..settings
    }
}

/// What is left of a budget of time from its first part on.
fn after(settings: Settings, from_part: f64, to_part: f64) -> Settings {
    let budget = match settings.stop.budget {
        Budget::Until { from, to } => {
            let whole: Duration = to.saturating_duration_since(from);
            Budget::Until {
                from: from + whole.mul_f64(from_part),
                to: from + whole.mul_f64(to_part),
            }
        }
        rounds @ Budget::Iterations(_) => rounds,
    };
    with_budget(settings, budget)
}

fn unassigned(request: &AuditRequest, ground: &Ground) -> Vec<RoomId> {
    let room = |target: &Target| match target {
        Target::Room(tasks) => tasks.first().map(|t: &DueTask| t.room),
        Target::Duty(_) => None,
    };
    let mut rooms: Vec<RoomId> = (ground.jobs.jobs.iter())
        .filter_map(|job| room(&job.target))
        .chain(ground.jobs.nobody.iter().map(|(task, _)| task.room))
        .filter(|r| owner(request.split, &ground.present, *r).is_none())
        .collect();
    rooms.sort_unstable();
    rooms.dedup();
    rooms
}

fn owner(split: &Split, present: &[WorkerId], room: RoomId) -> Option<WorkerId> {
    split.owner(room).filter(|owner| present.contains(owner))
}

/// The same work for anyone who may: that of the rooms that somebody on duty owns.
struct Anyone {
    ground: Ground,
    instance: Instance,
}

impl Anyone {
    fn of(request: &AuditRequest, ground: &Ground, today: &Plan) -> Anyone {
        let mut ground = ground.clone();
        ground.jobs = request.split.only_owned(ground.jobs, &ground.present);
        let question = ground.question(request.site);
        let mut instance = pose(&question);
        prefer_earlier(&mut instance, &question, today);
        Anyone { ground, instance }
    }

    /// The best plan, starting from today's.
    fn plan(
        &self,
        request: &AuditRequest,
        today: &Plan,
        proof: Duration,
        watch: &mut dyn FnMut(f64, &Standing),
    ) -> (Handover<'_>, Made) {
        let site = request.site;
        let start = begin_with(&self.instance, &self.ground.question(site), today);
        let settings = after(request.settings, TODAY, BEST);
        let search = settings.leaving(proof);
        let (orders, found) = Handover::by_search(&self.instance, Some(&start), search, watch);
        let present = &self.ground.present;
        let owned = |_, task: DueTask| owner(request.split, present, task.room).is_some();
        (
            orders,
            self.ground
                .answer(site, &self.instance, &found, settings.stop, &owned),
        )
    }
}

/// Today's plan against the rules of the site.
fn judged(request: &AuditRequest, plan: Plan, ground: &Ground, walks: &mut ReadWalks) -> Judged {
    let site = request.site;
    let owned = owned(request.split);
    Judged {
        violations: check_with(site, &plan, &ground.present, &owned, walks),
        measures: measure_with(site, &plan, walks),
        calendar: ground.calendar.clone(),
        plan,
    }
}

/// Whether a task is in a room that a worker owns.
fn owned(split: &Split) -> impl Fn(WorkerId, DueTask) -> bool {
    |worker, task| split.owner(task.room) == Some(worker)
}

/// How many rooms a run has.
pub fn rooms_of(run: &Run) -> usize {
    let mut rooms: Vec<RoomId> = run.stops.iter().filter_map(|s| s.what.room()).collect();
    rooms.sort_unstable();
    rooms.dedup();
    rooms.len()
}
