//! The program itself gives the same files again: at any number of threads, and whoever built it.

use super::{Folder, evenrun, skipped};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::SystemTime;

const DEMO: &str = "demo/larkfield";
const FILES: [&str; 3] = ["plan.json", "report.html", "cards.html"];

fn planned(program: &Path, out: &Path) {
    let mut command = Command::new(program);
    command
        .args(["plan", DEMO, "--iterations", "60", "--out"])
        .arg(out);
    let ended = command.output().unwrap();
    assert!(ended.status.code().is_some_and(|code| code < 2));
}

fn assert_same(one: &Path, other: &Path) {
    for name in FILES {
        let [a, b] = [one, other].map(|folder| fs::read(folder.join(name)).unwrap());
        assert!(a == b, "{name} differs");
    }
}

#[test]
fn the_files_are_the_same_at_any_number_of_threads() {
    let folder = Folder::new();
    for threads in ["1", "2", "4"] {
        let out = folder.arg(threads);
        let args = ["plan", DEMO, "--iterations", "60", "--threads", threads];
        assert!(evenrun(&[&args[..], &["--out", &out]].concat()).code < Some(2));
        assert_same(&folder.path("1"), &folder.path(threads));
    }
}

/// When the youngest file of a folder was changed.
fn changed(folder: &Path) -> SystemTime {
    let of = |path: PathBuf| {
        if path.is_dir() {
            changed(&path)
        } else {
            fs::metadata(path).unwrap().modified().unwrap()
        }
    };
    let entries = fs::read_dir(folder).unwrap().map(|e| of(e.unwrap().path()));
    entries.max().unwrap_or(SystemTime::UNIX_EPOCH)
}

#[test]
fn a_release_writes_the_same_files_as_a_development_build() {
    let own = Path::new(env!("CARGO_BIN_EXE_evenrun"));
    let target = own.parent().and_then(Path::parent).unwrap();
    let name = own.file_name().unwrap();
    let builds = ["debug", "release"].map(|build| target.join(build).join(name));
    let source = changed(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"));
    for build in &builds {
        let built = fs::metadata(build).and_then(|m| m.modified());
        if !built.is_ok_and(|built| built >= source) {
            skipped(&format!(
                "{} is not there, or older than its source",
                build.display()
            ));
            return;
        }
    }
    let folder = Folder::new();
    let outs = ["debug", "release"].map(|build| folder.path(build));
    for (build, out) in builds.iter().zip(&outs) {
        planned(build, out);
    }
    assert_same(&outs[0], &outs[1]);
}
