//! What the program reads from and writes to other programs: pipes and full disks.

use super::{Folder, json, json_of};
use assert_cmd::Command;
use std::collections::BTreeSet;
use std::fs;
use std::process::{self, Stdio};

const PROGRAM: &str = env!("CARGO_BIN_EXE_evenrun");

/// Standard output, and how it ended, with something on standard input.
fn fed(args: &[&str], input: &str) -> (Option<i32>, String, String) {
    let mut command = Command::new(PROGRAM);
    let output = command.args(args).write_stdin(input).output().unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    (
        output.status.code(),
        text(output.stdout),
        text(output.stderr),
    )
}

#[test]
fn a_dash_is_the_plan_on_standard_input() {
    let folder = Folder::with_new_site();
    let planned = folder.plan("out", &["--json"]).out;
    let (code, out, _) = fed(&["verify", &folder.arg("site"), "-"], &planned);
    assert_eq!(code, Some(0), "{out}");
    let kept = |plan: &str, iterations: &str| {
        let (site, again) = (folder.arg("site"), folder.arg("again"));
        let args = ["plan", &site, "--date", "2026-03-10", "--keep", plan];
        let more = ["--iterations", iterations, "--json", "--out", &again];
        let (code, out, err) = fed(&[&args[..], &more].concat(), &planned);
        assert_eq!(code, Some(0), "{err}");
        out
    };
    assert_eq!(kept("-", "50"), kept(&folder.arg("out/plan.json"), "50"));
    // Without a search, everyone has the rooms of the plan that is kept.
    assert_eq!(who_does_what(&kept("-", "0")), who_does_what(&planned));
}

/// Worker and room of every stop in a room.
fn who_does_what(plan: &str) -> BTreeSet<(String, String)> {
    let mut pairs = BTreeSet::new();
    for run in json(plan)["runs"].as_array().unwrap() {
        let rooms = run["stops"].as_array().unwrap().iter();
        let rooms = rooms.filter_map(|stop| stop["room"].as_str());
        let worker = run["worker"].as_str().unwrap();
        pairs.extend(rooms.map(|room| (worker.to_string(), room.to_string())));
    }
    pairs
}

#[test]
fn what_is_no_plan_file_is_refused_with_its_place() {
    let folder = Folder::with_new_site();
    let refused = |text: &str| {
        let (code, out, err) = fed(&["verify", &folder.arg("site"), "-"], text);
        assert_eq!((code, out.as_str()), (Some(2), ""));
        err
    };
    insta::assert_snapshot!(refused("{"), @"error: standard input: 1:1: EOF while parsing an object");
    insta::assert_snapshot!(refused("{}"), @r"
    error: standard input: version: this is no plan file: it states no version
    hint: a plan file is the `plan.json` that `evenrun plan` writes
    ");
    insta::assert_snapshot!(refused(r#"{"version": 99}"#), @r"
    error: standard input: version: plan files of version 99 are not known here
    hint: this program reads version 1
    ");
    insta::assert_snapshot!(refused(r#"{"version": 1}"#), @"error: standard input: 1:14: missing field `program`");
}

/// What `head` does: it takes what it wants and goes away.
#[test]
fn a_reader_that_left_is_no_error_and_loses_no_file() {
    let folder = Folder::with_new_site();
    let (site, out) = (folder.arg("site"), folder.arg("out"));
    let mut child = process::Command::new(PROGRAM)
        .args(["plan", &site, "--date", "2026-03-10", "--out", &out])
        .args(["--iterations", "50"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let ended = child.wait_with_output().unwrap();
    let said = String::from_utf8(ended.stderr).unwrap();
    assert_eq!(ended.status.code(), Some(0), "{said}");
    assert!(
        said.lines().all(|line| line.starts_with("wrote ")),
        "{said}"
    );
    assert_eq!(json_of(&folder.path("out/plan.json"))["sound"], true);
    assert!(folder.path("out/report.html").is_file());
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_an_error() {
    let full = fs::File::options().write(true).open("/dev/full").unwrap();
    let mut schema = process::Command::new(PROGRAM);
    let ended = schema.arg("schema").stdout(full).output().unwrap();
    let said = String::from_utf8(ended.stderr).unwrap();
    assert_eq!(ended.status.code(), Some(2));
    let wanted = "error: cannot write to standard output: ";
    assert!(said.starts_with(wanted), "{said}");
}

/// Also where what cannot be written is why the command stops.
#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_told_beside_what_was_to_be_said() {
    let folder = Folder::with_new_site();
    let site = folder.arg("site");
    let calls: [(&[&str], &str); 3] = [
        (&["completions", "bash"], ""),
        (
            &["plan", &site, "--absent", "Cy", "--json"],
            "nobody in the crew is called `Cy`",
        ),
        (
            &["import", "rooms", "none.csv", "--into", &site, "--json"],
            "none.csv",
        ),
    ];
    for (args, why) in calls {
        let full = fs::File::options().write(true).open("/dev/full").unwrap();
        let mut program = process::Command::new(PROGRAM);
        let ended = program.args(args).stdout(full).output().unwrap();
        let said = String::from_utf8(ended.stderr).unwrap();
        assert_eq!(ended.status.code(), Some(2), "{args:?}");
        assert!(said.contains(why), "{args:?}: {said}");
        let wanted = "error: cannot write to standard output: ";
        assert!(said.contains(wanted), "{args:?}: {said}");
    }
}
