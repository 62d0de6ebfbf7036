//! An audit as it is written: one JSON object, with the names of the site file.

use super::{Audit, Rotation, RotationDocument, Twice};
use crate::plan::{
    Effort, EvennessDocument, Facts, Measures, Plan, PlanDocument, Run, RunMeasures,
    UndoneDocument, Violation,
};
use crate::site::{RoomId, Site, WorkerId};
use crate::units::Seconds;
use schemars::JsonSchema;
use serde::Serialize;
use std::collections::BTreeMap;

/// The version of documents written here.
const VERSION: u32 = 1;

/// The written audit.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct AuditDocument {
    /// Version of this format: 1.
    pub version: u32,
    /// The program that wrote it, with its version.
    pub program: String,
    /// The site's name.
    pub site: String,
    /// The date audited.
    pub date: String,
    /// What the search's choices were drawn from.
    pub seed: u64,
    /// Rooms with work due that nobody on duty owns; left out of both plans.
    pub unassigned: Vec<String>,
    /// Rooms that are written for two workers: the first has them.
    pub twice: Vec<TwiceDocument>,
    /// Today's split.
    pub today: SideDocument,
    /// The best plan found for the same work.
    pub best: SideDocument,
    /// Stops that cannot begin when they are said to.
    pub late: Vec<LateDocument>,
    /// The rooms that have to change hands.
    pub moves: MovesDocument,
    /// Everybody's efforts over several plans, if any were given.
    pub rotation: Vec<RotationDocument>,
}

/// A room written twice.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct TwiceDocument {
    /// The room.
    pub room: String,
    /// Who has it.
    pub worker: String,
    /// Who is written, too.
    pub also: String,
}

/// One of the two plans.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SideDocument {
    /// By worker.
    pub runs: Vec<SideRunDocument>,
    /// How even the runs are.
    pub evenness: EvennessDocument,
    /// What is due and not done.
    pub undone: Vec<UndoneDocument>,
    /// The broken rules.
    pub broken: Vec<BrokenDocument>,
}

/// One worker's run.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SideRunDocument {
    /// Whose.
    pub worker: String,
    /// How many rooms.
    pub rooms: usize,
    /// Busy minutes.
    pub load_minutes: f64,
    /// Minutes there are.
    pub available_minutes: f64,
    /// Load over available.
    pub share: f64,
    /// Minutes after the end of the shift.
    pub overtime_minutes: f64,
    /// How hard it is, by figure.
    pub effort: BTreeMap<String, f64>,
}

/// A broken rule.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BrokenDocument {
    /// Its number.
    pub rule: usize,
    /// Its name.
    pub name: String,
    /// What is wrong.
    pub message: String,
}

/// A stop that cannot begin when it is said to.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LateDocument {
    /// Whose.
    pub worker: String,
    /// Where.
    pub room: String,
    /// When it is said to begin.
    pub said: String,
    /// When it can.
    pub can: String,
}

/// The rooms that have to change hands.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct MovesDocument {
    /// The part of the gain that they bring.
    pub part: f64,
    /// Whether they bring it.
    pub enough: bool,
    /// Whether all smaller sets were tried, and none was enough.
    pub smallest: bool,
    /// Highest share today.
    pub today: f64,
    /// Highest share of the best plan.
    pub best: f64,
    /// Highest share after the moves.
    pub after: f64,
    /// The moves.
    pub rooms: Vec<HandDocument>,
}

/// A room that changes hands.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct HandDocument {
    /// The room.
    pub room: String,
    /// Whose it is.
    pub from: String,
    /// Whose it becomes.
    pub to: String,
}

impl AuditDocument {
    /// Writes an audit down.
    pub fn new(
        site: &Site,
        audit: &Audit,
        twice: &[Twice],
        rotation: &[Rotation],
        facts: &Facts,
    ) -> AuditDocument {
        let worker = |w: WorkerId| site.crew[w.index()].name.clone();
        let room = |r: RoomId| site.rooms[r.index()].id.clone();
        AuditDocument {
            version: VERSION,
            program: facts.program.clone(),
            site: site.name.clone(),
            date: audit.today.plan.date.to_string(),
            seed: facts.seed,
            unassigned: audit.unassigned.iter().map(|r| room(*r)).collect(),
            twice: twice
                .iter()
                .map(|t| TwiceDocument {
                    room: room(t.room),
                    worker: worker(t.first),
                    also: worker(t.also),
                })
                .collect(),
            today: Side::today(audit).document(site),
            best: Side::best(audit).document(site),
            late: audit
                .late
                .iter()
                .map(|late| LateDocument {
                    worker: worker(late.worker),
                    room: room(late.room),
                    said: late.said.to_string(),
                    can: late.can.to_string(),
                })
                .collect(),
            moves: MovesDocument {
                part: super::moves::PART,
                enough: audit.moves.enough,
                smallest: audit.moves.smallest,
                today: millionths(audit.moves.today),
                best: millionths(audit.moves.best),
                after: millionths(audit.moves.after),
                rooms: audit
                    .moves
                    .hands
                    .iter()
                    .map(|hand| HandDocument {
                        room: room(hand.room),
                        from: worker(hand.from),
                        to: worker(hand.to),
                    })
                    .collect(),
            },
            rotation: rotation
                .iter()
                .map(|r| RotationDocument::new(site, r))
                .collect(),
        }
    }

    /// The text of the object, indented, with a line break at its end.
    ///
    /// # Errors
    /// Where a number cannot be written: JSON has no infinity.
    pub fn to_json(&self) -> Result<String, serde_json::Error> {
        Ok(serde_json::to_string_pretty(self)? + "\n")
    }
}

/// One of the two plans.
struct Side<'a> {
    plan: &'a Plan,
    measures: &'a Measures,
    violations: &'a [Violation],
    efforts: &'a [(WorkerId, Effort)],
    bound: Option<f64>,
}

impl<'a> Side<'a> {
    fn today(audit: &'a Audit) -> Side<'a> {
        Side {
            plan: &audit.today.plan,
            measures: &audit.today.measures,
            violations: &audit.today.violations,
            efforts: &audit.efforts_today,
            bound: None,
        }
    }

    fn best(audit: &'a Audit) -> Side<'a> {
        Side {
            plan: &audit.best.plan,
            measures: &audit.best.measures,
            violations: &audit.best.violations,
            efforts: &audit.efforts_best,
            bound: Some(audit.best.bound.share),
        }
    }

    fn document(&self, site: &Site) -> SideDocument {
        let facts = Facts {
            bound: self.bound,
            ..Facts::default()
        };
        let plan = PlanDocument::new(site, self.plan, self.measures, facts);
        let runs = self.plan.runs.iter().zip(&self.measures.runs);
        let run = |((run, measures), (_, strain)): ((&Run, &RunMeasures), &(WorkerId, Effort))| {
            SideRunDocument {
                worker: site.crew[run.worker.index()].name.clone(),
                rooms: super::rooms_of(run),
                load_minutes: minutes(measures.load),
                available_minutes: minutes(measures.available),
                share: millionths(measures.share),
                overtime_minutes: minutes(measures.overtime),
                effort: effort(strain),
            }
        };
        let broken = |v: &Violation| BrokenDocument {
            rule: v.rule.number(),
            name: v.rule.name().to_string(),
            message: v.message.clone(),
        };
        SideDocument {
            runs: runs.zip(self.efforts).map(run).collect(),
            evenness: plan.evenness,
            undone: plan.undone,
            broken: self.violations.iter().map(broken).collect(),
        }
    }
}

/// Figures by their names, to tenths.
pub(super) fn effort(effort: &Effort) -> BTreeMap<String, f64> {
    let figures = effort.figures().map(|f| (f * 10.0).round() / 10.0);
    let names = Effort::NAMES.into_iter().map(str::to_string);
    names.zip(figures).collect()
}

fn minutes(time: Seconds) -> f64 {
    (time.as_minutes() * 100.0).round() / 100.0
}

fn millionths(share: f64) -> f64 {
    (share * 1e6).round() / 1e6
}
