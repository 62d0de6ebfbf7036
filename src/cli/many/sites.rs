//! Which sites there are below a folder, and whose turn each is.

use super::super::refusal::Refusal;
use evenrun::input::SITE_FILE;
use std::fs;
use std::path::{Path, PathBuf};
use std::str::FromStr;

/// Folders within folders that are looked into.
const DEPTH: usize = 8;

/// A share of all sites: the `index`-th of `count`, from one on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::cli) struct Part {
    index: usize,
    count: usize,
}

impl FromStr for Part {
    type Err = String;

    fn from_str(text: &str) -> Result<Part, String> {
        let numbers = text
            .split_once('/')
            .and_then(|(i, n)| Some((i.parse().ok()?, n.parse().ok()?)));
        match numbers {
            Some((index, count)) if (1..=count).contains(&index) => Ok(Part { index, count }),
            _ => Err("write which share of how many, such as 2/8".to_string()),
        }
    }
}

/// A site to plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Found {
    /// Its folder below that of all, with `/` between parts: what it is called in the table.
    pub(super) name: String,
    /// Where it is.
    pub(super) folder: PathBuf,
}

/// The folders below one that have a site file, by name; of these every `count`-th.
pub(super) fn below(folder: &Path, part: Option<Part>) -> Result<Vec<Found>, Refusal> {
    let mut found = Vec::new();
    look_into(folder, "", DEPTH, &mut found).map_err(|error| {
        Refusal::of_file(
            "unreadable",
            folder,
            format!("cannot read `{}`: {error}", folder.display()),
        )
    })?;
    if found.is_empty() {
        let message = format!("no folder below `{}` has a {SITE_FILE}", folder.display());
        return Err(Refusal::of_file("no-sites", folder, message)
            .hint("to plan one site, name its folder without `--all`".to_string()));
    }
    found.sort_by(|a, b| a.name.cmp(&b.name));
    let Part { index, count } = part.unwrap_or(Part { index: 1, count: 1 });
    Ok(found.into_iter().skip(index - 1).step_by(count).collect())
}

/// A folder with a site file is a site; others are looked into. Links are not followed: they may lead round in circles.
fn look_into(
    folder: &Path,
    name: &str,
    depth: usize,
    found: &mut Vec<Found>,
) -> std::io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        if !entry.file_type()?.is_dir() {
            continue;
        }
        let own = entry.file_name().to_string_lossy().into_owned();
        let name = if name.is_empty() {
            own
        } else {
            format!("{name}/{own}")
        };
        let folder = entry.path();
        if folder.join(SITE_FILE).is_file() {
            found.push(Found { name, folder });
        } else if depth > 1 {
            // A folder that cannot be read hides no site that could be.
            let _ = look_into(&folder, &name, depth - 1, found);
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_is_one_of_those_there_are() {
        assert_eq!("2/8".parse(), Ok(Part { index: 2, count: 8 }));
        for text in ["0/8", "9/8", "8", "1/0", "a/b", "-1/2", "1/2/3", ""] {
            assert!(text.parse::<Part>().is_err(), "{text}");
        }
    }
}
