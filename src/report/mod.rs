//! What people see of a plan: the table on the terminal, the page, and how files are written.
//!
//! `view` turns ids into words once; `table` and `html` lay the same words out. Nothing here decides anything.

mod files;
mod html;
mod table;
mod view;

pub use files::{WriteError, writable, write};
pub use html::html;
pub use table::table;

use crate::plan::{Facts, Measures, Plan, Violation};
use crate::site::{Calendar, Site};

/// A plan with everything known about it.
#[derive(Clone, Copy, Debug)]
pub struct Answer<'a> {
    /// The site planned for.
    pub site: &'a Site,
    /// The plan's date.
    pub calendar: &'a Calendar,
    /// The plan.
    pub plan: &'a Plan,
    /// Its measures, one for each run in the plan's order.
    pub measures: &'a Measures,
    /// The rules it breaks; none means it is sound.
    pub violations: &'a [Violation],
    /// How it was made, who is away, and what is proven. Whether it is sound is told by `violations` alone.
    pub facts: &'a Facts,
}
