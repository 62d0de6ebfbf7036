//! What people call things, said once.

use crate::site::{PlaceId, Site};

/// What people call a place, with its written id where that says more: `Women's restroom (2-W)`, but `Classroom G08`.
pub(in crate::report) fn place(site: &Site, place: PlaceId) -> String {
    let place = &site.places[place.index()];
    let name = place.name.trim();
    if name.is_empty() || says(name, &place.id) {
        let whole = if name.is_empty() { &place.id } else { name };
        return whole.to_string();
    }
    format!("{name} ({})", place.id)
}

/// Whether a name has an id in it as a word of its own.
fn says(name: &str, id: &str) -> bool {
    let is_part = |c: char| c.is_alphanumeric();
    if name.to_lowercase() == id.to_lowercase() {
        return true;
    }
    name.match_indices(id).any(|(at, _)| {
        let before = name[..at].chars().next_back();
        let after = name[at + id.len()..].chars().next();
        !before.is_some_and(is_part) && !after.is_some_and(is_part)
    })
}

#[cfg(test)]
mod tests {
    use super::says;

    #[test]
    fn an_id_is_not_said_twice() {
        assert!(says("G08", "G08") && says("Classroom G08", "G08"));
        assert!(says("Crew base", "crew base"));
        assert!(!says("Women's restroom", "G03") && !says("Room 1012", "101"));
    }
}
