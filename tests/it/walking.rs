//! Walking times worked out by hand, against published figures, and against another library's shortest paths.

mod buildings;
mod by_hand;
mod metre_graph;
mod oracle;
mod published;
mod random_site;
mod words;
