//! Writing a file so that a reader sees the old one or the new one whole, never half of it: written aside, flushed to the
//! disk, then renamed over the old one.

use std::ffi::OsString;
use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Names tried for the file written aside before giving up; more than anyone leaves lying about.
const NAMES_TRIED: u32 = 100;

/// Why a file could not be written.
#[derive(Debug, thiserror::Error)]
pub enum WriteError {
    /// The path has no last part that could be a file, such as `..`.
    #[error("`{}` does not name a file", .0.display())]
    NotAFile(PathBuf),
    /// The system refused; the file that was there before, if any, is untouched.
    #[error("cannot write `{}`: {source}", .path.display())]
    Refused {
        /// The file that was to be written.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
}

/// Writes `bytes` to `path`, replacing what is there in one step.
///
/// # Errors
/// [`WriteError`] names the path; nothing is left behind then.
pub fn write(path: &Path, bytes: &[u8]) -> Result<(), WriteError> {
    let name = path
        .file_name()
        .ok_or_else(|| WriteError::NotAFile(path.to_path_buf()))?;
    let folder = folder_of(path);
    let refused = |source| WriteError::Refused {
        path: path.to_path_buf(),
        source,
    };
    let (mut file, aside) = open_aside(folder, name).map_err(refused)?;
    let written = fill(&mut file, bytes).and_then(|()| fs::rename(&aside, path));
    if let Err(source) = written {
        // The first error is the one worth telling; a leftover that cannot be removed either adds nothing to it.
        let _ = fs::remove_file(&aside);
        return Err(refused(source));
    }
    flush_folder(folder);
    Ok(())
}

/// Finds out whether [`write()`] could put a file there, without touching what is there.
///
/// # Errors
/// [`WriteError`], as it would be of writing.
pub fn writable(path: &Path) -> Result<(), WriteError> {
    let name = path
        .file_name()
        .ok_or_else(|| WriteError::NotAFile(path.to_path_buf()))?;
    let refused = |source| WriteError::Refused {
        path: path.to_path_buf(),
        source,
    };
    if path.is_dir() {
        return Err(refused(io::ErrorKind::IsADirectory.into()));
    }
    let (_, aside) = open_aside(folder_of(path), name).map_err(refused)?;
    fs::remove_file(&aside).map_err(refused)
}

fn folder_of(path: &Path) -> &Path {
    path.parent()
        .filter(|p| !p.as_os_str().is_empty())
        .unwrap_or(Path::new("."))
}

/// A new file in the same folder, hence on the same disk, that nobody else has open.
fn open_aside(folder: &Path, name: &std::ffi::OsStr) -> io::Result<(File, PathBuf)> {
    let mut last = io::Error::from(io::ErrorKind::AlreadyExists);
    for attempt in 0..NAMES_TRIED {
        let mut aside = OsString::from(".");
        aside.push(name);
        aside.push(format!(".{}-{attempt}.part", std::process::id()));
        let aside = folder.join(aside);
        match OpenOptions::new().write(true).create_new(true).open(&aside) {
            Ok(file) => return Ok((file, aside)),
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => last = error,
            Err(error) => return Err(error),
        }
    }
    Err(last)
}

fn fill(file: &mut File, bytes: &[u8]) -> io::Result<()> {
    file.write_all(bytes)?;
    file.sync_all()
}

/// Makes the renaming itself survive a power cut. Some systems cannot open a folder: the file is whole there all the same.
fn flush_folder(folder: &Path) {
    if let Ok(folder) = File::open(folder) {
        let _ = folder.sync_all();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_replaced_whole_and_nothing_is_left_beside_it() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("plan.json");
        write(&path, b"a long first version").unwrap();
        write(&path, b"second").unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"second");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn a_folder_in_the_way_is_refused_by_name_and_stays() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("report.html");
        fs::create_dir(&path).unwrap();
        fs::write(path.join("kept"), "x").unwrap();
        let error = write(&path, b"new").unwrap_err();
        assert!(error.to_string().contains("report.html"), "{error}");
        assert!(path.join("kept").exists());
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn asking_whether_a_file_could_be_written_leaves_everything_as_it_was() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("plan.json");
        writable(&path).unwrap();
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
        fs::write(&path, "old").unwrap();
        writable(&path).unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"old");
        assert!(writable(folder.path()).is_err());
        assert!(writable(&path.join("below a file")).is_err());
    }

    #[test]
    fn a_missing_folder_and_a_path_without_a_name_are_errors() {
        let folder = tempfile::tempdir().unwrap();
        let missing = folder.path().join("nowhere").join("plan.json");
        assert!(matches!(
            write(&missing, b"x"),
            Err(WriteError::Refused { .. })
        ));
        assert!(matches!(
            write(Path::new(".."), b"x"),
            Err(WriteError::NotAFile(_))
        ));
    }
}
