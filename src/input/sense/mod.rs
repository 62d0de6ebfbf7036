//! Contradictions: everything is readable, but it cannot be as it says. One file per family.

mod shifts;

use super::log::Log;
use super::resolve::Origins;
use crate::site::Site;

/// What can be seen from one entry alone, whatever else is wrong.
pub(crate) fn alone(site: &Site, origins: &Origins, log: &Log) {
    shifts::look(site, origins, log);
}

/// What needs the whole site; every id in it must hold.
pub(crate) fn together(_site: &Site, _origins: &Origins, _log: &Log) {}
