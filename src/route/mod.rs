//! In which order: the search for good runs, on dense integers.
//!
//! [`pose`] turns words into numbers; [`search`] looks for the best plan by ruining and recreating; [`timing`](self) of one run is
//! an exact forward sweep in which every rule of a run has its place. Nothing here knows of files or of the terminal.

mod alone;
mod before;
mod between;
mod elsewhere;
mod exact;
mod guess;
mod handover;
mod insert;
mod instance;
mod island;
mod label;
mod limits;
mod near;
mod order;
mod plain;
mod pose;
mod prices;
mod recreate;
mod reorder;
mod resume;
mod ruin;
mod run;
mod schedule;
mod scopes;
mod search;
mod shortfall;
mod solution;
mod spare;
mod stop;
mod swept;
#[cfg(test)]
mod tests;
mod timing;
mod workbench;

pub use alone::Alone;
pub use before::{Before, Begun, Known, Open, Was};
pub use elsewhere::{AsPlanned, Could, Elsewhere, elsewhere};
pub use handover::Handover;
pub use instance::{
    Break, FOREVER, Goal, Instance, Job, Limit, Machine, NO_WAY, Part, Scope, Secs, WalkTable,
    Worker,
};
pub use order::Visit;
pub use pose::{Question, pose};
pub use prices::Standing;
pub use search::{Found, FoundRun, Settings, Start, search};
pub use shortfall::{Overrun, can_end, overruns};
pub use stop::{Budget, Stop};
pub use timing::{Event, Timed};
pub use workbench::Workbench;
