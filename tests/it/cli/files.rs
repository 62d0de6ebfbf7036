//! Files last: whatever happens while they are written, each of them is the old one or the new one, whole.

use super::{Folder, evenrun, skipped};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::Duration;

const PROGRAM: &str = env!("CARGO_BIN_EXE_evenrun");

/// How often the program is killed in all.
const KILLS: u32 = 200;

/// Every file below a folder by its path in it, with its bytes; what was being written is left out and counted.
fn files(folder: &Path) -> (BTreeMap<PathBuf, Vec<u8>>, usize) {
    let (mut found, mut aside) = (BTreeMap::new(), 0);
    let mut waiting = vec![folder.to_path_buf()];
    while let Some(next) = waiting.pop() {
        for entry in fs::read_dir(next).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                waiting.push(path);
            } else if path.extension().is_some_and(|e| e == "part") {
                aside += 1;
            } else {
                let name = path.strip_prefix(folder).unwrap().to_path_buf();
                found.insert(name, fs::read(path).unwrap());
            }
        }
    }
    (found, aside)
}

fn begun(args: &[String]) -> Child {
    let mut command = Command::new(PROGRAM);
    command
        .args(args)
        .stdout(Stdio::null())
        .stderr(Stdio::null());
    command.spawn().unwrap()
}

/// How many times one can look before the program has ended, and at most so many.
fn looks(child: &mut Child, most: u32) -> u32 {
    let mut looked = 0;
    while looked < most && child.try_wait().unwrap().is_none() {
        std::thread::sleep(Duration::from_micros(200));
        looked += 1;
    }
    looked
}

/// Two commands that write the same files differently, by the folder they write into.
type Pair<'a> = [&'a dyn Fn(&str) -> Vec<String>; 2];

/// Runs two commands in turn and kills them, a little later every time. `last` is the file that is written last, if they promise one.
fn killed(folder: &Folder, commands: Pair, times: u32, last: Option<&str>) {
    let whole = ["whole-0", "whole-1"].map(|name| folder.path(name));
    let mut most = 0;
    for (path, command) in whole.iter().zip(commands) {
        let mut child = begun(&command(path.to_str().unwrap()));
        most = most.max(looks(&mut child, u32::MAX));
        assert!(child.wait().unwrap().code().is_some_and(|code| code < 2));
    }
    let sets = whole.map(|path| files(&path).0);
    assert!(sets[0].keys().eq(sets[1].keys()) && sets[0] != sets[1]);
    let out = folder.arg("out");
    assert!(begun(&commands[0](&out)).wait().unwrap().code().is_some());
    let mut cut = 0;
    for time in 0..times {
        let mut child = begun(&commands[(time + 1) as usize % 2](&out));
        looks(&mut child, most * time / times);
        // It may have ended by itself.
        let _ = child.kill();
        cut += u32::from(child.wait().unwrap().code().is_none());
        let (found, _) = files(&folder.path("out"));
        assert!(found.keys().eq(sets[0].keys()), "kill {time}");
        let owner = |(name, bytes): (&PathBuf, &Vec<u8>)| {
            sets.iter()
                .position(|set| &set[name] == bytes)
                .unwrap_or_else(|| panic!("kill {time}: {} is neither", name.display()))
        };
        let sides: Vec<usize> = found.iter().map(owner).collect();
        if let Some(last) = last.map(|name| folder.path("out").join(name)) {
            let age = |path: &Path| fs::metadata(path).unwrap().modified().unwrap();
            let mut others = found.keys().map(|name| folder.path("out").join(name));
            let younger = others.any(|path| age(&path) > age(&last));
            let mixed = sides.iter().any(|side| *side != sides[0]);
            assert!(younger || !mixed, "kill {time}: a mixed set looks whole");
        }
    }
    assert!(cut > times / 4, "only {cut} of {times} were cut short");
    assert!(begun(&commands[0](&out)).wait().unwrap().code().is_some());
    let (found, aside) = files(&folder.path("out"));
    assert!(found == sets[0], "the last run is not whole");
    assert_eq!(aside, 0, "left aside");
}

#[test]
fn a_killed_program_leaves_every_file_old_or_new() {
    let folder = Folder::with_new_site();
    folder.plan("kept", &[]);
    let (site, plan) = (folder.arg("site"), folder.arg("kept/plan.json"));
    let report = |out: &str, lang: &str| {
        let mut args = ["report", &site, &plan, "--lang", lang]
            .map(String::from)
            .to_vec();
        let forms = ["html", "cards", "csv", "ics", "map-svg"];
        args.extend(
            forms
                .iter()
                .flat_map(|f| [format!("--{f}"), format!("{out}/{f}")]),
        );
        args
    };
    let pair: Pair = [&|out| report(out, "en"), &|out| report(out, "es")];
    killed(&folder, pair, KILLS / 2, None);

    let folder = Folder::with_new_site();
    let plan =
        |out: &str, seed: &str| folder.planning(&["--iterations", "0"], out, &["--seed", seed]);
    let pair: Pair = [&|out| plan(out, "1"), &|out| plan(out, "2")];
    killed(&folder, pair, KILLS / 4, Some("plan.json"));

    let folder = Folder::with_new_site();
    let site = folder.arg("site");
    let calendar = |out: &str, from: &str| {
        let args = [
            "calendar", &site, "--weeks", "2", "--from", from, "--out", out,
        ];
        args.map(String::from).to_vec()
    };
    let pair: Pair = [&|out| calendar(out, "2026-03-09"), &|out| {
        calendar(out, "2026-03-23")
    }];
    killed(&folder, pair, KILLS / 4, Some("calendar.yaml"));
}

/// A small disk of its own, or one that cannot be written to; gone when dropped.
struct Disk(PathBuf);

impl Disk {
    /// `None`, and said so, where this program may not mount anything.
    fn mounted(at: PathBuf, options: &str) -> Option<Disk> {
        fs::create_dir_all(&at).unwrap();
        let mut mount = Command::new("mount");
        mount.args(["-t", "tmpfs", "-o", options, "tmpfs"]).arg(&at);
        let done = mount.stderr(Stdio::null()).status();
        if done.is_ok_and(|status| status.success()) {
            return Some(Disk(at));
        }
        skipped("nothing can be mounted here");
        None
    }
}

impl Drop for Disk {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg(&self.0).status();
    }
}

/// Commands that write several files into a folder.
fn writers(folder: &Folder, out: &str) -> [Vec<String>; 3] {
    folder.plan("kept", &[]);
    let (site, plan) = (folder.arg("site"), folder.arg("kept/plan.json"));
    let below = |form: &str| folder.arg(&format!("{out}/report/{form}"));
    let (csv, page) = (below("csv"), below("html"));
    // The tables are small and come first.
    let report = ["report", &site, &plan, "--csv", &csv, "--map-svg", &page];
    let man = ["man", "--out", &folder.arg(&format!("{out}/man"))];
    [
        folder.planning(&["--iterations", "50"], &format!("{out}/plan"), &[]),
        report.map(String::from).to_vec(),
        man.map(String::from).to_vec(),
    ]
}

/// Runs everything that writes several files, once as it should be and again in another way. The second time is to fail, to say of which file,
/// and to leave everything as it was.
fn refused(folder: &Folder, out: &str, between: impl Fn(), how: impl Fn() -> Command) {
    let commands = writers(folder, out);
    for args in &commands {
        let args: Vec<&str> = args.iter().map(String::as_str).collect();
        let ran = evenrun(&args);
        assert_eq!(ran.code, Some(0), "{args:?}: {}", ran.err);
    }
    let names = files(&folder.path(out)).0;
    for name in names.keys() {
        fs::write(folder.path(out).join(name), "old").unwrap();
    }
    between();
    let before = files(&folder.path(out));
    for args in &commands {
        let ended = how().args(args).output().unwrap();
        let said = String::from_utf8(ended.stderr).unwrap();
        assert_eq!(ended.status.code(), Some(2), "{args:?}: {said}");
        assert!(
            said.contains("error: cannot write `") && said.contains(&folder.arg(out)),
            "{said}"
        );
        assert!(
            files(&folder.path(out)) == before,
            "{args:?}: not all is as it was"
        );
    }
}

/// The program itself.
fn program() -> Command {
    Command::new(PROGRAM)
}

/// Stands in for a full disk where nothing can be mounted: no file may become larger than a few kilobytes.
#[cfg(unix)]
#[test]
fn a_disk_that_takes_no_more_leaves_the_old_files() {
    let folder = Folder::with_new_site();
    let limited = || {
        let mut limited = Command::new("sh");
        let script = "trap '' XFSZ; ulimit -f 5; exec \"$0\" \"$@\"";
        limited.args(["-c", script, PROGRAM]);
        limited
    };
    refused(&folder, "out", || (), limited);
}

#[cfg(unix)]
#[test]
fn a_full_disk_leaves_the_old_files() {
    let folder = Folder::with_new_site();
    let Some(disk) = Disk::mounted(folder.path("disk"), "size=2m") else {
        return;
    };
    let fill = || {
        let rest = disk.0.join("rest");
        let mut filled = 0;
        // The last write is the one that does not fit; a little is free again then.
        while fs::write(&rest, vec![0; filled + 4096]).is_ok() {
            filled += 4096;
        }
        fs::write(&rest, vec![0; filled - 8192]).unwrap();
    };
    refused(&folder, "disk", fill, program);
}

#[cfg(unix)]
#[test]
fn a_folder_that_cannot_be_written_to_is_refused() {
    let folder = Folder::with_new_site();
    let Some(disk) = Disk::mounted(folder.path("disk"), "size=4m") else {
        return;
    };
    let lock = || {
        let mut mount = Command::new("mount");
        mount.args(["-o", "remount,ro"]).arg(&disk.0);
        assert!(mount.status().unwrap().success());
    };
    refused(&folder, "disk", lock, program);
}

/// Holds for whoever runs it: nothing can be made below a file.
#[test]
fn a_folder_that_cannot_be_made_is_refused_before_the_work() {
    let folder = Folder::with_new_site();
    let (site, file) = (folder.arg("site"), folder.path("file"));
    fs::write(&file, "kept").unwrap();
    let (below, split) = (folder.arg("file/out"), folder.arg("split.csv"));
    fs::write(folder.path("split.csv"), "room,worker\n").unwrap();
    folder.plan("kept", &[]);
    let plan = folder.arg("kept/plan.json");
    let commands: [&[&str]; 8] = [
        &["plan", &site, "--out", &below],
        &["cover", &site, &plan, "--out", &below],
        &["audit", &site, &split, "--out", &below],
        &["staff", &site, "--out", &below],
        &["calendar", &site, "--out", &below],
        &["report", &site, &plan, "--csv", &below],
        &["man", "--out", &below],
        &["new", &below],
    ];
    for command in commands {
        let ran = evenrun(command);
        assert_eq!(ran.code, Some(2), "{command:?}: {}", ran.err);
        assert!(ran.err.contains(&below), "{command:?}: {}", ran.err);
    }
    assert_eq!(fs::read(&file).unwrap(), b"kept");
}

#[test]
fn an_input_that_is_not_there_is_named_and_nothing_is_written() {
    let folder = Folder::with_new_site();
    folder.plan("kept", &[]);
    let (site, plan) = (folder.arg("site"), folder.arg("kept/plan.json"));
    let (gone, out) = (folder.arg("gone"), folder.arg("out"));
    let commands: [&[&str]; 14] = [
        &["plan", &gone, "--out", &out],
        &["plan", &site, "--keep", &gone, "--out", &out],
        &["plan", &site, "--carry", &gone, "--out", &out],
        &["verify", &site, &gone],
        &["explain", &site, &gone, "101"],
        &["audit", &site, &gone, "--out", &out],
        &["audit", &site, "--plans", &gone, "--out", &out],
        &["calendar", &site, "--split", &gone, "--out", &out],
        &["staff", &gone, "--out", &out],
        &["cover", &site, &gone, "--out", &out],
        &[
            "cover", &site, &plan, "--now", "18:00", "--done", &gone, "--out", &out,
        ],
        &["diff", &site, &plan, &gone],
        &["report", &site, &gone, "--csv", &out],
        &["import", "rooms", &gone, "--into", &out],
    ];
    for command in commands {
        let ran = evenrun(command);
        assert_eq!(ran.code, Some(2), "{command:?}: {}", ran.err);
        assert!(ran.err.contains("gone"), "{command:?}: {}", ran.err);
        let left = fs::read_dir(folder.path("out")).map_or(0, Iterator::count);
        assert_eq!(left, 0, "{command:?}");
    }
}
