//! Imports through the program, as their users meet them: what is told, what is written, and that nothing is written when something is
//! wrong. Files are made here or stand in `fixtures/import`, with their sources beside them.

mod broken;
mod building;
mod calendars;
mod events;
mod ifc;
mod lists;
mod merging;
mod networks;
mod rooms;
mod support;
