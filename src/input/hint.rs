//! Hints: the known word that was probably meant.

/// Most known words that are listed when none is near.
const LISTED: usize = 8;
/// Longest word that is compared, in letters: it takes time by the square of them.
const COMPARED: usize = 60;

/// What to say about an unknown word: the nearest known one, or the known ones if they are few.
pub fn suggest<S: AsRef<str>>(word: &str, known: &[S]) -> String {
    if let Some(near) = nearest(word, known) {
        return format!("did you mean `{near}`?");
    }
    if known.is_empty() || known.len() > LISTED {
        return String::new();
    }
    let listed: Vec<String> = known.iter().map(|k| format!("`{}`", k.as_ref())).collect();
    format!("known: {}", listed.join(", "))
}

/// The known word with the fewest edits from `word`, if these are at most a third of its letters. Case and space do not count.
fn nearest<'a, S: AsRef<str>>(word: &str, known: &'a [S]) -> Option<&'a str> {
    let plain = |text: &str| text.trim().to_lowercase().replace(['_', '-'], " ");
    if word.chars().nth(COMPARED).is_some() {
        return None;
    }
    let wanted = plain(word);
    let letters = wanted.chars().count();
    let most = (letters / 3).max(1);
    // Words that differ more than that in length need not be compared.
    let alike = |k: &&S| k.as_ref().trim().chars().count().abs_diff(letters) <= most;
    let near = known.iter().filter(alike).map(|k| {
        (
            strsim::osa_distance(&wanted, &plain(k.as_ref())),
            k.as_ref(),
        )
    });
    near.filter(|(edits, _)| *edits <= most)
        .min()
        .map(|(_, k)| k)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_nearest_known_word_is_suggested() {
        assert_eq!(
            suggest("restrom", &["office", "restroom"]),
            "did you mean `restroom`?"
        );
        assert_eq!(
            suggest("Area M2", &["area_m2", "area_sqft"]),
            "did you mean `area_m2`?"
        );
        assert_eq!(suggest("zzz", &["a", "b"]), "known: `a`, `b`");
        assert_eq!(suggest("zzz", &Vec::<String>::new()), "");
    }
}
