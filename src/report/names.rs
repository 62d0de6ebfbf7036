//! Names of files made from names of people and floors: plain letters, digits and hyphens, so that they are safe on every system, and no
//! two alike.

use std::collections::BTreeSet;

/// Longest part of a file's name that comes from one name.
const LONGEST: usize = 40;

/// Gives out names, each once.
#[derive(Debug, Default)]
pub(super) struct FileNames {
    used: BTreeSet<String>,
}

impl FileNames {
    /// A name of these parts with an ending; a number tells it from one given out before.
    pub(super) fn next(&mut self, parts: &[&str], ending: &str) -> String {
        let plain: Vec<String> = parts
            .iter()
            .map(|p| plain(p))
            .filter(|p| !p.is_empty())
            .collect();
        let stem = if plain.is_empty() {
            "file".to_string()
        } else {
            plain.join("-")
        };
        let numbered = (2..).map(|n| format!("{stem}-{n}"));
        let mut free = std::iter::once(stem.clone()).chain(numbered);
        let name = free.find(|name| !self.used.contains(name)).unwrap_or(stem);
        self.used.insert(name.clone());
        format!("{name}.{ending}")
    }
}

/// Lower-case ASCII letters and digits, everything else a single hyphen.
fn plain(name: &str) -> String {
    let mut plain = String::new();
    for c in name.chars() {
        if plain.len() >= LONGEST {
            break;
        }
        if c.is_ascii_alphanumeric() {
            plain.push(c.to_ascii_lowercase());
        } else if !plain.is_empty() && !plain.ends_with('-') {
            plain.push('-');
        }
    }
    plain.trim_end_matches('-').to_string()
}

#[cfg(test)]
mod tests {
    use super::FileNames;

    #[test]
    fn no_name_leads_out_of_its_folder_or_meets_another() {
        let mut names = FileNames::default();
        let mut next = |name: &str| names.next(&[name], "ics");
        assert_eq!(next("../../etc/passwd"), "etc-passwd.ics");
        assert_eq!(next("Zoë Ann"), "zo-ann.ics");
        assert_eq!(next("ZO ANN"), "zo-ann-2.ics");
        assert_eq!(next("עובד"), "file.ics");
        assert_eq!(next("清掃"), "file-2.ics");
        assert_eq!(next(&"x".repeat(300)).len(), 44);
    }
}
