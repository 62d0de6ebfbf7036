//! Walking times worked out by hand, against published figures, and against another library's shortest paths.

mod buildings;
mod by_hand;
mod oracle;
mod published;
mod words;
