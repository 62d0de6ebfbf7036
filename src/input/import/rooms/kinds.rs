//! Which kind of room is meant by the words that people use for it.

use super::columns::plain;

/// Words for kinds, most telling first: `staff toilet` is a restroom, not a break room. Each is looked for as whole words.
const WORDS: [(&str, &[&str]); 17] = [
    (
        CLOSET,
        &[
            "custodial closet",
            "custodian",
            "janitor",
            "janitors closet",
            "cleaners cupboard",
            "cleaners store",
            "housekeeping closet",
            "cleaning store",
            "cleaner s cupboard",
            "janitor s closet",
        ],
    ),
    (
        "restroom",
        &[
            "restroom",
            "toilet",
            "toilets",
            "wc",
            "washroom",
            "bathroom",
            "lavatory",
            "powder room",
            "men s room",
            "women s room",
            "mens room",
            "womens room",
            "ladies",
            "gents",
        ],
    ),
    (
        "changing-room",
        &[
            "changing room",
            "locker room",
            "changing",
            "shower room",
            "showers",
        ],
    ),
    (
        "stairs",
        &["stairs", "stair", "staircase", "stairwell", "stairway"],
    ),
    (
        "nurse-room",
        &[
            "nurse",
            "first aid",
            "medical room",
            "sick room",
            "nurses office",
        ],
    ),
    (
        "meeting-room",
        &[
            "meeting room",
            "meeting",
            "conference",
            "conference room",
            "board room",
            "boardroom",
        ],
    ),
    (
        "break-room",
        &[
            "break room",
            "breakroom",
            "staff room",
            "kitchen",
            "kitchenette",
            "pantry",
            "tea point",
            "lunch room",
            "canteen",
            "lounge",
            "common room",
            "staff lounge",
        ],
    ),
    ("lab", &["lab", "laboratory", "science room"]),
    (
        "library",
        &["library", "reading room", "learning centre", "media center"],
    ),
    ("gym", &["gym", "gymnasium", "sports hall", "fitness"]),
    ("studio", &["studio", "music room", "art room", "dance"]),
    ("workshop", &["workshop", "maker space"]),
    (
        "classroom",
        &[
            "classroom",
            "class room",
            "lecture",
            "lecture hall",
            "lecture room",
            "seminar",
            "seminar room",
            "teaching",
            "teaching room",
            "training room",
            "tutorial",
        ],
    ),
    (
        "lobby",
        &[
            "lobby",
            "foyer",
            "entrance hall",
            "atrium",
            "vestibule",
            "reception area",
            "entrance",
        ],
    ),
    (
        "corridor",
        &["corridor", "hallway", "hall", "passage", "circulation"],
    ),
    (
        "storage",
        &[
            "storage",
            "store",
            "store room",
            "storeroom",
            "archive",
            "supply room",
            "supplies",
            "copy room",
            "print room",
            "mail room",
            "server room",
            "plant room",
            "utility",
        ],
    ),
    (
        "office",
        &[
            "office",
            "offices",
            "workroom",
            "open plan",
            "cubicle",
            "reception",
            "administration",
            "admin",
        ],
    ),
];

/// Not a room kind: where custodians keep their things, which a site has among its closets.
pub(crate) const CLOSET: &str = "closet";

/// How a word was understood.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Meaning {
    /// It is a kind.
    Is(String),
    /// It holds a word for a kind.
    Guessed(String),
    /// Neither.
    Unknown,
}

/// What a text means, given the kinds that the site has.
pub(crate) fn meaning(text: &str, kinds: &[String]) -> Meaning {
    let words = plain(text);
    if let Some(kind) = kinds.iter().find(|k| plain(k) == words) {
        return Meaning::Is(kind.clone());
    }
    let there = |kind: &str| kind == CLOSET || kinds.iter().any(|k| k == kind);
    let known = || WORDS.iter().filter(|(kind, _)| there(kind));
    if let Some((kind, _)) = known().find(|(_, list)| list.contains(&words.as_str())) {
        return Meaning::Is((*kind).to_string());
    }
    let padded = format!(" {words} ");
    let holds = |list: &[&str]| list.iter().any(|w| padded.contains(&format!(" {w} ")));
    match known().find(|(_, list)| holds(list)) {
        Some((kind, _)) => Meaning::Guessed((*kind).to_string()),
        None => Meaning::Unknown,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_for_rooms_are_understood() {
        let kinds: Vec<String> = WORDS
            .iter()
            .map(|(k, _)| (*k).to_string())
            .filter(|k| k != CLOSET)
            .collect();
        let is = |kind: &str| Meaning::Is(kind.to_string());
        let guessed = |kind: &str| Meaning::Guessed(kind.to_string());
        assert_eq!(meaning("Restroom", &kinds), is("restroom"));
        assert_eq!(meaning("meeting room", &kinds), is("meeting-room"));
        assert_eq!(meaning("WC", &kinds), is("restroom"));
        assert_eq!(meaning("Women's restroom", &kinds), guessed("restroom"));
        assert_eq!(
            meaning("Staff toilet (female)", &kinds),
            guessed("restroom")
        );
        assert_eq!(meaning("Private office", &kinds), guessed("office"));
        assert_eq!(meaning("Custodial closet", &kinds), is(CLOSET));
        assert_eq!(meaning("Officer", &kinds), Meaning::Unknown);
        assert_eq!(meaning("lab", &["office".to_string()]), Meaning::Unknown);
        assert_eq!(meaning("wet lab", &["wet-lab".to_string()]), is("wet-lab"));
    }
}
