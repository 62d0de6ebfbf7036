//! Content lines of iCalendar (RFC 5545, section 3.1): unfolded, taken apart into name, parameters and value, each with its place.
//! The crates that read calendars say nothing of lines, and a person needs to know which one to look at.

use crate::input::log::{Log, Pos};

/// A content line.
#[derive(Clone, Debug)]
pub(super) struct Line {
    /// In capitals.
    pub(super) name: String,
    /// Names in capitals, values without quotes.
    pub(super) params: Vec<(String, String)>,
    pub(super) value: String,
    /// Where it starts.
    pub(super) pos: Pos,
}

impl Line {
    /// A parameter's value.
    pub(super) fn param(&self, name: &str) -> Option<&str> {
        self.params
            .iter()
            .find(|(n, _)| n == name)
            .map(|(_, v)| v.as_str())
    }

    /// The value as text, escapes undone.
    pub(super) fn text(&self) -> String {
        let mut text = String::new();
        let mut chars = self.value.chars();
        while let Some(c) = chars.next() {
            match (c, if c == '\\' { chars.next() } else { None }) {
                ('\\', Some('n' | 'N')) => text.push(' '),
                ('\\', Some(other)) => text.push(other),
                (c, _) => text.push(c),
            }
        }
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    }
}

/// The lines of a calendar; `None` if the log says which is none.
pub(super) fn lines(file: u32, text: &str, log: &Log) -> Option<Vec<Line>> {
    let mut unfolded: Vec<(u32, String)> = Vec::new();
    for (index, line) in text.split('\n').enumerate() {
        let line = line.strip_suffix('\r').unwrap_or(line);
        match (line.strip_prefix([' ', '\t']), unfolded.last_mut()) {
            (Some(rest), Some((_, last))) => last.push_str(rest),
            _ if line.trim().is_empty() => {}
            _ => unfolded.push((index as u32 + 1, line.to_string())),
        }
    }
    let mut lines = Vec::with_capacity(unfolded.len());
    for (number, text) in unfolded {
        let pos = Pos {
            file,
            line: number,
            column: 1,
        };
        if let Some(line) = line(&text, pos) {
            lines.push(line);
        } else {
            let hint = "is this a calendar (.ics), and all of it?";
            log.error(
                "I402",
                pos,
                "this is no line of a calendar: `NAME:value`".to_string(),
                hint,
            );
            return None;
        }
    }
    Some(lines)
}

fn line(text: &str, pos: Pos) -> Option<Line> {
    let mut quoted = false;
    let colon = text.char_indices().find(|(_, c)| {
        quoted ^= *c == '"';
        *c == ':' && !quoted
    });
    let (head, value) = text.split_at(colon?.0);
    let mut parts = outside_quotes(head).into_iter();
    let name = parts.next()?.trim().to_uppercase();
    let is_name = !name.is_empty() && name.chars().all(|c| c.is_ascii_alphanumeric() || c == '-');
    let params = parts.map(|part| {
        let (name, value) = part.split_once('=').unwrap_or((&part, ""));
        (
            name.trim().to_uppercase(),
            value.trim().trim_matches('"').to_string(),
        )
    });
    let params = params.collect();
    is_name.then(|| Line {
        name,
        params,
        value: value[1..].trim().to_string(),
        pos,
    })
}

/// The parts between semicolons that stand in no quotes.
fn outside_quotes(text: &str) -> Vec<String> {
    let mut parts = vec![String::new()];
    let mut quoted = false;
    for c in text.chars() {
        quoted ^= c == '"';
        match parts.last_mut() {
            Some(part) if c != ';' || quoted => part.push(c),
            _ => parts.push(String::new()),
        }
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The folded line is of RFC 5545, section 3.1; the quoted parameter of section 3.2.
    #[test]
    fn lines_are_unfolded_and_taken_apart() {
        let text = "DESCRIPTION:This is a lo\r\n ng description\r\n  that exists on a long line.\r\nATTENDEE;CN=\"Smith: J; Dr\";X=1:mailto:a@b\r\n";
        let lines = lines(0, text, &Log::default()).unwrap();
        assert_eq!(
            lines[0].text(),
            "This is a long description that exists on a long line."
        );
        assert_eq!(lines[1].param("CN"), Some("Smith: J; Dr"));
        assert_eq!(
            (lines[1].value.as_str(), lines[1].pos.line),
            ("mailto:a@b", 4)
        );
    }
}
