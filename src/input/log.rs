//! Where problems are collected while reading: nothing stops at the first one.

use super::problem::{Problem, Severity};
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

/// Problems found so far, and the files they are in.
#[derive(Debug, Default)]
pub(crate) struct Log {
    found: RefCell<Vec<Found>>,
    sources: RefCell<Vec<Source>>,
    errors: Cell<usize>,
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
        self.add(Severity::Error, code, pos, message, hint.into());
    }

    /// Something odd.
    pub(crate) fn warning(
        &self,
        code: &'static str,
        pos: Pos,
        message: String,
        hint: impl Into<String>,
    ) {
        self.add(Severity::Warning, code, pos, message, hint.into());
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

    /// Everything found, in the order of files and lines, the same thing said once.
    pub(crate) fn into_problems(self) -> Vec<Problem> {
        let sources = self.sources.into_inner();
        let mut found = self.found.into_inner();
        found.sort_by(|a, b| (a.pos, a.code, &a.message).cmp(&(b.pos, b.code, &b.message)));
        found.dedup_by(|a, b| (a.pos, a.code, &a.message) == (b.pos, b.code, &b.message));
        found.into_iter().map(|f| told(f, &sources)).collect()
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

fn told(found: Found, sources: &[Source]) -> Problem {
    let source = sources.get(found.pos.file as usize);
    let line = (found.pos.line as usize).checked_sub(1);
    let text = source
        .zip(line)
        .and_then(|(s, line)| s.text.lines().nth(line))
        .unwrap_or_default();
    Problem {
        severity: found.severity,
        code: found.code,
        file: source.map(|s| s.path.clone()).unwrap_or_default(),
        line: found.pos.line,
        column: found.pos.column,
        message: found.message,
        hint: found.hint,
        source_line: text.to_string(),
    }
}
