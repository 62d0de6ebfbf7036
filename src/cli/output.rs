//! Who hears what: data on stdout, notes and progress on stderr.

use super::exit::Exit;
use evenrun::report;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use serde_json::{Value, json};
use std::fmt::Display;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// What the user wants to hear.
#[derive(Clone, Copy, Debug)]
pub(super) struct Output {
    quiet: bool,
    verbose: bool,
    json: bool,
}

impl Output {
    pub(super) fn new(quiet: bool, verbose: bool) -> Output {
        Output {
            quiet,
            verbose,
            json: false,
        }
    }

    /// The same for a command that was asked for JSON, or not.
    pub(super) fn json(self, json: bool) -> Output {
        Output { json, ..self }
    }

    /// The same without a word on every file: for many of them.
    pub(super) fn without_notes(self) -> Output {
        Output {
            quiet: !self.verbose,
            ..self
        }
    }

    /// Whether data is to be JSON.
    pub(super) fn is_json(self) -> bool {
        self.json
    }

    /// Problems as data, if JSON was asked for: programs read them there, people on stderr.
    pub(super) fn problems(self, problems: &Value) -> Result<(), Exit> {
        if self.json {
            data(&format!("{:#}\n", json!({ "problems": problems })))
        } else {
            Ok(())
        }
    }

    /// A note.
    pub(super) fn note(self, message: impl Display) {
        if !self.quiet {
            wrong(message);
        }
    }

    /// A note for those who want to know how.
    pub(super) fn detail(self, message: impl Display) {
        if self.verbose {
            wrong(message);
        }
    }

    /// Writes a file whole, and says so.
    pub(super) fn put(self, path: &Path, text: &str) -> Result<(), Exit> {
        self.put_all(&[(path.to_path_buf(), text.to_string())])
    }

    /// Writes files that belong together, each whole, and says so. The one that the others are made from comes last: a set is whole if nothing
    /// in it is younger.
    pub(super) fn put_all(self, files: &[(PathBuf, String)]) -> Result<(), Exit> {
        report::write_all(files).map_err(|error| {
            wrong(format!("error: {error}"));
            Exit::Bad
        })?;
        for (path, _) in files {
            self.note(format!("wrote {}", path.display()));
        }
        Ok(())
    }

    /// A bar of a hundred parts on stderr, if that is a terminal.
    pub(super) fn bar(self) -> ProgressBar {
        let target = if self.quiet {
            ProgressDrawTarget::hidden()
        } else {
            ProgressDrawTarget::stderr()
        };
        let bar = ProgressBar::with_draw_target(Some(100), target);
        if let Ok(style) = ProgressStyle::with_template("searching {bar:30} {pos:>3} %  {msg}") {
            bar.set_style(style.progress_chars("##."));
        }
        bar
    }
}

/// Data. A reader that went away early, such as `head`, has what it wanted; any other failure is told.
pub(super) fn data(text: &str) -> Result<(), Exit> {
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => {
            wrong(format!("error: cannot write to standard output: {error}"));
            Err(Exit::Bad)
        }
        _ => Ok(()),
    }
}

/// What went wrong: always said.
pub(super) fn wrong(message: impl Display) {
    let _ = writeln!(io::stderr().lock(), "{message}");
}
