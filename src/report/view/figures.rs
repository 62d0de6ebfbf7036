//! The measures of each run and of the whole plan, and the sentences for them.

use super::words;
use crate::plan::{Measures, RunMeasures};
use crate::report::Answer;
use crate::units::Seconds;

/// Where one run's time goes.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::report) struct RunFigures {
    /// Busy time.
    pub(in crate::report) load: Seconds,
    /// Time that could be busy.
    pub(in crate::report) available: Seconds,
    /// Load over available.
    pub(in crate::report) share: f64,
    /// In rooms, on duties, getting ready and putting away.
    pub(in crate::report) work: Seconds,
    /// Between stops.
    pub(in crate::report) walk: Seconds,
    /// Filling, emptying, fetching and bringing back.
    pub(in crate::report) fill: Seconds,
    /// Waiting, in a room for it to be ready or between stops.
    pub(in crate::report) wait: Seconds,
}

/// The figures of the plan's runs, in its order.
pub(super) fn of_runs(measures: &Measures) -> Vec<RunFigures> {
    measures.runs.iter().map(of_run).collect()
}

fn of_run(run: &RunMeasures) -> RunFigures {
    let parts = run.parts;
    RunFigures {
        load: run.load,
        available: run.available,
        share: run.share,
        work: parts.work + parts.set_up,
        walk: parts.walk,
        fill: parts.fill + parts.dump + parts.machine,
        wait: parts.wait + parts.idle,
    }
}

/// How evenly the work is shared, in words.
#[derive(Clone, Debug)]
pub(in crate::report) struct Evenness {
    /// Highest and lowest share, range, standard deviation and Gini, each with its name.
    pub(in crate::report) measures: Vec<(&'static str, String)>,
    /// The proven bound and the gap to it, where one is known.
    pub(in crate::report) proof: Vec<(&'static str, String)>,
    /// What the bound means for the longest run, in hours and minutes; or that none is known.
    pub(in crate::report) sentence: String,
}

impl Evenness {
    /// The plan's evenness.
    pub(super) fn of(answer: &Answer, runs: &[RunFigures]) -> Evenness {
        let all = &answer.measures.evenness;
        let measures = vec![
            ("highest", words::percent(all.highest)),
            ("lowest", words::percent(all.lowest)),
            ("range", format!("{:.1} points", all.range * 100.0)),
            (
                "standard deviation",
                format!("{:.2} points", all.sd * 100.0),
            ),
            ("Gini", format!("{:.4}", all.gini)),
        ];
        let proof = answer
            .facts
            .bound
            .map_or_else(Vec::new, |bound| proof(all.highest, bound));
        Evenness {
            measures,
            proof,
            sentence: sentence(answer, runs),
        }
    }
}

/// The bound, and the gap to it: highest share over bound, less one.
fn proof(highest: f64, bound: f64) -> Vec<(&'static str, String)> {
    let gap = (bound > 0.0).then(|| ("gap", format!("{:.2} %", (highest / bound - 1.0) * 100.0)));
    std::iter::once(("proven bound", words::percent(bound)))
        .chain(gap)
        .collect()
}

fn sentence(answer: &Answer, runs: &[RunFigures]) -> String {
    let longest = runs
        .iter()
        .enumerate()
        .max_by(|(i, a), (j, b)| a.share.total_cmp(&b.share).then(j.cmp(i)));
    let Some((index, longest)) = longest else {
        return "Nobody is present, so there is nothing to share.".into();
    };
    let name = &answer.site.crew[answer.plan.runs[index].worker.index()].name;
    let this = format!("{} ({})", words::percent(longest.share), longest.load);
    let Some(bound) = answer.facts.bound else {
        return format!("The longest run is that of {name}: {this}. No bound is known for it.");
    };
    let least = Seconds((bound * longest.available.0 as f64).round() as i64);
    format!(
        "Nobody could get the longest run's share below {} ({least} of the {} that {name} has); this plan's is {this}.",
        words::percent(bound),
        longest.available,
    )
}
