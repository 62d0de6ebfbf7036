//! What came of a site, in words and as an exit code.

use super::super::exit::Exit;
use evenrun::report::{SiteFigures, SiteLine};

/// What came of a site.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum State {
    /// A plan was made.
    Planned(SiteFigures),
    /// The plan of last time stands: the same would go into it.
    Stands(SiteFigures),
    /// A plan was made in less time than asked for.
    CutShort(SiteFigures),
    /// It was not its turn yet when the program was told to stop.
    NotBegun,
    /// Its files are wrong, or its plan could not be written: told already.
    Refused,
    /// A bug.
    Fault,
}

impl State {
    /// How the program would have ended on this site alone.
    pub(super) fn exit(&self) -> Exit {
        match self {
            State::Planned(figures) | State::Stands(figures) => {
                if !figures.sound {
                    Exit::Bug
                } else if figures.undone > 0 {
                    Exit::Left
                } else {
                    Exit::Done
                }
            }
            State::CutShort(_) | State::NotBegun => Exit::Left,
            State::Refused => Exit::Bad,
            State::Fault => Exit::Bug,
        }
    }

    /// As a row of the table.
    pub(super) fn line(self, site: String) -> SiteLine {
        let (state, figures) = match self {
            State::Planned(figures) => ("planned", Some(figures)),
            State::Stands(figures) => ("as before", Some(figures)),
            State::CutShort(figures) => ("planned, cut short", Some(figures)),
            State::NotBegun => ("not begun", None),
            State::Refused => ("cannot be planned", None),
            State::Fault => ("a bug in evenrun", None),
        };
        SiteLine {
            site,
            state,
            figures,
        }
    }
}
