//! `evenrun schema`: the JSON Schema of the site file.

use super::exit::Exit;
use super::output;

/// Shown below the help.
pub(super) const EXAMPLES: &str = "Examples:
  evenrun schema    then: evenrun schema > my-site/site.schema.json

Editors that know the YAML language server take it if the site file begins with the line
  # yaml-language-server: $schema=site.schema.json";

pub(super) fn run() -> Exit {
    match output::data(&format!("{:#}\n", evenrun::input::schema())) {
        Ok(()) => Exit::Done,
        Err(exit) => exit,
    }
}
