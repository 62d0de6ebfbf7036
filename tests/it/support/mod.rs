//! Small sites and plans written in code, for tests of more than one part.

pub(crate) mod book;
pub(crate) mod carts;
pub(crate) mod coverer;
pub(crate) mod enumerate;
#[path = "../../../benches/common/building/mod.rs"]
#[allow(dead_code, unused_imports, reason = "benches use more of it")]
pub(crate) mod made_up;
pub(crate) mod night;
pub(crate) mod ordeal;
pub(crate) mod plain;
pub(crate) mod plain_site;
pub(crate) mod planner;
pub(crate) mod random;
pub(crate) mod sketch;
pub(crate) mod star;
pub(crate) mod two_floors;
