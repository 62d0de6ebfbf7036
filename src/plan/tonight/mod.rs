//! What is different on one night: who comes, leaves or stays otherwise than usual, what is shut, what is asked for besides.
//!
//! It is written down in the plan file, so that whoever reads the plan judges it against the night it was made for: [`Tonight::apply`]
//! makes that night's copy of the site, and everything else is planned and checked against the copy as if it had been written so.

mod apply;
mod hours;
mod raise;

pub use raise::patience;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// How one night differs from what the site says. Times are `HH:MM:SS`, elapsed since midnight of the plan's date.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Tonight {
    /// What began before this moment cannot be changed any more.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub now: Option<String>,
    /// Who is there though not on duty by the crew's days.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub extra: Vec<String>,
    /// Most overtime for anyone, in minutes; what the site says if left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub overtime_min: Option<f64>,
    /// Shifts that begin or end at another time.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub shifts: Vec<ShiftTonight>,
    /// Rooms that cannot be cleaned for a while.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub closed: Vec<ClosedTonight>,
    /// Tasks asked for besides.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub added: Vec<AddedTonight>,
    /// Work that has waited since an earlier night.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub waited: Vec<Waited>,
    /// Rooms that somebody did before the plan had them: nothing is due there any more.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub done: Vec<String>,
}

/// A shift that begins or ends at another time.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ShiftTonight {
    /// Whose.
    pub worker: String,
    /// Its start, if that is another.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<String>,
    /// Its end, if that is another.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to: Option<String>,
    /// Breaks that are not taken because they do not lie in what is left of the shift.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub no_breaks: Vec<String>,
}

/// A room that cannot be cleaned for a while.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ClosedTonight {
    /// Which.
    pub room: String,
    /// From when.
    pub from: String,
    /// Until when.
    pub to: String,
}

/// A task asked for besides.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct AddedTonight {
    /// Where.
    pub room: String,
    /// A task of the room's kind, or a name for something else.
    pub task: String,
    /// How long it takes at pace 1, if not what the standard says.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minutes: Option<f64>,
    /// Whether the room has been done already, so that somebody has to come again: it is then a duty, by the name of task and room.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub again: bool,
}

/// Work that has waited since an earlier night: a task of a room, or a duty.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Waited {
    /// The room of a task.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub room: Option<String>,
    /// The task.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub task: Option<String>,
    /// The duty, instead of a room and a task.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub duty: Option<String>,
    /// The date on which it was due first.
    pub since: String,
}

impl Tonight {
    /// The night of two plans at once: everything that either asks for besides or has done ahead, so that both can be read against one site.
    #[must_use]
    pub fn of_both(&self, other: &Tonight) -> Tonight {
        let mut both = Tonight {
            added: self.added.clone(),
            done: self.done.clone(),
            ..Tonight::default()
        };
        let new = other.added.iter().filter(|a| !self.added.contains(a));
        both.added.extend(new.cloned());
        let new = other.done.iter().filter(|d| !self.done.contains(d));
        both.done.extend(new.cloned());
        both
    }

    /// Whether the night is as the site says.
    pub fn is_usual(&self) -> bool {
        *self == Tonight::default()
    }

    /// The shift of a worker, to be changed.
    pub fn shift_of(&mut self, worker: &str) -> &mut ShiftTonight {
        let at = self.shifts.iter().position(|s| s.worker == worker);
        let at = at.unwrap_or_else(|| {
            self.shifts.push(ShiftTonight {
                worker: worker.to_string(),
                ..ShiftTonight::default()
            });
            self.shifts.len() - 1
        });
        &mut self.shifts[at]
    }
}
