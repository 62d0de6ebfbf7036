//! Who hears what: data on stdout, notes and progress on stderr.

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::fmt::Display;
use std::io::{self, Write};

/// What the user wants to hear.
#[derive(Clone, Copy, Debug)]
pub(super) struct Output {
    quiet: bool,
    verbose: bool,
}

impl Output {
    pub(super) fn new(quiet: bool, verbose: bool) -> Output {
        Output { quiet, verbose }
    }

    /// Data. A reader that went away early, such as `head`, has what it wanted.
    pub(super) fn data(self, text: &str) {
        let mut out = io::stdout().lock();
        let _ = out.write_all(text.as_bytes()).and_then(|()| out.flush());
    }

    /// What went wrong: always said.
    pub(super) fn wrong(self, message: impl Display) {
        let _ = writeln!(io::stderr().lock(), "{message}");
    }

    /// A note.
    pub(super) fn note(self, message: impl Display) {
        if !self.quiet {
            self.wrong(message);
        }
    }

    /// A note for those who want to know how.
    pub(super) fn detail(self, message: impl Display) {
        if self.verbose {
            self.wrong(message);
        }
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
