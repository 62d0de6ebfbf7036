//! Where problems are collected while reading: nothing stops at the first one.

use super::hint::suggest;
use super::limits::{HINTS, PROBLEMS};
use super::problem::{Problem, SHOWN_LINE, Severity};
use std::cell::{Cell, RefCell};
use std::path::PathBuf;

/// A place in one of the files read.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Pos {
    /// Index of the file, in the order of reading.
    pub(crate) file: u32,
    /// Line from 1; 0 is the file as a whole.
    pub(crate) line: u32,
    /// Column in characters from 1.
    pub(crate) column: u32,
}

#[derive(Debug)]
struct Found {
    severity: Severity,
    code: &'static str,
    pos: Pos,
    message: String,
    hint: Option<String>,
}

#[derive(Debug)]
struct Source {
    path: PathBuf,
    text: String,
}

/// Problems found so far, and the files they are in. Only so many are kept; the others are counted.
#[derive(Debug, Default)]
pub(crate) struct Log {
    found: RefCell<Vec<Found>>,
    sources: RefCell<Vec<Source>>,
    errors: Cell<usize>,
    warnings: Cell<usize>,
    hints: Cell<usize>,
}

impl Log {
    /// Adds a file; its index is the `file` of positions in it.
    pub(crate) fn add_source(&self, path: PathBuf, text: &str) -> u32 {
        let mut sources = self.sources.borrow_mut();
        sources.push(Source {
            path,
            text: text.to_string(),
        });
        (sources.len() - 1) as u32
    }

    /// Something that must be put right.
    pub(crate) fn error(
        &self,
        code: &'static str,
        pos: Pos,
        message: String,
        hint: impl Into<String>,
    ) {
        self.errors.set(self.errors.get() + 1);
        if !self.is_full() {
            self.add(Severity::Error, code, pos, message, hint.into());
        }
    }

    /// Something odd.
    pub(crate) fn warning(
        &self,
        code: &'static str,
        pos: Pos,
        message: String,
        hint: impl Into<String>,
    ) {
        self.warnings.set(self.warnings.get() + 1);
        if self.warnings.get() <= PROBLEMS {
            self.add(Severity::Warning, code, pos, message, hint.into());
        }
    }

    /// What to say about an unknown word, as [`suggest`]; nothing after many others, as it takes its time.
    pub(crate) fn near<S: AsRef<str>>(&self, word: &str, known: &[S]) -> String {
        self.hints.set(self.hints.get() + 1);
        if self.hints.get() > HINTS {
            String::new()
        } else {
            suggest(word, known)
        }
    }

    /// Whether further errors are only counted.
    fn is_full(&self) -> bool {
        self.errors.get() > PROBLEMS
    }

    /// How many errors so far.
    pub(crate) fn errors(&self) -> usize {
        self.errors.get()
    }

    /// The path a file was read under.
    pub(crate) fn path(&self, pos: Pos) -> PathBuf {
        self.sources
            .borrow()
            .get(pos.file as usize)
            .map(|s| s.path.clone())
            .unwrap_or_default()
    }

    /// All files read.
    pub(crate) fn paths(&self) -> Vec<PathBuf> {
        self.sources
            .borrow()
            .iter()
            .map(|s| s.path.clone())
            .collect()
    }

    /// Everything found, in the order of files and lines, the same thing said once. The last one tells of those that are only counted.
    pub(crate) fn into_problems(self) -> Vec<Problem> {
        let counted = [self.errors.get(), self.warnings.get()];
        let more: usize = counted.map(|n| n.saturating_sub(PROBLEMS)).iter().sum();
        let sources = self.sources.into_inner();
        let mut found = self.found.into_inner();
        found.sort_by(|a, b| (a.pos, a.code, &a.message).cmp(&(b.pos, b.code, &b.message)));
        found.dedup_by(|a, b| (a.pos, a.code, &a.message) == (b.pos, b.code, &b.message));
        let lines: Vec<Vec<&str>> = sources
            .iter()
            .enumerate()
            .map(|(file, source)| {
                let any = found.iter().any(|f| f.pos.file as usize == file);
                if any {
                    source.text.lines().collect()
                } else {
                    Vec::new()
                }
            })
            .collect();
        let told = |f: Found| {
            let file = f.pos.file as usize;
            let lines = lines.get(file).map(Vec::as_slice).unwrap_or_default();
            told(f, sources.get(file), lines)
        };
        let mut problems: Vec<Problem> = found.into_iter().map(told).collect();
        if let Some(last) = problems.last_mut().filter(|_| more > 0) {
            let more = format!("there are {more} more problems, which are not listed");
            last.hint = Some(
                last.hint
                    .take()
                    .map_or(more.clone(), |h| format!("{h}; {more}")),
            );
        }
        problems
    }

    fn add(&self, severity: Severity, code: &'static str, pos: Pos, message: String, hint: String) {
        let hint = (!hint.is_empty()).then_some(hint);
        self.found.borrow_mut().push(Found {
            severity,
            code,
            pos,
            message,
            hint,
        });
    }
}

fn told(found: Found, source: Option<&Source>, lines: &[&str]) -> Problem {
    let line = (found.pos.line as usize).checked_sub(1);
    let text = line.and_then(|line| lines.get(line)).copied();
    Problem {
        severity: found.severity,
        code: found.code,
        file: source.map(|s| s.path.clone()).unwrap_or_default(),
        line: found.pos.line,
        column: found.pos.column,
        message: found.message,
        hint: found.hint,
        // One that is too long to be shown may be the whole file.
        source_line: text
            .filter(|t| t.len() <= SHOWN_LINE)
            .unwrap_or_default()
            .to_string(),
    }
}
