//! Ctrl-C and SIGTERM in every phase of every command that takes a while: a sound plan is left, or nothing.

use super::many::sites;
use super::{Folder, evenrun, json};
use std::fs;
use std::process::{Command, Stdio};
use std::time::Duration;

const DEMO: &str = "demo/larkfield";

/// Looks at the program that pass before a signal: from its first files to the middle of its search.
const LOOKS: [u32; 5] = [0, 10, 30, 100, 300];

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

/// One signal to a command that writes this set of files; whether it left them. The last of them, if it is a plan, is then sound.
fn leaves(folder: &Folder, args: &[&str], set: &[&str], signal: &str, looks: u32) -> bool {
    let out = folder.arg("out");
    let _ = fs::remove_dir_all(&out);
    let args = [args, &["--out", &out]].concat();
    let code = signalled(&args, signal, looks);
    let is_there = |name: &&&str| folder.path("out").join(name).is_file();
    let there = set.iter().filter(is_there).count();
    assert!(there == 0 || there == set.len(), "{args:?}: {there} files");
    if code.is_some() {
        assert!(code < Some(2) && there > 0, "{args:?}: {code:?}");
    }
    let plan = set.last().filter(|name| name.ends_with("json"));
    if let Some(plan) = plan.filter(|_| there > 0) {
        let path = folder.arg(&format!("out/{plan}"));
        assert_eq!(evenrun(&["verify", DEMO, &path]).code, Some(0), "{args:?}");
    }
    there > 0
}

/// Signals at all moments.
fn signals(folder: &Folder, args: &[&str], set: &[&str]) {
    for (number, looks) in LOOKS.into_iter().enumerate() {
        leaves(folder, args, set, ["-INT", "-TERM"][number % 2], looks);
    }
}

/// Sooner or later there is something to leave.
fn last(folder: &Folder, args: &[&str], set: &[&str]) {
    let mut later = (0..8).map(|doubled| 1000 << doubled);
    assert!(later.any(|looks| leaves(folder, args, set, "-INT", looks)));
}

#[test]
fn a_signal_leaves_a_sound_plan_or_nothing() {
    let folder = Folder::new();
    let args = ["plan", DEMO, "--seconds", "3600"];
    let set = ["report.html", "cards.html", "plan.json"];
    signals(&folder, &args, &set);
    last(&folder, &args, &set);
}

#[test]
fn a_signal_leaves_a_sound_cover_plan_or_nothing() {
    let folder = Folder::new();
    let kept = folder.arg("kept");
    let plan = ["plan", DEMO, "--iterations", "100", "--out", &kept];
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
    signals(&folder, &args, &set);
    last(&folder, &args, &set);
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

/// Sooner or later a signal comes while the first of two sites is searched; the second is then not begun.
#[test]
fn a_signal_to_many_sites_tells_which_are_cut_short_and_which_not_begun() {
    let folder = Folder::new();
    sites(&folder, 2);
    let told = |looks: u32| {
        let [all, out] = ["sites", "out"].map(|name| folder.arg(name));
        let args = ["plan", "--all", &all, "--out", &out, "--threads", "1"];
        let mut child = Command::new(env!("CARGO_BIN_EXE_evenrun"))
            .args(args)
            .args(["--seconds", "3600", "--json"])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        std::thread::sleep(Duration::from_millis(looks.into()));
        assert!(child.try_wait().unwrap().is_none(), "it has an hour");
        let id = child.id().to_string();
        assert!(
            Command::new("kill")
                .args(["-INT", &id])
                .status()
                .unwrap()
                .success()
        );
        let output = child.wait_with_output().unwrap();
        // Before it listens, a signal ends it.
        let code = output.status.code()?;
        assert_eq!(code, 1);
        let rows = json(&String::from_utf8(output.stdout).unwrap());
        let states = rows["sites"].as_array().unwrap().iter();
        let states = states.map(|row| row["state"].as_str().unwrap().to_string());
        Some(states.collect::<Vec<_>>())
    };
    let mut found = (0..10).filter_map(|doubled| told(100 << doubled));
    let cut = found.find(|states| states[0] != "not begun");
    assert_eq!(cut.unwrap(), ["planned, cut short", "not begun"]);
    // A plan cut short is a plan, and made again next time.
    let plan = folder.arg("out/north/b000/plan.json");
    let site = folder.arg("sites/north/b000");
    assert_eq!(evenrun(&["verify", &site, &plan]).code, Some(0));
    assert!(!folder.path("out/north/b000/done.json").exists());
}
