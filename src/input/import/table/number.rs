//! Numbers as people write them: `18.5`, `18,5`, `1,250`, `1 250`, `190 sq ft`.

/// Which character stands before the decimals.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Mark {
    /// `18.5`
    Point,
    /// `18,5`
    Comma,
}

/// What a text is, as a number.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Number<'a> {
    /// A number, and what stands behind it.
    Of(f64, &'a str),
    /// `1,250` or `1.250`: one thing to some, another to others.
    Unclear,
    /// None.
    Not,
}

/// Reads a number. `mark` is what is known of decimals; without it, a single separator before three digits is unclear.
pub(crate) fn number(text: &str, mark: Option<Mark>) -> Number<'_> {
    let end = text
        .find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',' | ' ' | '\'')))
        .unwrap_or(text.len());
    let (digits, unit) = text.split_at(end);
    let digits: String = digits
        .chars()
        .filter(|c| !matches!(c, ' ' | '\''))
        .collect();
    // A full stop or comma at the end belongs to the unit or the sentence.
    let digits = digits.trim_end_matches(['.', ',']);
    let mark = match mark_in(digits).or(mark) {
        Some(mark) => mark,
        None if digits.contains(['.', ',']) => return Number::Unclear,
        None => Mark::Point,
    };
    let (decimal, thousands) = match mark {
        Mark::Point => ('.', ','),
        Mark::Comma => (',', '.'),
    };
    let plain = digits.replace(thousands, "").replace(decimal, ".");
    match plain.parse::<f64>() {
        Ok(value) if value.is_finite() && grouped(digits, thousands, decimal) => {
            Number::Of(value, unit.trim())
        }
        _ => Number::Not,
    }
}

/// What the text itself says of its decimals, if anything.
fn mark_in(digits: &str) -> Option<Mark> {
    let (points, commas) = (digits.matches('.').count(), digits.matches(',').count());
    let after = |c: char| digits.rsplit(c).next().map_or(0, str::len);
    match (points, commas) {
        (1.., 1..) if digits.rfind('.') > digits.rfind(',') => Some(Mark::Point),
        (1.., 1..) | (2.., 0) => Some(Mark::Comma),
        (0, 2..) => Some(Mark::Point),
        (1, 0) if after('.') != 3 || digits.starts_with('0') => Some(Mark::Point),
        (0, 1) if after(',') != 3 || digits.starts_with('0') => Some(Mark::Comma),
        _ => None,
    }
}

/// Whether thousands are divided as they should be: groups of three before the decimals.
fn grouped(digits: &str, thousands: char, decimal: char) -> bool {
    let whole = digits.split(decimal).next().unwrap_or_default();
    let mut groups = whole.split(thousands);
    let first = groups.next().unwrap_or_default().len();
    let rest: Vec<usize> = groups.map(str::len).collect();
    rest.is_empty() || ((1..=3).contains(&first) && rest.iter().all(|n| *n == 3))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_read_as_people_write_them() {
        let value = |text, mark| match number(text, mark) {
            Number::Of(value, _) => value,
            other => panic!("{text}: {other:?}"),
        };
        for (text, wanted) in [
            ("18", 18.0),
            ("18.5", 18.5),
            ("18,5", 18.5),
            ("18,50", 18.5),
            ("0.125", 0.125),
            ("1,234.5", 1234.5),
            ("1.234,5", 1234.5),
            ("1,234,567", 1_234_567.0),
            ("1 250", 1250.0),
            ("1'250.5", 1250.5),
        ] {
            assert!((value(text, None) - wanted).abs() < 1e-9, "{text}");
        }
        assert!((value("1,250", Some(Mark::Point)) - 1250.0).abs() < 1e-9);
        assert!((value("1,250", Some(Mark::Comma)) - 1.25).abs() < 1e-9);
        assert_eq!(number("190 sq ft", None), Number::Of(190.0, "sq ft"));
        assert_eq!(number("18.5m²", None), Number::Of(18.5, "m²"));
    }

    #[test]
    fn what_is_unclear_or_no_number_is_said_to_be() {
        assert_eq!(number("1,250", None), Number::Unclear);
        assert_eq!(number("1.250", None), Number::Unclear);
        for text in ["", "large", "-5", "1,23,4", "1.2.3,4", ".", "~20"] {
            assert_eq!(number(text, Some(Mark::Point)), Number::Not, "{text}");
        }
    }
}
