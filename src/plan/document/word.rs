//! The fixed words of a written plan: what happens at a stop, and why something is undone.

use crate::plan::{Reason, What};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::fmt;

/// What happens at a stop, in a word.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub enum StopWord {
    /// Getting ready at the start place.
    #[serde(rename = "set-up")]
    SetUp,
    /// All of a room's work in one go.
    #[serde(rename = "clean")]
    Clean,
    /// First part of a room: open, spray, dry work.
    #[serde(rename = "open and wet")]
    OpenAndWet,
    /// Second part of a room: wipe, mop.
    #[serde(rename = "wipe and mop")]
    WipeAndMop,
    /// The room is opened to its users again.
    #[serde(rename = "reopen")]
    Reopen,
    /// A duty of the site.
    #[serde(rename = "duty")]
    Duty,
    /// The bucket is filled or changed.
    #[serde(rename = "fill")]
    Fill,
    /// The cart is emptied.
    #[serde(rename = "dump")]
    Dump,
    /// A machine is fetched.
    #[serde(rename = "fetch")]
    Fetch,
    /// A machine is brought back.
    #[serde(rename = "return")]
    Return,
    /// A meal or rest break.
    #[serde(rename = "break")]
    Break,
    /// Putting away at the start place.
    #[serde(rename = "tear-down")]
    TearDown,
}

impl StopWord {
    /// The word for what happens.
    pub fn of(what: &What) -> StopWord {
        match what {
            What::SetUp => StopWord::SetUp,
            What::Clean(..) => StopWord::Clean,
            What::OpenAndWet(..) => StopWord::OpenAndWet,
            What::WipeAndMop(..) => StopWord::WipeAndMop,
            What::Reopen(_) => StopWord::Reopen,
            What::Duty(_) => StopWord::Duty,
            What::Fill => StopWord::Fill,
            What::Dump => StopWord::Dump,
            What::Fetch(_) => StopWord::Fetch,
            What::Return(_) => StopWord::Return,
            What::Break(_) => StopWord::Break,
            What::TearDown => StopWord::TearDown,
        }
    }
}

impl fmt::Display for StopWord {
    /// The word as it is written in documents.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.serialize(f)
    }
}

/// Why something is undone, in a word.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub enum UndoneReason {
    /// Nobody present may do it.
    #[serde(rename = "nobody")]
    Nobody,
    /// It fits nobody's shift and its own windows.
    #[serde(rename = "no window")]
    NoWindow,
    /// What has to come after it has begun.
    #[serde(rename = "too late")]
    TooLate,
    /// There was not enough time.
    #[serde(rename = "no time")]
    NoTime,
}

impl UndoneReason {
    /// The word of a reason, and the reason in more words.
    pub(crate) fn of(reason: &Reason) -> (UndoneReason, Option<String>) {
        match reason {
            Reason::Nobody(why) => (UndoneReason::Nobody, Some(why.clone())),
            Reason::NoWindow(why) => (UndoneReason::NoWindow, Some(why.clone())),
            Reason::TooLate(why) => (UndoneReason::TooLate, Some(why.clone())),
            Reason::NoTime => (UndoneReason::NoTime, None),
        }
    }
}

impl fmt::Display for UndoneReason {
    /// The word as it is written in documents.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.serialize(f)
    }
}
