//! What people see of a plan: the table on the terminal, the report, the cards, the maps, and files for other programs.
//!
//! `view` turns ids into words once, in the language of `words`; every form lays the same words out. Nothing here decides anything.

mod audit;
mod calendar;
mod cards;
mod cover_sheet;
mod csv;
mod cut;
mod files;
mod html;
mod ics;
mod map;
mod names;
mod sheet;
mod sites;
mod staff;
mod table;
mod view;
mod words;

pub use audit::{AuditAnswer, audit_html, audit_table, rotation_html, rotation_table};
pub use calendar::{calendar_html, calendar_ics, calendar_table};
pub use cards::cards;
pub use cover_sheet::{CoverSheet, cover_sheet};
pub use csv::csv;
pub use files::{WriteError, writable, write, write_all};
pub use html::html;
pub use ics::ics;
pub use sites::{SiteFigures, SiteLine, sites_table};
pub use staff::{staff_html, staff_table};
pub use table::table;
pub use words::{Language, Words};

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

/// One of several files that a form consists of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Written {
    /// Its name: ASCII letters, digits and hyphens with an ending, no two alike.
    pub name: String,
    /// What is in it.
    pub text: String,
}

/// The floor maps as SVG files: one for each floor, and one for each run on each floor that it works on.
pub fn map_svg(answer: &Answer, words: &Words) -> Vec<Written> {
    map::floor_files(answer, words)
}
