//! The answer: who does what when, what is left undone and why, how even it is, and the proof that it is sound.

mod check;
mod compose;
mod document;
mod earlier;
mod effort;
mod explain;
mod make;
mod measure;
mod model;
mod reading;
mod settle;
mod tonight;

pub use check::{Exchange, Rule, Violation, check};
pub use document::{
    Certificate, EvennessDocument, Facts, MinutesDocument, Misfit, PlanDocument, RunDocument,
    ShiftDocument, StopDocument, StopWord, UndoneDocument, UndoneReason,
};
pub use earlier::{begin_with, prefer_earlier};
pub use effort::{Effort, efforts};
pub use explain::{
    ExplainedStop, Explanation, Figures, Moment, Other, Outcome, UndoneTask, VisitExplained,
    explain,
};
pub use make::{Ground, Judged, Made, Request, make};
pub use measure::{Evenness, Measures, Parts, RunMeasures, measure};
pub use model::{Plan, PlannedStop, Reason, Run, Undone, UndoneWork, What, takes_cart};
pub use tonight::{AddedTonight, ClosedTonight, ShiftTonight, Tonight, Waited, patience};

pub(crate) use check::check_with;
pub(crate) use compose::compose;
pub(crate) use document::{MOST_STOPS, break_names};
pub(crate) use earlier::known_visits;
pub(crate) use effort::efforts_with;
pub(crate) use make::{Afterwards, draft};
pub(crate) use measure::measure_with;
pub(crate) use reading::Walks as ReadWalks;
pub(crate) use settle::settle;
