//! A problem of the input as it is told to a person: where, what, and what to do about it.

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use std::fmt;
use std::path::PathBuf;

/// How bad a problem is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// Nothing can be planned until it is put right.
    Error,
    /// Odd, and probably not meant.
    Warning,
}

/// One problem of a site's files.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Problem {
    /// Whether it must be put right.
    pub severity: Severity,
    /// Its code in [`super::CODES`], such as `E305`.
    pub code: &'static str,
    /// The file, by the path it was read under.
    pub file: PathBuf,
    /// Line, counted from 1; 0 when the file as a whole is meant.
    pub line: u32,
    /// Column in characters, counted from 1; 0 when the file as a whole is meant.
    pub column: u32,
    /// What is wrong.
    pub message: String,
    /// What to do about it, if there is something to say.
    pub hint: Option<String>,
    /// The line it is on, as written; empty if it is too long to be shown.
    #[serde(skip)]
    pub source_line: String,
}

/// Longest source line that is shown: more than this is a data line nobody reads in a terminal.
pub(super) const SHOWN_LINE: usize = 300;

impl Problem {
    /// For the terminal, without colour: `file:line:column: code: message`, the source line with a caret, and the hint.
    pub fn render(&self) -> String {
        let mut text = self.to_string();
        if let Some(snippet) = self.snippet() {
            text.push('\n');
            text.push_str(&snippet);
        }
        if let Some(hint) = &self.hint {
            text.push_str("\nhint: ");
            text.push_str(hint);
        }
        text
    }

    fn snippet(&self) -> Option<String> {
        let shown: String = self
            .source_line
            .chars()
            .map(|c| if c.is_control() { ' ' } else { c })
            .collect();
        if self.line == 0 || shown.trim().is_empty() || shown.len() > SHOWN_LINE {
            return None;
        }
        let from = byte_of(&shown, self.column.saturating_sub(1) as usize);
        let mark = AnnotationKind::Primary.span(from..end_of_word(&shown, from));
        let source = Snippet::source(shown.as_str())
            .line_start(self.line as usize)
            .fold(false)
            .annotation(mark);
        let report = [Group::with_level(Level::ERROR).element(source)];
        let drawn = Renderer::plain().render(&report);
        // The first line is an empty location arrow: the location stands above already.
        let kept: Vec<&str> = drawn
            .lines()
            .filter(|l| !l.trim_start().starts_with("--> ") && l.trim() != "-->")
            .collect();
        Some(kept.join("\n"))
    }
}

fn byte_of(text: &str, characters: usize) -> usize {
    text.char_indices()
        .nth(characters)
        .map_or(text.len(), |(at, _)| at)
}

/// The end of the value that starts at a byte: up to the next separator outside quotes, at least one character.
fn end_of_word(text: &str, from: usize) -> usize {
    let rest = &text[from..];
    let quote = rest.chars().next().filter(|c| matches!(c, '"' | '\''));
    let ends = |(at, c): (usize, char)| match quote {
        Some(quote) => at > 0 && c == quote,
        None => at > 0 && matches!(c, ',' | ']' | '}' | '#' | ';' | ':'),
    };
    let found = rest
        .char_indices()
        .find(|x| ends(*x))
        .map_or(rest.len(), |(at, _)| at);
    let end = if quote.is_some() {
        (found + 1).min(rest.len())
    } else {
        rest[..found].trim_end().len()
    };
    from + end.max(rest.chars().next().map_or(0, char::len_utf8))
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.file.display())?;
        if self.line > 0 {
            write!(f, ":{}:{}", self.line, self.column)?;
        }
        write!(f, ": {}: {}", self.code, self.message)
    }
}

/// Everything that was wrong, in the order of files and lines; at least one error among it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problems(pub Vec<Problem>);

impl fmt::Display for Problems {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let all: Vec<String> = self.0.iter().map(Problem::render).collect();
        f.write_str(&all.join("\n\n"))
    }
}

impl std::error::Error for Problems {}

#[cfg(test)]
mod tests {
    use super::*;

    fn problem(line: u32, column: u32, source: &str) -> Problem {
        Problem {
            severity: Severity::Error,
            code: "E305",
            file: PathBuf::from("site.yaml"),
            line,
            column,
            message: "there is no room kind `restrom`".to_string(),
            hint: Some("did you mean `restroom`?".to_string()),
            source_line: source.to_string(),
        }
    }

    #[test]
    fn a_problem_shows_its_line_with_a_caret_and_a_hint() {
        let text = problem(12, 24, "  - {id: G01, kind:    restrom, area_m2: 9}").render();
        insta::assert_snapshot!(text, @r"
        site.yaml:12:24: E305: there is no room kind `restrom`
           |
        12 |   - {id: G01, kind:    restrom, area_m2: 9}
           |                        ^^^^^^^
        hint: did you mean `restroom`?
        ");
    }

    #[test]
    fn odd_positions_are_shown_without_a_panic() {
        for (line, column, source) in [
            (0, 0, "x"),
            (3, 900, "short"),
            (1, 1, ""),
            (2, 3, "éé\tü\u{1f9f9}"),
            (1, 2, "\""),
        ] {
            assert!(problem(line, column, source).render().contains("E305"));
        }
    }

    #[test]
    fn several_problems_are_told_apart_by_a_blank_line() {
        let one = problem(1, 1, "x");
        let both = Problems(vec![one.clone(), one.clone()]).to_string();
        assert_eq!(both, format!("{}\n\n{}", one.render(), one.render()));
    }
}
