//! A folder in which inputs are put so that they can be read as files are.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// In memory, where the system has such a folder: a million files are written there.
const IN_MEMORY: &str = "/dev/shm";

/// The folder.
pub(super) struct Desk(TempDir);

impl Desk {
    /// With copies of the files of a folder of the project.
    pub(super) fn with(folder: &Path) -> io::Result<Desk> {
        let desk = if Path::new(IN_MEMORY).is_dir() {
            tempfile::tempdir_in(IN_MEMORY)
        } else {
            tempfile::tempdir()
        }?;
        for entry in fs::read_dir(folder)? {
            let entry = entry?;
            if entry.file_type()?.is_file() {
                fs::copy(entry.path(), desk.path().join(entry.file_name()))?;
            }
        }
        Ok(Desk(desk))
    }

    /// The path of a file here.
    pub(super) fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    /// Writes a file here.
    ///
    /// # Panics
    /// If the disk is full: nothing can be tried then.
    pub(super) fn put(&self, name: &str, bytes: &[u8]) -> PathBuf {
        let path = self.path(name);
        if let Err(error) = fs::write(&path, bytes) {
            panic!("cannot write `{}`: {error}", path.display());
        }
        path
    }
}

/// The texts of all files of a folder with one of these endings.
pub(super) fn texts(folder: &Path, endings: &[&str]) -> io::Result<Vec<Vec<u8>>> {
    let mut paths: Vec<PathBuf> = fs::read_dir(folder)?
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| {
            path.extension()
                .is_some_and(|e| endings.iter().any(|w| e == *w))
        })
        .collect();
    // Folders are listed in any order.
    paths.sort_unstable();
    paths.iter().map(fs::read).collect()
}
