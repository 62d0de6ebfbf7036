//! `evenrun schema`: the JSON Schema of the site file.

use super::exit::Exit;
use super::output;

pub(super) fn run() -> Exit {
    match output::data(&format!("{:#}\n", evenrun::input::schema())) {
        Ok(()) => Exit::Done,
        Err(exit) => exit,
    }
}
