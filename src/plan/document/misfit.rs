//! Why a written plan cannot be read, or does not fit its site.

use std::fmt;

/// One thing wrong with a written plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Misfit {
    /// Where: a path such as `runs[2].stops[5].room`, or `line:column` where the text itself is wrong.
    pub at: String,
    /// What is wrong.
    pub message: String,
    /// What to do about it, if there is something to say.
    pub hint: Option<String>,
}

impl Misfit {
    /// Without a hint.
    pub(crate) fn new(at: impl Into<String>, message: impl Into<String>) -> Misfit {
        Misfit {
            at: at.into(),
            message: message.into(),
            hint: None,
        }
    }

    /// With a hint.
    #[must_use]
    pub(crate) fn hint(self, hint: impl Into<String>) -> Misfit {
        Misfit {
            hint: Some(hint.into()),
            ..self
        }
    }

    /// A name that is none of those known, with the nearest of them.
    pub(crate) fn unknown<'a>(
        at: String,
        what: &str,
        name: &str,
        known: impl Iterator<Item = &'a str>,
    ) -> Misfit {
        let misfit = Misfit::new(at, format!("the site has no {what} `{name}`"));
        match nearest(name, known) {
            Some(near) => misfit.hint(format!("did you mean `{near}`?")),
            None => misfit,
        }
    }
}

impl Misfit {
    /// The known name that was probably meant.
    pub fn nearest<'a>(name: &str, known: &[&'a str]) -> Option<&'a str> {
        nearest(name, known.iter().copied())
    }
}

impl fmt::Display for Misfit {
    /// The place and the message, then the hint in a line of its own.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.at, self.message)?;
        match &self.hint {
            Some(hint) => write!(f, "\n  hint: {hint}"),
            None => Ok(()),
        }
    }
}

impl std::error::Error for Misfit {}

/// The known name that is fewest edits away, if that is less than half of its letters.
fn nearest<'a>(name: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let rated = known.map(|k| (edits(&name.to_lowercase(), &k.to_lowercase()), k));
    let (distance, best) = rated.min()?;
    (distance * 2 < best.chars().count().max(2)).then_some(best)
}

/// Letters to insert, drop or change to turn one name into the other (Levenshtein 1966).
fn edits(from: &str, to: &str) -> usize {
    let to: Vec<char> = to.chars().collect();
    let mut row: Vec<usize> = (0..=to.len()).collect();
    for (i, letter) in from.chars().enumerate() {
        let mut diagonal = std::mem::replace(&mut row[0], i + 1);
        for (j, other) in to.iter().enumerate() {
            let changed = diagonal + usize::from(letter != *other);
            diagonal = row[j + 1];
            row[j + 1] = changed.min(diagonal + 1).min(row[j] + 1);
        }
    }
    row[to.len()]
}

#[cfg(test)]
mod tests {
    use super::{edits, nearest};

    /// "kitten" to "sitting" in three edits is the textbook example of this distance.
    #[test]
    fn names_are_compared_by_edits() {
        assert_eq!(edits("kitten", "sitting"), 3);
        assert_eq!(nearest("g12", ["G12", "G13"].into_iter()), Some("G12"));
        assert_eq!(nearest("lobby", ["G12", "G13"].into_iter()), None);
    }
}
