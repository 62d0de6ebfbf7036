//! Maps as files of their own: a floor each, and each run on each of its floors.

use super::floor::floor_map;
use super::owner::{Owners, patterns};
use super::plan::FloorPlan;
use super::run::run_map;
use crate::report::names::FileNames;
use crate::report::view::View;
use crate::report::words::Words;
use crate::report::{Answer, Written};
use maud::{Markup, PreEscaped, html};

/// The style of maps, on a page and in a file.
pub(in crate::report) const STYLE: &str = include_str!("map.css");

/// One file for each floor, and one for each run and floor it works on.
pub(in crate::report) fn floor_files(answer: &Answer, words: &Words) -> Vec<Written> {
    let view = View::of(answer, words);
    let owners = Owners::of(answer, &view);
    let plans = FloorPlan::of_site(answer.site);
    let style = own_style(view.runs.len());
    let mut names = FileNames::default();
    let mut files = Vec::new();
    let floor_id = |plan: &FloorPlan| answer.site.floors[plan.floor().index()].id.as_str();
    for plan in &plans {
        let map = floor_map(answer, words, &view, plan, &owners, "map", Some(&style));
        files.push(Written {
            name: names.next(&["floor", floor_id(plan)], "svg"),
            text: map.into_string(),
        });
    }
    for (index, run) in view.runs.iter().enumerate() {
        for plan in plans.iter().filter(|p| run.floor_ids.contains(&p.floor())) {
            let map = run_map(answer, words, plan, run, index, "map", Some(&style));
            files.extend(map.map(|map| Written {
                name: names.next(&[&run.name, "floor", floor_id(plan)], "svg"),
                text: map.into_string(),
            }));
        }
    }
    files
}

fn own_style(runs: usize) -> Markup {
    html! {
        style { (PreEscaped(STYLE)) }
        defs { (patterns(runs)) }
    }
}
