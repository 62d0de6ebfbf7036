//! From a plan and its measures to the document.

use super::{
    Certificate, EvennessDocument, MinutesDocument, PlanDocument, RunDocument, ShiftDocument,
    StopDocument, StopWord, UndoneDocument, UndoneReason, VERSION, break_names,
};
use crate::plan::{
    Measures, Parts, Plan, PlannedStop, Run, RunMeasures, Tonight, Undone, UndoneWork, What,
};
use crate::site::{Calendar, Site, WorkerId};
use crate::units::Seconds;

/// What a document says beyond the plan and its measures.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Facts {
    /// The program with its version.
    pub program: String,
    /// What the search's choices were drawn from.
    pub seed: u64,
    /// How many rounds the search made.
    pub iterations: u64,
    /// Whether the plan passed the check.
    pub sound: bool,
    /// The bound on the highest share, if there is one.
    pub bound: Option<f64>,
    /// What walking, fills and dumps of any plan of this work take together at least, if that is known.
    pub not_cleaning: Option<Seconds>,
    /// What the bound is made of.
    pub certificate: Vec<Certificate>,
    /// Who is away.
    pub absent: Vec<WorkerId>,
    /// How the night differs from what the site says, if it does.
    pub tonight: Option<Tonight>,
}

impl PlanDocument {
    /// Writes a plan down. `measures` are those of this plan.
    pub fn new(site: &Site, plan: &Plan, measures: &Measures, facts: Facts) -> PlanDocument {
        let calendar = Calendar::new(plan.date, site.time_zone.as_deref());
        let runs = plan.runs.iter().zip(&measures.runs);
        let name = |worker: &WorkerId| site.crew[worker.index()].name.clone();
        PlanDocument {
            version: VERSION,
            program: facts.program,
            site: site.name.clone(),
            date: plan.date.to_string(),
            seed: facts.seed,
            iterations: facts.iterations,
            sound: facts.sound,
            absent: facts.absent.iter().map(name).collect(),
            tonight: facts.tonight,
            undone: plan
                .undone
                .iter()
                .map(|undone| undone_entry(site, undone))
                .collect(),
            evenness: evenness(measures, facts.bound),
            certificate: facts.certificate.into_iter().map(rounded).collect(),
            minutes: MinutesDocument {
                not_cleaning_bound: facts.not_cleaning.map(in_minutes),
                ..minutes(measures.total)
            },
            runs: runs
                .map(|(run, measures)| run_entry(site, &calendar, run, measures))
                .collect(),
        }
    }

    /// The text of the file, indented, with a line break at its end.
    ///
    /// # Errors
    /// Where a number cannot be written: JSON has no infinity.
    pub fn to_json(&self) -> Result<String, serde_json::Error> {
        Ok(serde_json::to_string_pretty(self)? + "\n")
    }
}

fn evenness(measures: &Measures, bound: Option<f64>) -> EvennessDocument {
    let even = measures.evenness;
    let gap = bound.filter(|b| *b > 0.0).map(|b| even.highest / b - 1.0);
    EvennessDocument {
        highest: millionths(even.highest),
        lowest: millionths(even.lowest),
        range: millionths(even.range),
        sd: millionths(even.sd),
        gini: millionths(even.gini),
        bound: bound.map(millionths),
        gap: gap.map(millionths),
    }
}

fn minutes(parts: Parts) -> MinutesDocument {
    MinutesDocument {
        work: in_minutes(parts.work),
        walk: in_minutes(parts.walk),
        fill: in_minutes(parts.fill),
        dump: in_minutes(parts.dump),
        machine: in_minutes(parts.machine),
        set_up: in_minutes(parts.set_up),
        wait: in_minutes(parts.wait),
        idle: in_minutes(parts.idle),
        rest: in_minutes(parts.rest),
        load: in_minutes(parts.load()),
        not_cleaning_bound: None,
    }
}

fn run_entry(site: &Site, calendar: &Calendar, run: &Run, measures: &RunMeasures) -> RunDocument {
    let worker = &site.crew[run.worker.index()];
    let shift = calendar.elapsed_span(worker.shift);
    let stops = run.stops.iter().zip(&measures.walks);
    RunDocument {
        worker: worker.name.clone(),
        shift: ShiftDocument {
            from: shift.from.to_string(),
            to: shift.to.to_string(),
        },
        way: if measures.with_cart {
            "with cart"
        } else {
            "on foot"
        }
        .to_string(),
        share: millionths(measures.share),
        available_minutes: in_minutes(measures.available),
        minutes: minutes(measures.parts),
        floors: measures
            .floors
            .iter()
            .map(|f| site.floors[f.index()].id.clone())
            .collect(),
        stops: stops
            .map(|(stop, walk)| stop_entry(site, run, stop, *walk))
            .collect(),
    }
}

fn stop_entry(site: &Site, run: &Run, stop: &PlannedStop, walk: Seconds) -> StopDocument {
    let room = stop.what.room();
    let said = room.is_some_and(|room| site.place_of_room(room) == stop.place);
    let tasks = stop.what.tasks().iter();
    let mut entry = StopDocument {
        what: StopWord::of(&stop.what),
        room: room.map(|room| site.rooms[room.index()].id.clone()),
        place: (!said).then(|| site.places[stop.place.index()].id.clone()),
        from: stop.span.from.to_string(),
        to: stop.span.to.to_string(),
        tasks: tasks.map(|task| task.task(site).name.clone()).collect(),
        machine: None,
        rest: None,
        duty: None,
        walk_s: walk.0,
    };
    match stop.what {
        What::Fetch(machine) | What::Return(machine) => {
            entry.machine = Some(site.machines[machine.index()].name.clone());
        }
        What::Break(index) => {
            entry.rest = break_names(&site.crew[run.worker.index()])
                .get(index)
                .cloned();
        }
        What::Duty(index) => entry.duty = Some(site.duties[index].name.clone()),
        _ => {}
    }
    entry
}

fn undone_entry(site: &Site, undone: &Undone) -> UndoneDocument {
    let (reason, detail) = UndoneReason::of(&undone.reason);
    let empty = UndoneDocument {
        room: None,
        task: None,
        duty: None,
        priority: None,
        minutes: 0.0,
        reason,
        detail,
    };
    match undone.what {
        UndoneWork::Task(task) => UndoneDocument {
            room: Some(site.rooms[task.room.index()].id.clone()),
            task: Some(task.task(site).name.clone()),
            priority: Some(task.priority(site).word().to_string()),
            minutes: hundredths(task.minutes(site) + task.wipe_minutes(site)),
            ..empty
        },
        UndoneWork::Duty(index) => UndoneDocument {
            duty: Some(site.duties[index].name.clone()),
            minutes: hundredths(site.duties[index].minutes),
            ..empty
        },
    }
}

fn rounded(part: Certificate) -> Certificate {
    Certificate {
        minutes: hundredths(part.minutes),
        ..part
    }
}

fn in_minutes(time: Seconds) -> f64 {
    hundredths(time.as_minutes())
}

fn hundredths(number: f64) -> f64 {
    (number * 1e2).round() / 1e2
}

fn millionths(number: f64) -> f64 {
    (number * 1e6).round() / 1e6
}
