//! Texts as YAML scalars.

/// The text as a YAML scalar for a flow list or map: in quotes wherever it might be read as anything else.
pub(crate) fn scalar(text: &str) -> String {
    let plain = text.starts_with(|c: char| c.is_alphabetic())
        && !text.ends_with(' ')
        && text
            .chars()
            .all(|c| c.is_alphanumeric() || matches!(c, ' ' | '-' | '_' | '.' | '/'))
        && !matches!(
            text.to_lowercase().as_str(),
            "true" | "false" | "yes" | "no" | "on" | "off" | "null" | "y" | "n"
        );
    if plain {
        text.to_string()
    } else {
        quoted(text)
    }
}

fn quoted(text: &str) -> String {
    let mut quoted = String::from("\"");
    for c in text.chars() {
        match c {
            '"' | '\\' => {
                quoted.push('\\');
                quoted.push(c);
            }
            c if c.is_control() => quoted.push(' '),
            c => quoted.push(c),
        }
    }
    quoted.push('"');
    quoted
}

#[cfg(test)]
mod tests {
    use super::scalar;

    #[test]
    fn what_yaml_might_misread_is_quoted() {
        for plain in ["G01", "Front office", "A/B-2"] {
            assert_eq!(scalar(plain), plain);
        }
        for (text, quoted) in [
            ("101", "\"101\""),
            ("no", "\"no\""),
            ("a: b", "\"a: b\""),
            ("5\" pipe", "\"5\\\" pipe\""),
            ("", "\"\""),
            ("-x", "\"-x\""),
            ("x, y", "\"x, y\""),
            ("G-Hall@start", "\"G-Hall@start\""),
        ] {
            assert_eq!(scalar(text), quoted);
        }
    }
}
