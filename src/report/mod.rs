//! What people see of a plan: the table on the terminal, the page, and how files are written.
//!
//! `view` turns ids into words once; `table` and `html` lay the same words out. Nothing here decides anything.

mod files;
mod html;
mod table;
mod view;

pub use files::{WriteError, write};
pub use html::html;
pub use table::table;

use crate::plan::{Measures, Plan, Violation};
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
    /// How it was made and what is proven.
    pub facts: &'a Facts,
}

/// How a plan was made and what is proven about it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Facts {
    /// The seed of the search.
    pub seed: u64,
    /// How many iterations it ran.
    pub iterations: u64,
    /// The share below which no plan doing this work could get its highest one, where proven.
    pub bound: Option<f64>,
    /// How the bound is proven, line by line.
    pub certificate: Vec<String>,
}
