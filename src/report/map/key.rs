//! Who has which fill and letters, drawn below a map that is a file of its own. Pages have a list of it instead.

use super::label::letters;
use super::owner::{self, Owners};
use crate::report::cut::cut;
use crate::report::view::View;
use maud::{Markup, html};

/// Width of an entry, height of a row, and size of its text.
const ENTRY: f64 = 150.0;
const ROW: f64 = 18.0;
const SIZE: f64 = 10.0;
/// Left of an entry's text.
const INDENT: f64 = 30.0;

/// How high the key is on a sheet of this width.
pub(super) fn height(view: &View, wide: f64) -> f64 {
    view.runs.len().div_ceil(columns(wide)) as f64 * ROW
}

fn columns(wide: f64) -> usize {
    ((wide / ENTRY).floor() as usize).max(1)
}

/// The key from this height down.
pub(super) fn key(view: &View, owners: &Owners, wide: f64, top: f64) -> Markup {
    let columns = columns(wide);
    html! {
        @for (index, run) in view.runs.iter().enumerate() {
            @let x = (index % columns) as f64 * ENTRY;
            @let y = top + (index / columns) as f64 * ROW;
            rect.plan-box x=(x + 4.0) y=(y + 3.0) width="20" height="11" fill=(owner::fill(index)) {}
            text.note x=(x + INDENT) y=(format!("{:.1}", y + 12.0)) font-size=(SIZE) { (entry(owners.mark(index), &run.name)) }
        }
    }
}

/// Letters and name, as much of it as there is room for.
fn entry(mark: &str, name: &str) -> String {
    cut(
        &format!("{mark} {name}"),
        letters(ENTRY - INDENT - 4.0, SIZE),
    )
}
