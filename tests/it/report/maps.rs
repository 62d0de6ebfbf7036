//! Maps: every room is on one, texts do not cover each other, and files of their own are whole.

use super::{Made, with_hostile_names};
use crate::common::{demo, read_file};
use evenrun::report::{Language, Words, map_svg};

/// The share of all text that may lie on other text.
const COVERED: f64 = 0.02;
/// Width of a letter for a size of one: what a common sans-serif font has on average, from memory.
const LETTER: f64 = 0.55;

/// A text of a drawing with the box it covers: left, top, right, bottom.
struct Text {
    said: String,
    area: [f64; 4],
}

fn value<'a>(tag: &'a str, name: &str) -> Option<&'a str> {
    let opening = format!(" {name}=\"");
    tag.split_once(&opening)?.1.split('"').next()
}

/// Every text element of a drawing. All are set from their middle but those of the scale bar.
fn texts(svg: &str) -> Vec<Text> {
    let elements = svg.split("<text").skip(1);
    let element = |rest: &str| {
        let (tag, rest) = rest.split_once('>')?;
        let said = rest.split('<').next()?.to_string();
        let number = |name: &str| value(tag, name)?.parse::<f64>().ok();
        let (x, y, size) = (number("x")?, number("y")?, number("font-size")?);
        let long = unicode_width::UnicodeWidthStr::width(said.as_str()) as f64 * LETTER * size;
        let middle = value(tag, "text-anchor") == Some("middle");
        let left = if middle { x - long / 2.0 } else { x };
        let upright = [left, y - size * 0.75, left + long, y + size * 0.2];
        let turn = value(tag, "transform").and_then(|t| {
            let numbers = t.strip_prefix("rotate(-90 ")?.strip_suffix(')')?;
            let (cx, cy) = numbers.split_once(' ')?;
            Some((cx.parse::<f64>().ok()?, cy.parse::<f64>().ok()?))
        });
        let area = match turn {
            // A quarter turn to the left: what was to the right is above.
            Some((cx, cy)) => [
                cx + (upright[1] - cy),
                cy - (upright[2] - cx),
                cx + (upright[3] - cy),
                cy - (upright[0] - cx),
            ],
            None => upright,
        };
        Some(Text { said, area })
    };
    elements.filter_map(element).collect()
}

fn size(area: [f64; 4]) -> f64 {
    (area[2] - area[0]).max(0.0) * (area[3] - area[1]).max(0.0)
}

fn common(a: [f64; 4], b: [f64; 4]) -> f64 {
    size([
        a[0].max(b[0]),
        a[1].max(b[1]),
        a[2].min(b[2]),
        a[3].min(b[3]),
    ])
}

fn little_is_covered(name: &str, svg: &str) {
    let texts = texts(svg);
    let all: f64 = texts.iter().map(|t| size(t.area)).sum();
    let mut covered = 0.0;
    let mut worst = (0.0, String::new());
    for (i, a) in texts.iter().enumerate() {
        for b in &texts[..i] {
            let here = common(a.area, b.area);
            covered += here;
            if here > worst.0 {
                worst = (here, format!("`{}` and `{}`", a.said, b.said));
            }
        }
    }
    let share = covered / all.max(1.0);
    assert!(
        share <= COVERED,
        "{name}: {share:.3} of the text is covered, most by {}",
        worst.1
    );
}

fn files(made: &Made) -> Vec<(String, String)> {
    let words = Words::new(Language::English, &made.site);
    let files = map_svg(&made.answer(), &words);
    files.into_iter().map(|f| (f.name, f.text)).collect()
}

#[test]
fn the_measure_of_covered_text_finds_what_lies_on_something() {
    let svg = r#"<text x="50" y="50" font-size="10" text-anchor="middle">stairs</text><text x="52" y="51" font-size="10" text-anchor="middle">closet</text>"#;
    let texts = texts(svg);
    assert!(common(texts[0].area, texts[1].area) > 0.5 * size(texts[0].area));
}

#[test]
fn texts_on_maps_hardly_cover_each_other() {
    let made = [
        Made::new("Larkfield", 3, &["Ana", "Bilal", "Chiara"]),
        with_hostile_names(),
        Made::of(demo()),
        Made::of(read_file("fixtures/two_floors")),
    ];
    for made in &made {
        let files = files(made);
        assert!(files.len() >= made.site.floors.len());
        for (name, svg) in files {
            little_is_covered(&format!("{} {name}", made.site.name), &svg);
        }
    }
}

#[test]
fn every_room_is_on_the_map_of_its_floor_with_whose_it_is() {
    let made = Made::of(demo());
    let maps: String = files(&made)
        .into_iter()
        .filter(|(name, _)| name.starts_with("floor-"))
        .map(|(_, text)| text)
        .collect();
    for (room, place) in made.site.rooms.iter().zip(&made.site.places) {
        assert!(
            maps.contains(&place.name.replace('"', "&quot;")),
            "{}",
            room.id
        );
    }
    let labels = texts(&maps);
    let labelled = |id: &str| labels.iter().any(|t| t.said == id);
    let rooms = made.site.rooms.iter();
    let without: Vec<&str> = rooms
        .map(|r| r.id.as_str())
        .filter(|id| !labelled(id))
        .collect();
    assert!(
        without.len() * 20 <= made.site.rooms.len(),
        "no label: {without:?}"
    );
}

#[test]
fn a_map_file_stands_alone_and_its_name_is_plain() {
    let made = with_hostile_names();
    for (name, text) in files(&made) {
        assert!(
            name.chars()
                .all(|c| c.is_ascii_alphanumeric() || "-.".contains(c)),
            "{name}"
        );
        assert!(
            text.starts_with("<svg") && text.ends_with("</svg>"),
            "{name}"
        );
        assert!(
            !text.contains("<script") && !text.contains("href"),
            "{name}"
        );
        for id in text
            .split("url(#")
            .skip(1)
            .filter_map(|rest| rest.split(')').next())
        {
            assert!(text.contains(&format!("id=\"{id}\"")), "{name}: {id}");
        }
    }
}

#[test]
fn north_is_shown_where_the_site_says_where_it_is() {
    let mut made = Made::new("Larkfield", 1, &["Ana"]);
    let has_arrow = |made: &Made| files(made)[0].1.contains("class=\"north\"");
    assert!(!has_arrow(&made));
    made.site.north = Some(30.0);
    assert!(has_arrow(&made));
}
