//! Floor maps drawn from the halls: who does which rooms, and each run's way with the numbers of its stops.
//!
//! Three steps, each its own: [`FloorPlan`] works out in metres where halls and rooms lie, `label` fits texts into boxes so
//! that none overlaps another, and [`floor_map`] and [`run_map`] turn both into SVG. Rooms have no walls in a site file, so their outlines are schematic: as
//! wide as the spacing of doors allows, as deep as their area asks. Halls without coordinates are laid out here.

mod file;
mod floor;
mod ground;
mod halls;
mod key;
mod label;
mod lay;
mod legend;
mod owner;
mod plan;
mod rooms;
mod run;
mod scale;
mod shape;
mod sheet;
mod sign;
mod way;

pub(super) use file::{STYLE, floor_files};
pub(super) use floor::floor_map;
pub(super) use ground::outlines;
pub(super) use legend::legend;
pub(super) use owner::{Owners, patterns};
pub(super) use plan::FloorPlan;
pub(super) use run::run_map;
