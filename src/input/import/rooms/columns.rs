//! Which column of a table is which column of rooms, told from its header.

use crate::input::raw::RawRoom;
use crate::input::tree::fields_of;

/// What becomes of a column.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Target {
    /// A column of rooms.
    Key(&'static str),
    /// Floor area in a unit that the header does not say.
    Area,
    /// The floor; rooms have none of their own, their halls do.
    Floor,
    /// The building or wing.
    Building,
    /// Nothing.
    Ignored,
}

/// Words for what is no column of rooms.
const OTHERS: [(&str, Target); 4] = [
    ("area", Target::Area),
    ("floor", Target::Floor),
    ("building", Target::Building),
    ("ignore", Target::Ignored),
];

/// Headers people write, by what they mean. Letters and digits count, in lower case; `#` is `no`.
const HEADERS: [(&str, &[&str]); 22] = [
    (
        "id",
        &[
            "id",
            "room",
            "room no",
            "room id",
            "room number",
            "room nr",
            "rm",
            "rm no",
            "rm number",
            "no",
            "nr",
            "number",
            "space",
            "space id",
            "space no",
            "space number",
            "room code",
            "code",
        ],
    ),
    (
        "name",
        &[
            "name",
            "room name",
            "space name",
            "description",
            "room description",
            "label",
            "title",
        ],
    ),
    (
        "kind",
        &[
            "kind",
            "type",
            "room type",
            "room kind",
            "space type",
            "use",
            "room use",
            "space use",
            "usage",
            "function",
            "category",
            "room category",
        ],
    ),
    (
        "floor",
        &[
            "floor",
            "level",
            "storey",
            "story",
            "fl",
            "lvl",
            "floor no",
            "floor level",
            "floor name",
        ],
    ),
    ("building", &["building", "bldg", "block", "wing", "house"]),
    (
        "finish",
        &[
            "finish",
            "floor finish",
            "floor type",
            "flooring",
            "floor covering",
            "floor material",
            "surface",
        ],
    ),
    (
        "occupants",
        &[
            "occupants",
            "people",
            "persons",
            "users",
            "headcount",
            "capacity",
            "seats",
            "occupancy",
        ],
    ),
    (
        "bowls",
        &[
            "bowls",
            "toilets",
            "toilet bowls",
            "wc",
            "wcs",
            "water closets",
            "toilet",
        ],
    ),
    ("urinals", &["urinals", "urinal"]),
    (
        "basins",
        &[
            "basins",
            "wash basins",
            "washbasins",
            "hand basins",
            "lavatories",
        ],
    ),
    ("mirrors", &["mirrors", "mirror"]),
    (
        "dispensers",
        &["dispensers", "dispenser", "soap and towel dispensers"],
    ),
    ("showers", &["showers", "shower"]),
    (
        "bins",
        &[
            "bins",
            "bin",
            "waste bins",
            "waste baskets",
            "wastebaskets",
            "trash cans",
            "trash",
            "baskets",
        ],
    ),
    (
        "desks",
        &["desks", "desk", "tables", "workstations", "workplaces"],
    ),
    ("sinks", &["sinks", "sink"]),
    (
        "glass_panels",
        &[
            "glass panels",
            "glass",
            "glass doors",
            "glazed doors",
            "glazing",
        ],
    ),
    ("couches", &["couches", "couch", "beds", "bed"]),
    (
        "open",
        &[
            "open",
            "cleaning hours",
            "clean between",
            "cleaning window",
            "may be cleaned",
        ],
    ),
    ("closure", &["closure", "may be closed", "closure window"]),
    ("needs", &["needs", "key", "keys", "access", "clearance"]),
    ("priority", &["priority"]),
];

/// Words that say that a column holds floor area.
const AREAS: [&str; 9] = [
    "area",
    "floor area",
    "net area",
    "room area",
    "size",
    "net floor area",
    "usable area",
    "gross area",
    "surface area",
];
/// Units of area, as headers and cells have them.
const SQUARE_METRES: [&str; 9] = [
    "m2",
    "sqm",
    "sq m",
    "sq metres",
    "sq meters",
    "square metres",
    "square meters",
    "m 2",
    "qm",
];
const SQUARE_FEET: [&str; 9] = [
    "sqft",
    "sq ft",
    "sf",
    "ft2",
    "square feet",
    "sq feet",
    "nsf",
    "gsf",
    "ft 2",
];

impl Target {
    /// What a mapping file calls it.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Target::Key(key) => key,
            other => OTHERS
                .iter()
                .find(|(_, t)| *t == other)
                .map_or("", |(word, _)| *word),
        }
    }

    /// What a mapping file means.
    pub(crate) fn of_word(word: &str) -> Option<Target> {
        let word = word.trim();
        let other = OTHERS.iter().find(|(w, _)| *w == word).map(|(_, t)| *t);
        other.or_else(|| keys().iter().find(|k| **k == word).map(|k| Target::Key(k)))
    }

    /// What a header means; `None` if nothing that is known.
    pub(crate) fn of_header(header: &str) -> Option<Target> {
        let words = plain(header);
        if let Some(key) = keys().iter().find(|k| plain(k) == words) {
            return Some(Target::Key(key));
        }
        if let Some(area) = of_area(&words) {
            return Some(area);
        }
        // `# toilets`, `no. of bins`: `no` alone comes last, as it begins others.
        let counted = [
            "no of ",
            "number of ",
            "count of ",
            "quantity of ",
            "qty ",
            "no ",
        ];
        let bare = counted
            .iter()
            .find_map(|c| words.strip_prefix(c))
            .unwrap_or(&words);
        let known = HEADERS.iter().find(|(_, list)| list.contains(&bare));
        known.and_then(|(word, _)| Target::of_word(word))
    }
}

/// Every word a mapping file may use.
pub(crate) fn words() -> Vec<&'static str> {
    keys()
        .iter()
        .copied()
        .chain(OTHERS.iter().map(|(word, _)| *word))
        .collect()
}

/// Which unit of area a text names: the column of rooms that is in it.
pub(crate) fn unit_of_area(text: &str) -> Option<&'static str> {
    let text = plain(text);
    if SQUARE_METRES.contains(&text.as_str()) {
        Some("area_m2")
    } else if SQUARE_FEET.contains(&text.as_str()) {
        Some("area_sqft")
    } else {
        None
    }
}

fn keys() -> &'static [&'static str] {
    fields_of::<RawRoom>()
}

/// `Area (sq. ft.)`: a word for area, a unit, or both.
fn of_area(words: &str) -> Option<Target> {
    if AREAS.contains(&words) {
        return Some(Target::Area);
    }
    let units = SQUARE_METRES.iter().chain(&SQUARE_FEET);
    let (unit, rest) = units
        .filter_map(|unit| {
            let front = words
                .strip_prefix(unit)
                .filter(|r| r.is_empty() || r.starts_with(' '));
            let back = words
                .strip_suffix(unit)
                .filter(|r| r.is_empty() || r.ends_with(' '));
            front.or(back).map(|rest| (*unit, rest.trim()))
        })
        .min_by_key(|(_, rest)| rest.len())?;
    let is_area = rest.is_empty() || AREAS.contains(&rest) || rest == "in";
    let rest = rest.strip_suffix(" in").unwrap_or(rest);
    (is_area || AREAS.contains(&rest))
        .then(|| unit_of_area(unit).map(Target::Key))
        .flatten()
}

/// Letters and digits in lower case, one space between words.
pub(crate) fn plain(text: &str) -> String {
    let text = text
        .to_lowercase()
        .replace('#', " no ")
        .replace('²', "2")
        .replace("sq.", "sq ")
        .replace("no.", "no ");
    let words = text
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty());
    let joined = words.collect::<Vec<_>>().join(" ");
    // `Room # No` and the like.
    joined.replace("no no", "no")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headers_are_understood_as_people_write_them() {
        for (header, word) in [
            ("Room No.", "id"),
            ("Room #", "id"),
            ("ROOM NUMBER", "id"),
            ("Area (sq. ft.)", "area_sqft"),
            ("Sq Ft", "area_sqft"),
            ("NSF", "area_sqft"),
            ("Area m²", "area_m2"),
            ("Area in m2", "area_m2"),
            ("m²", "area_m2"),
            ("area_m2", "area_m2"),
            ("Area", "area"),
            ("Level", "floor"),
            ("Bldg.", "building"),
            ("Floor finish", "finish"),
            ("Room type", "kind"),
            ("No. of toilets", "bowls"),
            ("# of bins", "bins"),
            ("# toilets", "bowls"),
            ("Glass panels", "glass_panels"),
            ("door_width_in", "door_width_in"),
        ] {
            assert_eq!(
                Target::of_header(header).map(Target::word),
                Some(word),
                "{header}"
            );
        }
        for header in ["Remarks", "", "Cost centre", "Ceiling height (m)"] {
            assert_eq!(Target::of_header(header), None, "{header}");
        }
    }

    #[test]
    fn every_word_a_mapping_may_use_means_what_it_says() {
        for word in words() {
            assert_eq!(Target::of_word(word).map(Target::word), Some(word));
        }
        for (word, _) in HEADERS {
            assert!(Target::of_word(word).is_some(), "{word}");
        }
    }
}
