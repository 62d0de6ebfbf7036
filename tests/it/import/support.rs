//! Running imports in a folder of the test's own.

use crate::cli::{Ran, evenrun_in};
use std::fs;
use std::path::PathBuf;
use tempfile::TempDir;

/// A folder of the test's own.
pub(super) struct Folder(TempDir);

impl Folder {
    pub(super) fn new() -> Folder {
        Folder(tempfile::tempdir().unwrap())
    }

    pub(super) fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    pub(super) fn put(&self, name: &str, bytes: impl AsRef<[u8]>) {
        let path = self.path(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, bytes).unwrap();
    }

    pub(super) fn text(&self, name: &str) -> String {
        fs::read_to_string(self.path(name)).unwrap()
    }

    /// Runs the program here.
    pub(super) fn run(&self, args: &[&str]) -> Ran {
        evenrun_in(self.0.path(), args)
    }

    /// The same, which must go well.
    pub(super) fn well(&self, args: &[&str]) -> Ran {
        let ran = self.run(args);
        assert_eq!(ran.code, Some(0), "{args:?}\n{}{}", ran.out, ran.err);
        ran
    }

    /// The site reads without an error, and a plan of a Tuesday keeps every rule.
    pub(super) fn plans_at_once(&self, site: &str) {
        let check = self.well(&["check", site]);
        assert!(check.err.contains("0 errors"), "{}", check.err);
        let plan = self.run(&[
            "plan",
            site,
            "--date",
            "2026-03-10",
            "--iterations",
            "30",
            "--out",
            "out",
        ]);
        assert_eq!(plan.code, Some(0), "{}{}", plan.out, plan.err);
        assert!(
            plan.out.contains("sound: every rule is kept"),
            "{}",
            plan.out
        );
    }
}
