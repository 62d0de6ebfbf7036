//! The summary for the terminal: plain text that reads without colour, in aligned columns.
//!
//! Widths are counted as a terminal shows them (Unicode standard annex 11), not in letters. Control characters and those that
//! turn the direction of writing are shown as `�`: a name can neither move the cursor nor reorder a line.

use super::Answer;
use super::cut::cut;
use super::view::{RunFigures, RunView, UndoneGroup, View, run_clocks};
use super::words::Words;
use unicode_width::UnicodeWidthStr;

/// Widest a name may be in a column: leaves the rest of the line room on a terminal of 120 columns.
const NAME_WIDTH: usize = 24;
/// Widest a place may be in the list of undone work.
const PLACE_WIDTH: usize = 60;
/// Letters of a share's bar for 100 %.
const BAR: usize = 10;
/// Places listed for one reason; the page lists all.
const PLACES_LISTED: usize = 8;
/// Space between columns.
const GUTTER: &str = "  ";

/// The plan on one screen.
pub fn table(answer: &Answer) -> String {
    let words = Words::terminal();
    let view = View::of(answer, &words);
    let mut lines = vec![plain(&view.title), String::new()];
    if answer.plan.runs.is_empty() {
        lines.push("nobody is on duty on this date".into());
    } else {
        lines.extend(aligned(&rows(answer, &words, &view)));
    }
    lines.push(String::new());
    lines.extend(named("evenness", &view.evenness.measures));
    lines.extend(named("proof", &view.evenness.proof));
    lines.push(plain(&view.evenness.sentence));
    lines.extend(view.away().map(|away| format!("away: {}", plain(&away))));
    lines.extend(undone(&words, &view.undone));
    lines.extend(soundness(answer, &words));
    let trimmed: Vec<_> = lines.iter().map(|line| line.trim_end()).collect();
    trimmed.join("\n") + "\n"
}

/// `proof: proven bound 74.5 %, gap 0.81 %`; nothing where there is nothing.
fn named(title: &str, measures: &[(String, String)]) -> Option<String> {
    let each: Vec<_> = measures
        .iter()
        .map(|(name, value)| format!("{name} {value}"))
        .collect();
    (!each.is_empty()).then(|| format!("{title}: {}", each.join(", ")))
}

/// One cell of the table.
pub(super) struct Cell {
    text: String,
    right: bool,
}

pub(super) fn left(text: impl Into<String>) -> Cell {
    Cell {
        text: text.into(),
        right: false,
    }
}

fn right(text: impl Into<String>) -> Cell {
    Cell {
        text: text.into(),
        right: true,
    }
}

fn rows(answer: &Answer, words: &Words, view: &View) -> Vec<Vec<Cell>> {
    let heads = ["worker", "shift", "run"].map(left).into_iter();
    let numbers = ["stops", "work", "walk", "fill", "wait", "share"].map(right);
    let mut rows = vec![
        heads
            .chain(numbers)
            .chain(["", "floors"].map(left))
            .collect(),
    ];
    rows.extend(
        view.each()
            .map(|(run, figures)| row(answer, words, run, figures)),
    );
    rows
}

fn row(answer: &Answer, words: &Words, run: &RunView, figures: &RunFigures) -> Vec<Cell> {
    vec![
        left(cut(&plain(&run.name), NAME_WIDTH)),
        left(words.clocks(answer.calendar, run.shift)),
        left(run_clocks(answer, words, run)),
        right(run.stops.len().to_string()),
        right(words.minutes(figures.work)),
        right(words.minutes(figures.walk)),
        right(words.minutes(figures.fill)),
        right(words.minutes(figures.wait)),
        right(words.percent(figures.share)),
        left(bar(figures.share)),
        left(cut(&plain(&run.floors.join(" ")), NAME_WIDTH)),
    ]
}

/// `#######...`; more than everything ends in `+`.
fn bar(share: f64) -> String {
    let full = ((share * BAR as f64).round().max(0.0) as usize).min(BAR);
    let over = if share > 1.0 { "+" } else { "" };
    format!("{}{}{over}", "#".repeat(full), ".".repeat(BAR - full))
}

pub(super) fn aligned(rows: &[Vec<Cell>]) -> Vec<String> {
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let width = |column: usize| {
        rows.iter()
            .filter_map(|r| r.get(column))
            .map(|c| c.text.width())
            .max()
            .unwrap_or(0)
    };
    let widths: Vec<_> = (0..columns).map(width).collect();
    let line = |row: &Vec<Cell>| {
        let cells: Vec<_> = row
            .iter()
            .zip(&widths)
            .map(|(cell, width)| padded(cell, *width))
            .collect();
        cells.join(GUTTER)
    };
    rows.iter().map(line).collect()
}

fn padded(cell: &Cell, width: usize) -> String {
    let space = " ".repeat(width.saturating_sub(cell.text.width()));
    if cell.right {
        format!("{space}{}", cell.text)
    } else {
        format!("{}{space}", cell.text)
    }
}

fn undone(words: &Words, groups: &[UndoneGroup]) -> Vec<String> {
    if groups.is_empty() {
        return vec![String::new(), "undone: nothing".into()];
    }
    let mut lines = vec![String::new(), "undone:".into()];
    for group in groups {
        lines.push(format!(
            "  {}, {}: {}",
            group.priority,
            group.time,
            plain(&group.reason)
        ));
        lines.extend(
            group
                .places
                .iter()
                .take(PLACES_LISTED)
                .map(|(place, tasks)| {
                    format!(
                        "    {}: {}",
                        cut(&plain(place), PLACE_WIDTH),
                        plain(&tasks.join(", "))
                    )
                }),
        );
        let more = group.places.len().saturating_sub(PLACES_LISTED);
        lines.extend((more > 0).then(|| format!("    and {}", words.count("n-more-places", more))));
    }
    lines
}

fn soundness(answer: &Answer, words: &Words) -> Vec<String> {
    if answer.violations.is_empty() {
        return vec![String::new(), "sound: every rule is kept".into()];
    }
    let count = words.count("n-broken", answer.violations.len());
    let mut lines = vec![String::new(), format!("NOT SOUND: {count}")];
    lines.extend(
        answer
            .violations
            .iter()
            .map(|v| format!("  {}: {}", v.rule, plain(&v.message))),
    );
    lines
}

/// Text that can neither move the cursor nor turn the direction of writing.
pub(super) fn plain(text: &str) -> String {
    let steers = |c: char| {
        c.is_control()
            || matches!(c, '\u{061C}' | '\u{200E}' | '\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}' | '\u{2028}' | '\u{2029}')
    };
    text.chars()
        .map(|c| if steers(c) { '\u{FFFD}' } else { c })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_are_as_wide_as_what_they_show() {
        let rows = vec![
            vec![left("清掃"), right("1")],
            vec![left("Ana"), right("12")],
        ];
        assert_eq!(aligned(&rows), ["清掃   1", "Ana   12"]);
    }

    #[test]
    fn bars_follow_the_share_and_say_when_it_is_over() {
        assert_eq!(
            [bar(0.0), bar(0.749), bar(1.2)],
            ["..........", "#######...", "##########+"]
        );
    }

    #[test]
    fn a_name_cannot_steer_the_terminal() {
        assert_eq!(plain("a\u{1b}[2Jb\u{202e}c\nd"), "a�[2Jb�c�d");
    }
}
