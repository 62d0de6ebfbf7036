//! Folders for what a command writes: made if need be, and looked at before the work is done.

use super::refusal::Refusal;
use evenrun::report;
use std::fs;
use std::path::Path;

/// Makes a folder; no path at all is the one the program runs in.
pub(super) fn make(folder: &Path) -> Result<(), Refusal> {
    if folder.as_os_str().is_empty() {
        return Ok(());
    }
    fs::create_dir_all(folder).map_err(|error| {
        let message = format!("cannot make `{}`: {error}", folder.display());
        Refusal::of_file("unwritable", folder, message)
    })
}

/// Finds out before the work whether its files can be written.
pub(super) fn room_for(folder: &Path, names: &[&str]) -> Result<(), Refusal> {
    make(folder)?;
    for name in names {
        let path = folder.join(name);
        report::writable(&path)
            .map_err(|error| Refusal::of_file("unwritable", &path, error.to_string()))?;
    }
    Ok(())
}
