//! The commented file of a draft.

use super::{Draft, Floor, Hall, HallForm, Room, Way, scalar};
use crate::units::METRES_PER_FOOT;
use std::fmt::Write;

/// First line of a site file: editors that know the YAML language server complete and check by it.
pub(crate) const MODELINE: &str = "# yaml-language-server: $schema=site.schema.json";
/// Behind what was guessed.
const GUESSED: &str = " # guessed";

impl Draft {
    /// The text of the site's own file.
    pub(crate) fn yaml(&self) -> String {
        let mut text = String::from(MODELINE);
        text.push('\n');
        for note in &self.notes {
            let _ = writeln!(text, "# {note}");
        }
        let _ = write!(text, "\nsite: {}\n", scalar(&self.name));
        text.push_str("# date: 2026-03-10 # the date planned for when the command names none\n");
        let units = if self.us_units { "us" } else { "metric" };
        let _ = writeln!(
            text,
            "units: {units} # how reports show figures: metric or us"
        );
        self.building(&mut text);
        self.inside(&mut text);
        self.people(&mut text);
        text
    }

    fn building(&self, text: &mut String) {
        text.push_str("\nfloors: # lowest first; the height is to the next floor up\n");
        text.extend(self.floors.iter().map(floor_line));
        text.push_str(
            "\n# A hall lists its rooms, closets and places in door order; sides take turns. The spacing is from door to door.\n\
             # Walk along each hall once and put the doors in order: nothing changes walking times more.\n\
             halls:\n",
        );
        text.extend(self.halls.iter().map(|hall| hall_line(hall, self.us_units)));
        let ways = [
            ("stairs", "a cart never takes them", &self.stairs),
            ("lifts", "where a lift stops", &self.lifts),
            ("links", "level ways from hall to hall", &self.links),
            ("outdoor", "ways through the open", &self.outdoor),
        ];
        for (key, comment, list) in ways {
            if !list.is_empty() {
                let _ = write!(text, "\n{key}: # {comment}\n");
                text.extend(list.iter().map(way_line));
            }
        }
    }

    fn inside(&self, text: &mut String) {
        text.push_str("\nclosets: # where buckets are filled and carts are emptied\n");
        for closet in &self.closets {
            let _ = writeln!(
                text,
                "  - {{id: {}, name: {}, fill_point: true, waste_point: true}}{}",
                scalar(&closet.id),
                scalar(&closet.name),
                mark(closet.guessed)
            );
        }
        text.push_str("\nplaces: # what can be walked to and is not cleaned\n");
        for place in &self.places {
            let _ = writeln!(
                text,
                "  - {{id: {}, name: {}, break_place: true}}{}",
                scalar(&place.id),
                scalar(&place.name),
                mark(place.guessed)
            );
        }
        match &self.rooms {
            None => text.push_str(
                "\nrooms: rooms.csv # next to this file; its columns are the keys of rooms\n",
            ),
            Some(rooms) => {
                text.push_str("\nrooms: # the kind decides what is done\n");
                text.extend(rooms.iter().map(room_line));
            }
        }
    }

    fn people(&self, text: &mut String) {
        let cart = if self.us_units {
            "waste_gal: 32, bucket_sqft: 650, bucket_rooms: 3, width_in: 30"
        } else {
            "waste_l: 120, bucket_m2: 60, bucket_rooms: 3, width_m: 0.75"
        };
        let _ = write!(text, "\ncarts:\n  - {{id: cart, {cart}}}{GUESSED}\n");
        text.push_str("\ncrew: # no `cart` means on foot\n");
        let rest = self.rest.as_ref().map(|(minutes, window)| {
            format!(", breaks: [{{name: rest, min: {minutes}, window: {window:?}, paid: true}}]")
        });
        let rest = rest.unwrap_or_default();
        for hand in &self.crew {
            let _ = writeln!(
                text,
                "  - {{name: {}, shift: {:?}, days: mon-fri, start: {}, cart: cart{rest}}}{}",
                scalar(&hand.name),
                hand.shift,
                scalar(&hand.start),
                mark(hand.guessed)
            );
        }
        text.push_str("\npolicy:\n  set_up_min: 5\n  tear_down_min: 5\n");
        if self.group.len() > 1 {
            let rooms: Vec<String> = self.group.iter().map(|id| scalar(id)).collect();
            let _ = write!(
                text,
                "  groups: # rooms of which some must stay open\n    - {{name: restrooms, rooms: [{}], keep_open: 1}}\n",
                rooms.join(", ")
            );
        }
    }
}

fn mark(guessed: bool) -> &'static str {
    if guessed { GUESSED } else { "" }
}

fn floor_line(floor: &Floor) -> String {
    let height = floor.height_m.map(|h| format!(", height_m: {}", short(h)));
    format!(
        "  - {{id: {}{}}}{}\n",
        scalar(&floor.id),
        height.unwrap_or_default(),
        mark(floor.guessed)
    )
}

/// A hall, as an item of `halls`.
pub(crate) fn hall_line(hall: &Hall, us_units: bool) -> String {
    let head = format!("id: {}, floor: {}", scalar(&hall.id), scalar(&hall.floor));
    match &hall.form {
        HallForm::Listed { spacing_m, places } => {
            let places: Vec<String> = places.iter().map(|p| scalar(p)).collect();
            let spacing = if us_units {
                format!("spacing_ft: {:.0}", spacing_m / METRES_PER_FOOT)
            } else {
                format!("spacing_m: {}", short(*spacing_m))
            };
            format!(
                "  - {{{head}, {spacing}, places: [{}]}}{}\n",
                places.join(", "),
                mark(hall.guessed)
            )
        }
        HallForm::Drawn { line, places } => {
            let line: Vec<String> = line
                .iter()
                .map(|(x, y)| format!("[{}, {}]", short(*x), short(*y)))
                .collect();
            let places = places.iter().map(|(place, m)| {
                format!("\n      - {{place: {}, m: {}}}", scalar(place), short(*m))
            });
            format!(
                "  - id: {}{}\n    floor: {}\n    line_m: [{}]\n    places_at:{}\n",
                scalar(&hall.id),
                mark(hall.guessed),
                scalar(&hall.floor),
                line.join(", "),
                places.collect::<String>()
            )
        }
    }
}

fn way_line(way: &Way) -> String {
    let landings: Vec<String> = way.landings.iter().map(|l| scalar(l)).collect();
    let length = way.length_m.map(|m| format!(", length_m: {}", short(m)));
    format!(
        "  - {{id: {}, landings: [{}]{}}}{}\n",
        scalar(&way.id),
        landings.join(", "),
        length.unwrap_or_default(),
        mark(way.guessed)
    )
}

fn room_line(room: &Room) -> String {
    let keys = room
        .keys
        .iter()
        .map(|(key, value)| format!(", {key}: {value}"));
    format!(
        "  - {{id: {}{}}}\n",
        scalar(&room.id),
        keys.collect::<String>()
    )
}

/// At most two decimals.
fn short(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".to_string()
    } else {
        text.to_string()
    }
}
