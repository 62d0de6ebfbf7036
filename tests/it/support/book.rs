//! A text of the repository, taken apart: its sections, its blocks of code, its tables.

use std::fs;
use std::path::Path;

/// A Markdown file.
pub(crate) struct Book {
    text: String,
}

impl Book {
    /// The file at a path from the root of the repository.
    pub(crate) fn open(path: &str) -> Book {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
        Book {
            text: fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display())),
        }
    }

    /// All of it.
    pub(crate) fn text(&self) -> &str {
        &self.text
    }

    /// Blocks of code marked with exactly this word, such as `yaml`.
    pub(crate) fn blocks(&self, mark: &str) -> Vec<&str> {
        let fence = format!("\n```{mark}\n");
        let after = self.text.split(fence.as_str()).skip(1);
        after
            .filter_map(|rest| rest.split("\n```\n").next())
            .collect()
    }

    /// What stands under a heading, up to the next of the same depth or higher.
    pub(crate) fn section(&self, heading: &str) -> &str {
        let start = self.text.find(&format!("\n{heading}\n"));
        let rest = &self.text[start.unwrap_or_else(|| panic!("no `{heading}`")) + 1..];
        let depth = heading.chars().take_while(|c| *c == '#').count();
        let ends = (1..=depth).filter_map(|d| {
            let next = format!("\n{} ", "#".repeat(d));
            rest[heading.len()..]
                .find(&next)
                .map(|at| heading.len() + at)
        });
        &rest[..ends.min().unwrap_or(rest.len())]
    }

    /// The rows of all tables under a heading, without their heads.
    pub(crate) fn rows(&self, heading: &str) -> Vec<&str> {
        let lines: Vec<&str> = self.section(heading).lines().collect();
        let is_row = |line: &str| line.starts_with('|') && !line.starts_with("|---");
        let is_head = |at: usize| lines.get(at + 1).is_some_and(|l| l.starts_with("|---"));
        let rows = lines.iter().enumerate();
        rows.filter(|(at, line)| is_row(line) && !is_head(*at))
            .map(|(_, line)| *line)
            .collect()
    }
}

/// What stands between backticks.
pub(crate) fn names_in_code(text: &str) -> Vec<&str> {
    text.split('`').skip(1).step_by(2).collect()
}
