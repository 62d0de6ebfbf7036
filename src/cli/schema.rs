//! `evenrun schema`: the JSON Schema of the site file.

use super::exit::Exit;
use super::output;

pub(super) fn run() -> Exit {
    output::data(&format!("{:#}\n", evenrun::input::schema()));
    Exit::Done
}
