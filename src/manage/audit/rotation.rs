//! Whether hard work goes round: the efforts of several plans, a week or a month of them, by person.

use crate::plan::{Effort, Plan, efforts};
use crate::site::{Site, WorkerId};
use schemars::JsonSchema;
use serde::Serialize;
use std::collections::BTreeMap;

/// One person over several plans.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rotation {
    /// Who.
    pub worker: WorkerId,
    /// In how many of the plans they have a run with stops.
    pub shifts: usize,
    /// All of it together.
    pub effort: Effort,
    /// In how many plans they had the most of each figure, in the order of [`Effort::NAMES`]; nobody has the most of nothing.
    pub most: [usize; 6],
    /// Their part of everybody's, in the same order; nothing where there is none at all.
    pub part: [Option<f64>; 6],
}

/// Everybody who has a run in one of the plans, in the order of the crew.
pub fn rotation(site: &Site, plans: &[Plan]) -> Vec<Rotation> {
    let mut all: BTreeMap<WorkerId, (usize, Effort, [usize; 6])> = BTreeMap::new();
    for plan in plans {
        let efforts = efforts(site, plan);
        let working = |worker: WorkerId| {
            let run = plan.runs.iter().find(|r| r.worker == worker);
            run.is_some_and(|r| !r.stops.is_empty())
        };
        for (worker, effort) in efforts.iter().filter(|(w, _)| working(*w)) {
            let one = all.entry(*worker).or_default();
            one.0 += 1;
            one.1 = one.1.and(*effort);
        }
        for figure in 0..Effort::NAMES.len() {
            let of = |e: &Effort| e.figures()[figure];
            let most = efforts.iter().map(|(_, e)| of(e)).fold(0.0, f64::max);
            for (worker, effort) in &efforts {
                if most > 0.0 && of(effort) >= most {
                    all.entry(*worker).or_default().2[figure] += 1;
                }
            }
        }
    }
    let total = all
        .values()
        .fold(Effort::default(), |sum, one| sum.and(one.1));
    let rotation = |(worker, (shifts, effort, most)): (WorkerId, (usize, Effort, [usize; 6]))| {
        let mut part = [None; 6];
        for (part, (own, all)) in part
            .iter_mut()
            .zip(effort.figures().into_iter().zip(total.figures()))
        {
            *part = (all > 0.0).then_some(own / all);
        }
        Rotation {
            worker,
            shifts,
            effort,
            most,
            part,
        }
    };
    all.into_iter().map(rotation).collect()
}

/// One person over several plans, as written.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RotationDocument {
    /// Who.
    pub worker: String,
    /// In how many of the plans they have a run.
    pub shifts: usize,
    /// All of it together, by figure.
    pub effort: BTreeMap<String, f64>,
    /// Their part of everybody's, by figure.
    pub part: BTreeMap<String, f64>,
    /// In how many plans they had the most, by figure.
    pub most: BTreeMap<String, usize>,
}

impl RotationDocument {
    /// Writes one person down.
    pub fn new(site: &Site, rotation: &Rotation) -> RotationDocument {
        let names = || Effort::NAMES.into_iter().map(str::to_string);
        let parts = names().zip(rotation.part);
        RotationDocument {
            worker: site.crew[rotation.worker.index()].name.clone(),
            shifts: rotation.shifts,
            effort: super::document::effort(&rotation.effort),
            part: parts
                .filter_map(|(name, part)| Some((name, part?)))
                .collect(),
            most: names().zip(rotation.most).collect(),
        }
    }
}
