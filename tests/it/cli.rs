//! The command line as its users meet it: exit codes, what goes to stdout and to stderr, and the files that are left.
//!
//! Figures come from no outside source here: what is checked is that the program does what its help says.

mod broken;
mod commands;
mod covering;
mod files;
mod many;
mod planning;
mod reporting;
mod same;
#[cfg(unix)]
mod signals;
mod streams;

use assert_cmd::Command;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// What a run of the program left.
pub(crate) struct Ran {
    pub(crate) code: Option<i32>,
    pub(crate) out: String,
    pub(crate) err: String,
}

/// Runs the program from the root of the repository.
pub(crate) fn evenrun(args: &[&str]) -> Ran {
    evenrun_in(Path::new(env!("CARGO_MANIFEST_DIR")), args)
}

/// Runs the program in a folder.
pub(crate) fn evenrun_in(folder: &Path, args: &[&str]) -> Ran {
    let output = Command::new(env!("CARGO_BIN_EXE_evenrun"))
        .current_dir(folder)
        .args(args)
        .output()
        .unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    let ran = Ran {
        code: output.status.code(),
        out: text(output.stdout),
        err: text(output.stderr),
    };
    assert!(!ran.err.contains("panicked"), "{args:?}: {}", ran.err);
    ran
}

/// A folder of the test's own, and a path in it as an argument.
pub(crate) struct Folder(TempDir);

impl Folder {
    pub(crate) fn new() -> Folder {
        Folder(tempfile::tempdir().unwrap())
    }

    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    pub(crate) fn arg(&self, name: &str) -> String {
        self.path(name).to_str().unwrap().to_string()
    }

    /// The site that `new` writes: two people, six rooms, all of it done in an evening.
    pub(crate) fn with_new_site() -> Folder {
        let folder = Folder::new();
        assert_eq!(evenrun(&["new", &folder.arg("site")]).code, Some(0));
        folder
    }

    /// Plans the site of [`Folder::with_new_site`] for a Tuesday into `out`, in a few rounds.
    fn plan(&self, out: &str, more: &[&str]) -> Ran {
        self.plan_for(&["--iterations", "50"], out, more)
    }

    /// The same for as long as is said.
    fn plan_for(&self, budget: &[&str], out: &str, more: &[&str]) -> Ran {
        let args = self.planning(budget, out, more);
        evenrun(&args.iter().map(String::as_str).collect::<Vec<_>>())
    }

    /// The command line for that.
    fn planning(&self, budget: &[&str], out: &str, more: &[&str]) -> Vec<String> {
        let (site, out) = (self.arg("site"), self.arg(out));
        let args = ["plan", &site, "--date", "2026-03-10", "--out", &out];
        let all = [&args, budget, more].concat();
        all.into_iter().map(String::from).collect()
    }
}

/// Says what is not tested here.
#[expect(clippy::print_stderr, reason = "whoever runs the tests is to see it")]
fn skipped(why: &str) {
    eprintln!("skipped: {why}");
}

pub(crate) fn json(text: &str) -> serde_json::Value {
    serde_json::from_str(text).unwrap()
}

fn json_of(path: &Path) -> serde_json::Value {
    json(&std::fs::read_to_string(path).unwrap())
}
