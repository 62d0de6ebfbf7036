//! `evenrun schema`: the JSON Schema of the site file.

use super::exit::Exit;
use super::output::Output;

pub(super) fn run(output: Output) -> Exit {
    output.data(&format!("{:#}\n", evenrun::input::schema()));
    Exit::Done
}
