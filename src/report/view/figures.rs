//! The measures of each run and of the whole plan, and the sentences for them.

use crate::plan::{Measures, RunMeasures};
use crate::report::Answer;
use crate::report::words::Words;
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
    pub(in crate::report) measures: Vec<(String, String)>,
    /// The proven bound and the gap to it, where one is known.
    pub(in crate::report) proof: Vec<(String, String)>,
    /// The longest run and what the bound means for it in hours and minutes, as a manager would say it.
    pub(in crate::report) lead: String,
    /// The same with shares.
    pub(in crate::report) sentence: String,
}

impl Evenness {
    /// The plan's evenness.
    pub(super) fn of(answer: &Answer, words: &Words, runs: &[RunFigures]) -> Evenness {
        let all = &answer.measures.evenness;
        let points = |number: f64, decimals: usize| {
            words.tell(
                "points",
                &[("number", words.number(number * 100.0, decimals).into())],
            )
        };
        let measures = vec![
            (words.say("highest"), words.percent(all.highest)),
            (words.say("lowest"), words.percent(all.lowest)),
            (words.say("range"), points(all.range, 1)),
            (words.say("deviation"), points(all.sd, 2)),
            ("Gini".to_string(), words.number(all.gini, 4)),
        ];
        let bound = answer.facts.bound;
        let mut proof = bound.map_or_else(Vec::new, |bound| proof(words, all.highest, bound));
        proof.extend(not_cleaning(answer, words));
        let [lead, sentence] =
            ["bound-lead", "bound-share"].map(|id| told(answer, words, runs, id));
        Evenness {
            measures,
            proof,
            lead,
            sentence,
        }
    }
}

/// The bound, and the gap to it: highest share over bound, less one.
fn proof(words: &Words, highest: f64, bound: f64) -> Vec<(String, String)> {
    let gap = (bound > 0.0).then(|| {
        let percent = words.number((highest / bound - 1.0) * 100.0, 2);
        (words.say("gap"), format!("{percent} %"))
    });
    std::iter::once((words.say("bound"), words.percent(bound)))
        .chain(gap)
        .collect()
}

/// What is not cleaning in this plan, and what of it no plan avoids.
fn not_cleaning(answer: &Answer, words: &Words) -> Option<(String, String)> {
    let (all, least) = (answer.measures.total, answer.facts.not_cleaning?);
    let is = all.walk + all.fill + all.dump + all.machine + all.wait;
    let about = [
        ("is", is.to_string().into()),
        ("least", least.to_string().into()),
    ];
    Some((
        words.say("not-cleaning"),
        words.tell("not-cleaning-is", &about),
    ))
}

fn told(answer: &Answer, words: &Words, runs: &[RunFigures], id: &str) -> String {
    let longest = runs
        .iter()
        .enumerate()
        .max_by(|(i, a), (j, b)| a.share.total_cmp(&b.share).then(j.cmp(i)));
    let Some((index, longest)) = longest else {
        return words.say("bound-nobody");
    };
    let name = &answer.site.crew[answer.plan.runs[index].worker.index()].name;
    let mut about = vec![
        ("name", name.as_str().into()),
        ("share", words.percent(longest.share).into()),
        ("load", longest.load.to_string().into()),
    ];
    let Some(bound) = answer.facts.bound else {
        return words.tell("bound-unknown", &about);
    };
    let least = Seconds((bound * longest.available.0 as f64).round() as i64);
    about.extend([
        ("bound", words.percent(bound).into()),
        ("least", least.to_string().into()),
        ("available", longest.available.to_string().into()),
    ]);
    words.tell(id, &about)
}
