//! The table of many sites, a row each.

use super::sheet::{Grid, Sheet};
use crate::plan::PlanDocument;
use serde::Serialize;

/// A site of many.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SiteLine {
    /// What it is called.
    pub site: String,
    /// What came of it, in a word or two.
    pub state: &'static str,
    /// Its plan in figures; none without a plan.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub figures: Option<SiteFigures>,
}

/// A plan in figures.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SiteFigures {
    /// The date planned for.
    pub date: String,
    /// Who has a run.
    pub people: usize,
    /// Tasks and duties left undone.
    pub undone: usize,
    /// The highest share of available time.
    pub highest: f64,
    /// The lowest.
    pub lowest: f64,
    /// Highest share over what is proven, less 1; none if nothing is.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gap: Option<f64>,
    /// Whether it keeps every rule.
    pub sound: bool,
}

impl SiteFigures {
    /// Of a plan file.
    pub fn of(plan: &PlanDocument) -> SiteFigures {
        SiteFigures {
            date: plan.date.clone(),
            people: plan.runs.len(),
            undone: plan.undone.len(),
            highest: plan.evenness.highest,
            lowest: plan.evenness.lowest,
            gap: plan.evenness.gap,
            sound: plan.sound,
        }
    }
}

/// All sites as lines for the terminal.
pub fn sites_table(lines: &[SiteLine]) -> String {
    let column = |(head, number): (&str, bool)| (head.to_string(), number);
    let columns = [
        ("Site", false),
        ("Date", false),
        ("People", true),
        ("Undone", true),
        ("Highest share", true),
        ("Lowest share", true),
        ("Gap", true),
        ("What came of it", false),
    ];
    let sheet = Sheet {
        id: "sites",
        head: format!("{} sites", lines.len()),
        grids: vec![Grid {
            columns: columns.into_iter().map(column).collect(),
            rows: lines.iter().map(row).collect(),
            ..Grid::default()
        }],
        ..Sheet::default()
    };
    sheet.text()
}

fn row(line: &SiteLine) -> Vec<String> {
    let figures = line.figures.as_ref();
    let or_dash = |text: Option<String>| text.unwrap_or_else(|| "-".to_string());
    let share = |of: fn(&SiteFigures) -> Option<f64>| or_dash(figures.and_then(of).map(percent));
    vec![
        line.site.clone(),
        or_dash(figures.map(|f| f.date.clone())),
        or_dash(figures.map(|f| f.people.to_string())),
        or_dash(figures.map(|f| f.undone.to_string())),
        share(|f| Some(f.highest)),
        share(|f| Some(f.lowest)),
        share(|f| f.gap),
        line.state.to_string(),
    ]
}

fn percent(share: f64) -> String {
    format!("{:.1} %", share * 100.0)
}
