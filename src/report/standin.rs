//! TEMPORARY
#![allow(missing_docs)]
use crate::units::Seconds;
#[derive(Clone, Debug, Default)]
pub struct RunM { pub load: Seconds, pub available: Seconds, pub share: f64, pub work: Seconds, pub walk: Seconds, pub fill: Seconds, pub dump: Seconds, pub machine: Seconds, pub set_up: Seconds, pub attended: Seconds, pub idle: Seconds }
#[derive(Clone, Debug, Default)]
pub struct Measures { pub runs: Vec<RunM>, pub highest: f64, pub lowest: f64, pub range: f64, pub deviation: f64, pub gini: f64 }
