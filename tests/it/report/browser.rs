//! Pages in a real browser: Debian's chromium without a window, with pdftotext, and axe-core where it is installed below `target/axe`. Where
//! one is missing the test says what it skipped; `.ci/run` installs all of them.

use super::large::six_hundred;
use super::{Made, with_hostile_names};
use crate::common::demo;
use evenrun::report::{Language, Words, cards, html};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use tempfile::TempDir;

/// Largest page of a site of 600 rooms, bytes.
const LARGEST: usize = 5_000_000;
/// Most sheets of a run card of the demo.
const SHEETS: usize = 2;
/// Seconds after which a browser that hangs is ended.
const PATIENCE: &str = "180";

/// A program on the path.
fn found(names: &[&str]) -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    let folders: Vec<PathBuf> = std::env::split_paths(&path).collect();
    let all = names
        .iter()
        .flat_map(|n| folders.iter().map(move |f| f.join(n)));
    all.into_iter().find(|program| program.is_file())
}

/// Says what is not tested here.
#[expect(clippy::print_stderr, reason = "whoever runs the tests is to see it")]
fn skipped(test: &str, why: &str) {
    eprintln!("skipped: {test}: {why}");
}

/// A browser with a profile of its own that is thrown away.
struct Browser {
    program: PathBuf,
    folder: TempDir,
}

impl Browser {
    /// The browser, or a word that there is none.
    fn open(test: &str) -> Option<Browser> {
        let program = found(&["chromium", "chromium-browser"]);
        if program.is_none() {
            skipped(test, "there is no chromium here");
        }
        Some(Browser {
            program: program?,
            folder: tempfile::tempdir().unwrap(),
        })
    }

    /// What it says to stdout and to stderr about a page.
    fn run(&self, page: &str, options: &[&str]) -> (String, String) {
        let file = self.folder.path().join("page.html");
        fs::write(&file, page).unwrap();
        let profile = self.folder.path().join("profile");
        let output = Command::new("timeout")
            .arg(PATIENCE)
            .arg(&self.program)
            .args([
                "--headless",
                "--no-sandbox",
                "--disable-gpu",
                "--disable-quic",
                "--no-first-run",
            ])
            .args([
                "--disable-background-networking",
                "--disable-component-update",
                "--disable-sync",
            ])
            .args(["--enable-logging=stderr", "--no-pdf-header-footer"])
            .arg(format!("--user-data-dir={}", profile.display()))
            .args(options)
            .arg(format!("file://{}", file.display()))
            .output()
            .unwrap();
        let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).to_string();
        let (out, err) = (text(&output.stdout), text(&output.stderr));
        assert!(output.status.success(), "{err}");
        (out, err)
    }

    /// The page as the browser has it after loading it, and what it was told on its console.
    fn load(&self, page: &str) -> (String, Vec<String>) {
        let (tree, told) = self.run(page, &["--dump-dom", "--virtual-time-budget=5000"]);
        let console = told.lines().filter(|line| line.contains("CONSOLE"));
        (tree, console.map(String::from).collect())
    }

    /// The serious faults that axe-core finds.
    fn serious(&self, axe: &str, page: &str) -> Vec<serde_json::Value> {
        let scripts = format!("<script>{axe}</script><script>{CHECK}</script></body>");
        let with = page.replace("</body>", &scripts);
        let (tree, _) = self.run(&with, &["--dump-dom", "--virtual-time-budget=60000"]);
        let found = tree
            .rsplit_once("<pre id=\"found\">")
            .expect("axe has run")
            .1;
        let found = found.split("</pre>").next().unwrap();
        let found = found
            .replace("&gt;", ">")
            .replace("&lt;", "<")
            .replace("&amp;", "&");
        let mut found: Vec<serde_json::Value> = serde_json::from_str(&found).unwrap();
        found.retain(|fault| {
            ["serious", "critical"]
                .iter()
                .any(|impact| fault["impact"] == *impact)
        });
        found
    }

    /// The text of each sheet that the page prints on.
    fn print(&self, page: &str) -> Vec<String> {
        let pdf = self.folder.path().join("page.pdf");
        self.run(page, &[&format!("--print-to-pdf={}", pdf.display())]);
        let read = Command::new("pdftotext")
            .arg("-raw")
            .arg(&pdf)
            .arg("-")
            .output()
            .unwrap();
        let text = String::from_utf8_lossy(&read.stdout).to_string();
        let sheets = text.split('\u{c}').filter(|sheet| !sheet.trim().is_empty());
        sheets.map(String::from).collect()
    }
}

fn pages(made: &Made, language: Language) -> [String; 2] {
    let words = Words::new(language, &made.site);
    [
        html(&made.answer(), &words),
        cards(&made.answer(), &words, false),
    ]
}

#[test]
fn pages_of_the_demo_of_600_rooms_and_of_hostile_names_load_without_a_word_on_the_console() {
    let large = six_hundred();
    assert_eq!(large.site.rooms.len(), 600);
    let made = [Made::of(demo()), with_hostile_names(), large];
    let all: Vec<[String; 2]> = made.iter().map(|m| pages(m, Language::English)).collect();
    for page in all.iter().flatten() {
        assert!(page.len() <= LARGEST, "{} bytes", page.len());
    }
    let Some(browser) = Browser::open("pages load") else {
        return;
    };
    for page in all.iter().flatten() {
        let (tree, console) = browser.load(page);
        assert!(console.is_empty(), "{console:?}");
        assert_eq!(tree.matches("<script").count(), 1);
        assert_eq!(tree.matches("<svg").count(), page.matches("<svg").count());
    }
}

#[test]
fn cards_print_on_two_sheets_a_run_and_reports_with_every_room() {
    let made = Made::of(demo());
    let Some(browser) = Browser::open("pages print").filter(|_| found(&["pdftotext"]).is_some())
    else {
        skipped("pages print", "it takes chromium and pdftotext");
        return;
    };
    for language in Language::ALL {
        let [report, cards] = pages(&made, language);
        let mut of_run: BTreeMap<&str, usize> = BTreeMap::new();
        let mut last = None;
        for sheet in browser.print(&cards) {
            let names = made.site.crew.iter().map(|w| w.name.as_str());
            let here: BTreeSet<&str> = names.filter(|name| sheet.contains(name)).collect();
            assert_eq!(here.len(), 1, "whose is this sheet? {here:?}\n{sheet}");
            let name = here.first().copied().unwrap_or_default();
            if last != Some(name) {
                assert!(!of_run.contains_key(name), "sheets of {name} lie apart");
            }
            *of_run.entry(name).or_default() += 1;
            last = Some(name);
        }
        assert_eq!(of_run.len(), made.plan.runs.len());
        assert!(
            of_run.values().all(|sheets| *sheets <= SHEETS),
            "{language:?}: {of_run:?}"
        );
        // Words are broken at the ends of lines: only letters count.
        let dense = |text: &str| text.split_whitespace().collect::<String>();
        let printed = dense(&browser.print(&report).concat());
        for room in &made.site.rooms {
            assert!(printed.contains(&dense(&room.id)), "{}", room.id);
        }
    }
}

/// axe-core runs in the page and leaves what it found in it.
const CHECK: &str = "axe.run(document, {resultTypes: ['violations']}).then(function (found) {
  var note = document.createElement('pre');
  note.id = 'found';
  note.textContent = JSON.stringify(found.violations.map(function (v) {
    return {id: v.id, impact: v.impact, nodes: v.nodes.length, first: v.nodes[0].target.join(' '), why: v.nodes[0].failureSummary};
  }));
  document.body.appendChild(note);
});";

#[test]
fn axe_finds_no_serious_fault_in_pages() {
    let axe =
        Path::new(env!("CARGO_MANIFEST_DIR")).join("target/axe/node_modules/axe-core/axe.min.js");
    let Ok(axe) = fs::read_to_string(axe) else {
        skipped("accessibility", "axe-core is not below target/axe");
        return;
    };
    let Some(browser) = Browser::open("accessibility") else {
        return;
    };
    let faulty =
        "<!DOCTYPE html><html><head><title>x</title></head><body><img src='x.png'></body></html>";
    assert!(
        !browser.serious(&axe, faulty).is_empty(),
        "axe sees what is wrong"
    );
    let undone = Made::new("Larkfield", 2, &["Ana", "Bilal"]);
    let made = Made::of(demo());
    for page in [
        pages(&made, Language::English),
        pages(&undone, Language::Spanish),
    ]
    .concat()
    {
        for look in ["min-width: 1px", "max-width: 1px"] {
            let page = page.replace("prefers-color-scheme: dark", look);
            let serious = browser.serious(&axe, &page);
            assert!(serious.is_empty(), "{look}: {serious:#?}");
        }
    }
}

#[test]
fn a_fault_in_a_page_would_be_seen() {
    let Some(browser) = Browser::open("faults are seen") else {
        return;
    };
    let (_, console) = browser.load("<!DOCTYPE html><script>undefinedThing();</script>");
    assert_eq!(console.len(), 1, "{console:?}");
}
