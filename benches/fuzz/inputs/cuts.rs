//! Where a text can be cut into pieces that mean something: lines, words, numbers, cells, keys, values, quoted texts.

use std::ops::Range;

/// A way to cut. It knows bytes, not texts: what is cut may be anything.
#[derive(Clone, Copy, Debug)]
pub(super) enum Cut {
    /// Lines with their ends.
    Lines,
    /// Letters, digits and what stands inside of words.
    Words,
    /// Digits with sign and point.
    Numbers,
    /// What stands between delimiters and brackets: cells of a table, values of YAML, JSON and STEP.
    Cells,
    /// From the first letter of a line to its first colon or equals sign: keys of YAML and calendars.
    Keys,
    /// What stands behind the first colon of a line.
    Values,
    /// From a double quote to the next: attributes of XML, texts of JSON.
    Quoted,
    /// From `<` to `>`.
    Tags,
}

impl Cut {
    /// Every way.
    pub(super) const ALL: [Cut; 8] = [
        Cut::Lines,
        Cut::Words,
        Cut::Numbers,
        Cut::Cells,
        Cut::Keys,
        Cut::Values,
        Cut::Quoted,
        Cut::Tags,
    ];

    /// The pieces of a text, in order; none overlap.
    pub(super) fn pieces(self, text: &[u8]) -> Vec<Range<usize>> {
        match self {
            Cut::Lines => lines(text),
            Cut::Words => runs(text, |b| {
                b.is_ascii_alphanumeric() || matches!(b, b'_' | b'-' | b'.' | b':' | 0x80..)
            }),
            Cut::Numbers => runs(text, |b| b.is_ascii_digit() || matches!(b, b'-' | b'.')),
            Cut::Cells => runs(text, |b| !b",;\t|=<>{}[]()\"'\r\n".contains(&b)),
            Cut::Keys => halves(text).map(|(key, _)| key).collect(),
            Cut::Values => halves(text).map(|(_, value)| value).collect(),
            Cut::Quoted => between(text, b'"', b'"'),
            Cut::Tags => between(text, b'<', b'>'),
        }
    }
}

fn lines(text: &[u8]) -> Vec<Range<usize>> {
    let mut from = 0;
    let lines = text.split_inclusive(|b| *b == b'\n').map(|line| {
        from += line.len();
        from - line.len()..from
    });
    lines.collect()
}

/// Runs of bytes that belong together.
fn runs(text: &[u8], inside: impl Fn(u8) -> bool) -> Vec<Range<usize>> {
    let mut found = Vec::new();
    let mut from = None;
    for (at, byte) in text.iter().enumerate() {
        match (inside(*byte), from) {
            (true, None) => from = Some(at),
            (false, Some(start)) => {
                found.push(start..at);
                from = None;
            }
            _ => {}
        }
    }
    found.extend(from.map(|start| start..text.len()));
    found
}

/// Keys and values of the lines that have both.
fn halves(text: &[u8]) -> impl Iterator<Item = (Range<usize>, Range<usize>)> {
    lines(text).into_iter().filter_map(|line| {
        let of = &text[line.clone()];
        let first = of.iter().position(u8::is_ascii_alphanumeric)?;
        let colon = first + of[first..].iter().position(|b| matches!(b, b':' | b'='))?;
        let end = of.len() - usize::from(of.ends_with(b"\n"));
        let value = line.start + colon + 1..line.start + end.max(colon + 1);
        Some((line.start + first..line.start + colon, value))
    })
}

fn between(text: &[u8], opens: u8, closes: u8) -> Vec<Range<usize>> {
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(open) = text[at..].iter().position(|b| *b == opens) {
        let from = at + open + 1;
        let Some(length) = text[from..].iter().position(|b| *b == closes) else {
            break;
        };
        found.push(from..from + length);
        at = from + length + 1;
    }
    found
}
