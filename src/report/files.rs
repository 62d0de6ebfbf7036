//! Writing files so that a reader sees the old ones or the new ones whole, never half of one: written aside, flushed to the disk, then
//! renamed over the old ones.
//!
//! Files that belong together are all written aside first, so that a full disk leaves the old set as it was, and then renamed one after another, in
//! the order given. The file that the others are made from comes last, and is written last as well: a set in which any file is younger than that one
//! is half the old set and half the new. Of a very large set so many at a time are written aside and renamed: a program may have only so many files open.
//!
//! A program that is killed leaves what it has written aside. Whoever writes holds a lock on it, which ends with the program; what nobody
//! holds any more is removed by the next one that writes the same file.

use std::ffi::{OsStr, OsString};
use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Names tried for the file written aside before giving up; more than anyone leaves lying about.
const NAMES_TRIED: u32 = 100;

/// How the name of a file written aside ends.
const ASIDE: &str = ".part";

/// Files written aside at once; systems let a program have 256 open or more.
const AT_ONCE: usize = 200;

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
    Aside::write(path, bytes)?.put()
}

/// Writes several files, replacing those that are there one after another, in this order, once all of them are on the disk, or the next 200 of
/// a larger set.
///
/// # Errors
/// [`WriteError`] names the first file that could not be written; if it was one on the way to the disk, all is as it was, but for earlier
/// hundreds of a larger set.
pub fn write_all(files: &[(PathBuf, String)]) -> Result<(), WriteError> {
    files.chunks(AT_ONCE).try_for_each(write_together)
}

fn write_together(files: &[(PathBuf, String)]) -> Result<(), WriteError> {
    let aside: Result<Vec<Aside>, WriteError> = files
        .iter()
        .map(|(path, text)| Aside::write(path, text.as_bytes()))
        .collect();
    aside?.into_iter().try_for_each(Aside::put)
}

/// Finds out whether [`write()`] could put a file there, without touching what is there.
///
/// # Errors
/// [`WriteError`], as it would be of writing.
pub fn writable(path: &Path) -> Result<(), WriteError> {
    if path.is_dir() {
        return Err(WriteError::Refused {
            path: path.to_path_buf(),
            source: io::ErrorKind::IsADirectory.into(),
        });
    }
    Aside::open(path).map(drop)
}

/// A file written beside the one that it is to replace; gone if it is dropped before.
struct Aside<'a> {
    path: &'a Path,
    written: PathBuf,
    /// Held open for its lock.
    file: File,
    put: bool,
}

impl<'a> Aside<'a> {
    fn open(path: &'a Path) -> Result<Aside<'a>, WriteError> {
        let name = path
            .file_name()
            .ok_or_else(|| WriteError::NotAFile(path.to_path_buf()))?;
        let folder = folder_of(path);
        remove_left(folder, name);
        let (file, aside) = open_aside(folder, name).map_err(|source| WriteError::Refused {
            path: path.to_path_buf(),
            source,
        })?;
        Ok(Aside {
            path,
            written: aside,
            file,
            put: false,
        })
    }

    fn write(path: &'a Path, bytes: &[u8]) -> Result<Aside<'a>, WriteError> {
        let mut aside = Aside::open(path)?;
        let written = aside.file.write_all(bytes);
        let written = written.and_then(|()| aside.file.sync_all());
        written.map_err(|source| aside.refused(source))?;
        Ok(aside)
    }

    fn put(mut self) -> Result<(), WriteError> {
        fs::rename(&self.written, self.path).map_err(|source| self.refused(source))?;
        self.put = true;
        flush_folder(folder_of(self.path));
        Ok(())
    }

    fn refused(&self, source: io::Error) -> WriteError {
        WriteError::Refused {
            path: self.path.to_path_buf(),
            source,
        }
    }
}

impl Drop for Aside<'_> {
    fn drop(&mut self) {
        if !self.put {
            // The first error is the one worth telling; a leftover that cannot be removed either adds nothing to it.
            let _ = fs::remove_file(&self.written);
        }
    }
}

fn folder_of(path: &Path) -> &Path {
    path.parent()
        .filter(|p| !p.as_os_str().is_empty())
        .unwrap_or(Path::new("."))
}

/// How the names of all files written aside for this one begin.
fn beginning(name: &OsStr) -> OsString {
    let mut aside = OsString::from(".");
    aside.push(name);
    aside.push(".");
    aside
}

/// A new file in the same folder, hence on the same disk, that nobody else has open.
fn open_aside(folder: &Path, name: &OsStr) -> io::Result<(File, PathBuf)> {
    let mut last = io::Error::from(io::ErrorKind::AlreadyExists);
    for attempt in 0..NAMES_TRIED {
        let mut aside = beginning(name);
        aside.push(format!("{}-{attempt}{ASIDE}", std::process::id()));
        let aside = folder.join(aside);
        match OpenOptions::new().write(true).create_new(true).open(&aside) {
            // Not there any more: taken for a leftover before it was locked. Where nothing can be locked, nothing is removed either.
            Ok(file) if matches!(file.try_lock(), Err(fs::TryLockError::WouldBlock)) => {}
            Ok(file) if aside.exists() => return Ok((file, aside)),
            Ok(_) => {}
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => last = error,
            Err(error) => return Err(error),
        }
    }
    Err(last)
}

/// Removes what a program that was killed has left of this file. What cannot be removed is in nobody's way.
fn remove_left(folder: &Path, name: &OsStr) {
    let beginning = beginning(name);
    let is_aside = |found: &OsStr| {
        let (found, beginning) = (found.as_encoded_bytes(), beginning.as_encoded_bytes());
        found.starts_with(beginning) && found.ends_with(ASIDE.as_bytes())
    };
    let Ok(entries) = fs::read_dir(folder) else {
        return;
    };
    for entry in entries.flatten().filter(|e| is_aside(&e.file_name())) {
        let left = entry.path();
        let opened = OpenOptions::new().write(true).open(&left);
        if opened.is_ok_and(|file| file.try_lock().is_ok()) {
            let _ = fs::remove_file(&left);
        }
    }
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

    fn count(folder: &Path) -> usize {
        fs::read_dir(folder).unwrap().count()
    }

    #[test]
    fn a_file_is_replaced_whole_and_nothing_is_left_beside_it() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("plan.json");
        write(&path, b"a long first version").unwrap();
        write(&path, b"second").unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"second");
        assert_eq!(count(folder.path()), 1);
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
        assert_eq!(count(folder.path()), 1);
    }

    #[test]
    fn files_that_belong_together_are_replaced_in_order_once_all_are_on_the_disk() {
        let folder = tempfile::tempdir().unwrap();
        let paths = ["a", "missing/b", "c"].map(|name| folder.path().join(name));
        fs::write(&paths[0], "old").unwrap();
        let files = paths.clone().map(|path| (path, "new".to_string()));
        let error = write_all(&files).unwrap_err();
        assert!(error.to_string().contains("missing"), "{error}");
        assert_eq!(fs::read(&paths[0]).unwrap(), b"old");
        assert_eq!(count(folder.path()), 1);

        // One that cannot be renamed: those before it are new, those after it are not.
        fs::create_dir_all(paths[1].join("in the way")).unwrap();
        write_all(&files).unwrap_err();
        assert_eq!(fs::read(&paths[0]).unwrap(), b"new");
        assert!(!paths[2].exists());
        assert_eq!(count(folder.path()), 2);
        assert_eq!(count(paths[1].parent().unwrap()), 1);
    }

    #[test]
    fn a_set_of_many_files_is_written_though_only_so_many_may_be_open() {
        let folder = tempfile::tempdir().unwrap();
        let file = |i: usize| (folder.path().join(i.to_string()), i.to_string());
        let files: Vec<_> = (0..=2 * AT_ONCE).map(file).collect();
        write_all(&files).unwrap();
        assert_eq!(count(folder.path()), files.len());
        for (path, text) in files {
            assert_eq!(fs::read_to_string(path).unwrap(), text);
        }
    }

    #[test]
    fn what_a_killed_program_left_is_removed_and_what_another_writes_is_not() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("plan.json");
        let left = folder.path().join(".plan.json.1-0.part");
        let other = folder.path().join(".plan.json.bak");
        fs::write(&left, "half").unwrap();
        fs::write(&other, "somebody's own").unwrap();
        let theirs = Aside::write(&path, b"theirs").unwrap();
        write(&path, b"ours").unwrap();
        assert!(!left.exists() && other.exists() && theirs.written.exists());
        theirs.put().unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"theirs");
        assert_eq!(count(folder.path()), 2);
    }

    #[test]
    fn asking_whether_a_file_could_be_written_leaves_everything_as_it_was() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("plan.json");
        writable(&path).unwrap();
        assert_eq!(count(folder.path()), 0);
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
