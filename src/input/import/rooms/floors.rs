//! Which floor a room is on, told from a column or from its number, and the order of floors.

use std::cmp::Ordering;

/// The floor that a room's number tells, and its building: `101` is on 1, `G01` on G, `B12` on B, `2-114` on 2, `A101` on 1 of A.
pub(crate) fn of_number(id: &str) -> Option<(Option<String>, String)> {
    let id = id.trim();
    // `WC-1`, `2-114`: a part before a dash that is digits is the floor, otherwise a last part of one or two digits is.
    if let Some((before, after)) = id.split_once(['-', '.', '/']) {
        let after_digits = digits(after);
        if !before.is_empty() && before.chars().all(|c| c.is_ascii_digit()) && before.len() <= 2 {
            return Some((None, before.to_string()));
        }
        if before.chars().all(char::is_alphabetic) && !before.is_empty() {
            return match after_digits.len() {
                1 | 2 => Some((None, after_digits.to_string())),
                3.. => Some((Some(before.to_string()), storey(after_digits))),
                0 => None,
            };
        }
    }
    let letters: String = id.chars().take_while(|c| c.is_alphabetic()).collect();
    let number = digits(&id[letters.len()..]);
    match (letters.is_empty(), number.len()) {
        (true, 3..) => Some((None, storey(number))),
        (false, 1 | 2) if letters.chars().count() <= 2 => Some((None, letters)),
        (false, 3..) if letters.chars().count() <= 3 => {
            // Letters that are a floor stay one: `B101` may be room 101 of the basement, but as often it is building B.
            Some((Some(letters), storey(number)))
        }
        _ => None,
    }
}

fn digits(text: &str) -> &str {
    let end = text
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(text.len());
    &text[..end]
}

/// All but the last two digits; `1012` is on 10.
fn storey(number: &str) -> String {
    let floor = number[..number.len() - 2].trim_start_matches('0');
    if floor.is_empty() {
        "0".to_string()
    } else {
        floor.to_string()
    }
}

/// A floor as written in a column, shortened to what is said of it elsewhere: `1st floor`, `Level 1`, `01` are all `1`.
pub(crate) fn tidy(text: &str) -> String {
    let whole = text
        .trim()
        .parse::<f64>()
        .ok()
        .filter(|n| n.fract() == 0.0 && n.abs() < 1000.0);
    if let Some(number) = whole {
        return format!("{number:.0}");
    }
    let words = super::columns::plain(text);
    let left: Vec<&str> = words
        .split(' ')
        .filter(|w| {
            !matches!(
                *w,
                "floor" | "level" | "storey" | "story" | "fl" | "lvl" | "the" | "no"
            )
        })
        .collect();
    let word = left.join(" ");
    let ordinals = [
        ("first", "1"),
        ("second", "2"),
        ("third", "3"),
        ("fourth", "4"),
        ("fifth", "5"),
        ("sixth", "6"),
        ("seventh", "7"),
        ("eighth", "8"),
        ("ninth", "9"),
        ("tenth", "10"),
        ("ground", "G"),
        ("gf", "G"),
        ("basement", "B"),
        ("lower", "B"),
        ("mezzanine", "M"),
        ("roof", "R"),
    ];
    if let Some((_, short)) = ordinals.iter().find(|(long, _)| *long == word) {
        return (*short).to_string();
    }
    let bare = ["st", "nd", "rd", "th"]
        .iter()
        .find_map(|s| word.strip_suffix(s))
        .unwrap_or(&word);
    if !bare.is_empty() && bare.chars().all(|c| c.is_ascii_digit()) {
        let number = bare.trim_start_matches('0');
        return if number.is_empty() {
            "0".to_string()
        } else {
            number.to_string()
        };
    }
    if word.is_empty() {
        text.trim().to_string()
    } else {
        word.to_uppercase()
    }
}

/// Lowest first: basements from the deepest, then ground, numbers, roof. Unknown words come last, in the order of letters.
pub(crate) fn order(a: &str, b: &str) -> Ordering {
    rank(a).cmp(&rank(b)).then_with(|| natural(a, b))
}

fn rank(floor: &str) -> (u8, i64) {
    let floor = floor.to_uppercase();
    let number = |text: &str| text.parse::<i32>().ok().map(i64::from);
    if let Some(depth) = floor.strip_prefix('B').and_then(|rest| {
        if rest.is_empty() {
            Some(1)
        } else {
            number(rest)
        }
    }) {
        return (0, -depth);
    }
    match floor.as_str() {
        "LL" | "LG" => (0, 0),
        "G" | "GR" | "E" => (1, 0),
        "M" => (1, 1),
        "R" | "RF" | "PH" => (3, 0),
        other => number(other).map_or((4, 0), |n| if n < 0 { (0, n) } else { (1, 2 * n) }),
    }
}

/// Texts in the order in which people count: `2` before `10`.
pub(crate) fn natural(one: &str, other: &str) -> Ordering {
    let (mut left, mut right) = (one, other);
    loop {
        let numbers = (digits(left), digits(right));
        if !numbers.0.is_empty() && !numbers.1.is_empty() {
            let by_value = by_value(numbers.0, numbers.1);
            if by_value != Ordering::Equal {
                return by_value;
            }
            (left, right) = (&left[numbers.0.len()..], &right[numbers.1.len()..]);
            continue;
        }
        match (left.chars().next(), right.chars().next()) {
            (None, None) => return Ordering::Equal,
            (first, second) if first != second => return first.cmp(&second),
            (first, _) => {
                let length = first.map_or(0, char::len_utf8);
                (left, right) = (&left[length..], &right[length..]);
            }
        }
    }
}

/// Digits by the number that they are, then by how it is written.
fn by_value(one: &str, other: &str) -> Ordering {
    let bare = |digits: &str| digits.trim_start_matches('0').to_string();
    let (left, right) = (bare(one), bare(other));
    let lengths = left.len().cmp(&right.len());
    lengths
        .then_with(|| left.cmp(&right))
        .then_with(|| one.len().cmp(&other.len()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_tell_floors() {
        let told =
            |id: &str| of_number(id).map(|(building, floor)| (building.unwrap_or_default(), floor));
        let floor = |building: &str, floor: &str| Some((building.to_string(), floor.to_string()));
        for (id, wanted) in [
            ("101", floor("", "1")),
            ("1012", floor("", "10")),
            ("012", floor("", "0")),
            ("G01", floor("", "G")),
            ("B12a", floor("", "B")),
            ("2-114", floor("", "2")),
            ("WC-1", floor("", "1")),
            ("A101", floor("A", "1")),
            ("A-101", floor("A", "1")),
            ("101A", floor("", "1")),
            ("12", None),
            ("Lobby", None),
            ("WC-A", None),
            ("A-0012", floor("A", "0")),
            ("", None),
        ] {
            assert_eq!(told(id), wanted, "{id}");
        }
    }

    #[test]
    fn floors_are_tidied_and_ordered_from_below() {
        let tidied = [
            "1st Floor",
            "Level 01",
            "Ground",
            "Basement",
            "first",
            "2.0",
            "Mezzanine",
            "B2",
        ]
        .map(tidy);
        assert_eq!(tidied, ["1", "1", "G", "B", "1", "2", "M", "B2"]);
        let mut floors = ["2", "10", "B", "G", "1", "B2", "M", "R", "Tower"];
        floors.sort_by(|a, b| order(a, b));
        assert_eq!(floors, ["B2", "B", "G", "M", "1", "2", "10", "R", "Tower"]);
    }

    #[test]
    fn zeros_are_the_floor_zero_and_words_that_say_nothing_stay() {
        assert_eq!(
            ["Level 0", "00th", "0", "Floor"].map(tidy),
            ["0", "0", "0", "Floor"]
        );
        assert_eq!(natural("G01a", "G01a"), Ordering::Equal);
    }

    #[test]
    fn floors_of_absurd_numbers_stand_in_order_as_well() {
        let mut floors = ["1111111111", "G", "B-2147483648", "3"];
        floors.sort_by(|a, b| order(a, b));
        assert_eq!(floors, ["B-2147483648", "G", "3", "1111111111"]);
    }

    #[test]
    fn rooms_are_counted_as_people_count() {
        let mut rooms = ["G10", "G2", "G2a", "101", "99", "G01"];
        rooms.sort_by(|a, b| natural(a, b));
        assert_eq!(rooms, ["99", "101", "G01", "G2", "G2a", "G10"]);
    }
}
