//! Ctrl-C and SIGTERM in every phase of every command that takes a while: a sound plan is left, or nothing.

use super::{Folder, evenrun, json_of};
use std::fs;
use std::process::{Command, Stdio};
use std::time::Duration;

const DEMO: &str = "demo/larkfield";

/// Looks at the program that pass before a signal: from its first files to the middle of its search.
const LOOKS: [u32; 6] = [0, 10, 30, 100, 300, 1000];

/// How a command ended that was sent a signal; `None` if the signal ended it.
fn signalled(args: &[&str], signal: &str, looks: u32) -> Option<i32> {
    let mut child = Command::new(env!("CARGO_BIN_EXE_evenrun"))
        .args(args)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    for _ in 0..looks {
        if child.try_wait().unwrap().is_some() {
            break;
        }
        std::thread::sleep(Duration::from_millis(1));
    }
    let mut kill = Command::new("kill");
    kill.args([signal, &child.id().to_string()]);
    // It may have ended by itself.
    let _ = kill.stderr(Stdio::null()).status().unwrap();
    child.wait().unwrap().code()
}

/// Signals at all moments to a command that writes into `out`; whether any of them left `plan`, which is sound whenever it is there.
fn signals(folder: &Folder, args: &[&str], set: &[&str]) -> bool {
    let out = folder.arg("out");
    let plan = set.last().filter(|name| name.ends_with("json"));
    let mut left = false;
    for (number, looks) in LOOKS.into_iter().enumerate() {
        let _ = fs::remove_dir_all(&out);
        let args = [args, &["--out", &out]].concat();
        let code = signalled(&args, ["-INT", "-TERM"][number % 2], looks);
        let there = set
            .iter()
            .filter(|name| folder.path("out").join(name).is_file());
        let there = there.count();
        assert!(there == 0 || there == set.len(), "{args:?}: {there} files");
        if code.is_some() {
            assert!(code < Some(2) && there > 0, "{args:?}: {code:?}");
        }
        if let Some(plan) = plan.filter(|_| there > 0) {
            let path = folder.arg(&format!("out/{plan}"));
            assert_eq!(evenrun(&["verify", DEMO, &path]).code, Some(0), "{args:?}");
            left = true;
        }
    }
    left
}

#[test]
fn a_signal_leaves_a_sound_plan_or_nothing() {
    let folder = Folder::new();
    let args = ["plan", DEMO, "--seconds", "3600"];
    let set = ["report.html", "cards.html", "plan.json"];
    assert!(signals(&folder, &args, &set));
}

#[test]
fn a_signal_leaves_a_sound_cover_plan_or_nothing() {
    let folder = Folder::new();
    let kept = folder.arg("kept");
    let plan = ["plan", DEMO, "--iterations", "20", "--out", &kept];
    assert_eq!(evenrun(&plan).code, Some(0));
    let kept = folder.arg("kept/plan.json");
    let away = [
        "--absent", "Aoife", "--absent", "Ruairi", "--absent", "Samira",
    ];
    let args = [&["cover", DEMO, &kept, "--seconds", "3600"], &away[..]].concat();
    let set = [
        "report.html",
        "cards.html",
        "changes.json",
        "carry.json",
        "plan.json",
    ];
    assert!(signals(&folder, &args, &set));
}

#[test]
fn a_signal_leaves_a_whole_audit_or_nothing() {
    let folder = Folder::new();
    let split = "demo/larkfield/split.csv";
    let args = ["audit", DEMO, split, "--seconds", "20"];
    signals(&folder, &args, &["audit.html", "best.json"]);
}

#[test]
fn a_signal_leaves_a_whole_count_or_calendar_or_nothing() {
    let folder = Folder::new();
    let staff = ["staff", DEMO, "--seconds", "20"];
    signals(&folder, &staff, &["staff.html"]);
    let calendar = ["calendar", DEMO, "--weeks", "8"];
    signals(&folder, &calendar, &["calendar.html", "calendar.yaml"]);
}

/// The plan says how it was made, also if that was cut short.
#[test]
fn a_plan_that_was_cut_short_says_that_it_is_sound() {
    let folder = Folder::with_new_site();
    let (site, out) = (folder.arg("site"), folder.arg("out"));
    let args = [
        "plan",
        &site,
        "--date",
        "2026-03-10",
        "--seconds",
        "3600",
        "--out",
        &out,
    ];
    assert_eq!(signalled(&args, "-TERM", 1500), Some(0));
    assert_eq!(json_of(&folder.path("out/plan.json"))["sound"], true);
}
