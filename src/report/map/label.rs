//! Texts that fit: into a box, at the largest size that does, upright or turned; or beside something, where nothing is yet. What fits
//! nowhere is left out; its name is still in the title of what it belongs to, and in the tables.

use crate::report::cut::cut;
use maud::{Markup, html};
use unicode_width::UnicodeWidthStr;

/// Width of a narrow letter or figure for a size of one; sans-serif letters are narrower on average, so that a box that is
/// reckoned with this holds its text.
const LETTER: f64 = 0.62;
/// From line to line for a size of one.
pub(super) const LINE: f64 = 1.12;
/// Free space round a text in a box.
const PAD: f64 = 1.5;

/// Width of a text of this size.
pub(super) fn width(text: &str, size: f64) -> f64 {
    text.width() as f64 * LETTER * size
}

/// How many narrow letters of this size fit into a width.
pub(super) fn letters(wide: f64, size: f64) -> usize {
    (wide / (LETTER * size) + 1e-9).floor().max(0.0) as usize
}

/// At most so wide, the rest given as `…`; nothing if not even two letters fit.
fn shortened(text: &str, size: f64, most: f64) -> Option<String> {
    let room = letters(most, size);
    (room >= text.width() || room >= 3).then(|| cut(text, room))
}

/// A text in one or more lines round a middle.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Label {
    pub(super) middle: (f64, f64),
    pub(super) size: f64,
    pub(super) lines: Vec<String>,
    /// Turned to be read from the right.
    pub(super) turned: bool,
}

/// Texts as they fit into a box round a middle: at the first of the sizes at which all lines do, turned if need be; else the first line
/// alone, shortened if need be.
pub(super) fn fit(
    lines: &[String],
    middle: (f64, f64),
    (width_there, height_there): (f64, f64),
    sizes: &[f64],
) -> Option<Label> {
    let (wide, high) = (width_there - 2.0 * PAD, height_there - 2.0 * PAD);
    let label = |size: f64, lines: &[String], turned: bool| Label {
        middle,
        size,
        lines: lines.to_vec(),
        turned,
    };
    let fits = |size: f64, lines: &[String], wide: f64, high: f64| {
        lines.len() as f64 * LINE * size <= high && lines.iter().all(|l| width(l, size) <= wide)
    };
    for part in [lines, &lines[..lines.len().min(1)]] {
        for size in sizes {
            if fits(*size, part, wide, high) {
                return Some(label(*size, part, false));
            }
            if fits(*size, part, high, wide) {
                return Some(label(*size, part, true));
            }
        }
    }
    let size = *sizes.last()?;
    let (long, short) = (wide.max(high), wide.min(high));
    let first = shortened(lines.first()?, size, long).filter(|_| LINE * size <= short)?;
    Some(label(size, &[first], high > wide))
}

impl Label {
    /// The box it covers.
    pub(super) fn area(&self) -> Area {
        let long = self
            .lines
            .iter()
            .map(|l| width(l, self.size))
            .fold(0.0, f64::max);
        let high = self.lines.len() as f64 * LINE * self.size;
        let (w, h) = if self.turned {
            (high, long)
        } else {
            (long, high)
        };
        Area {
            left: self.middle.0 - w / 2.0,
            top: self.middle.1 - h / 2.0,
            right: self.middle.0 + w / 2.0,
            bottom: self.middle.1 + h / 2.0,
        }
    }

    /// As text of this class; the last of several lines is in bold.
    pub(super) fn draw(&self, class: &str) -> Markup {
        let (x, y) = self.middle;
        let count = self.lines.len() as f64;
        let base = |line: usize| y + ((line as f64 + 0.5) - count / 2.0) * LINE * self.size;
        let turn = self.turned.then(|| format!("rotate(-90 {x:.1} {y:.1})"));
        html! {
            @for (line, text) in self.lines.iter().enumerate() {
                text class=(class) x=(format!("{x:.1}")) y=(format!("{:.1}", base(line) + self.size * 0.35))
                    font-size=(self.size) text-anchor="middle" transform=[turn.clone()]
                    font-weight=[(line > 0).then_some("700")] { (text) }
            }
        }
    }
}

/// An upright box in the units of the drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Area {
    pub(super) left: f64,
    pub(super) top: f64,
    pub(super) right: f64,
    pub(super) bottom: f64,
}

impl Area {
    fn meets(&self, other: &Area) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    fn is_in(&self, sheet: &Area) -> bool {
        sheet.left <= self.left
            && self.right <= sheet.right
            && sheet.top <= self.top
            && self.bottom <= sheet.bottom
    }
}

/// What is drawn on a sheet already.
pub(super) struct Taken {
    pub(super) sheet: Area,
    pub(super) areas: Vec<Area>,
}

impl Taken {
    /// Whether nothing is there yet.
    pub(super) fn is_free(&self, area: &Area) -> bool {
        area.is_in(&self.sheet) && !self.areas.iter().any(|taken| taken.meets(area))
    }

    /// A text next to an area, where it covers nothing that is there; nothing if it would everywhere.
    pub(super) fn beside(&mut self, text: &str, area: Area, sizes: &[f64]) -> Option<Label> {
        let x = f64::midpoint(area.left, area.right);
        let y = f64::midpoint(area.top, area.bottom);
        for size in sizes {
            let text = shortened(text, *size, 16.0 * LETTER * size)?;
            let (w, h) = (width(&text, *size) / 2.0 + 1.0, LINE * size / 2.0 + 0.5);
            let around = [
                (x, area.bottom + h),
                (x, area.top - h),
                (area.right + w, y),
                (area.left - w, y),
                (area.right + w, area.bottom + h),
                (area.left - w, area.bottom + h),
                (area.right + w, area.top - h),
                (area.left - w, area.top - h),
                (x, area.bottom + 3.0 * h),
                (x, area.top - 3.0 * h),
            ];
            for middle in around {
                let label = Label {
                    middle,
                    size: *size,
                    lines: vec![text.clone()],
                    turned: false,
                };
                let area = label.area();
                if self.is_free(&area) {
                    self.areas.push(area);
                    return Some(label);
                }
            }
        }
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lines(texts: &[&str]) -> Vec<String> {
        texts.iter().map(ToString::to_string).collect()
    }

    #[test]
    fn a_text_is_as_large_as_its_box_allows_and_turned_in_a_narrow_one() {
        let sizes = [11.0, 8.0];
        let fitted = |w, h| fit(&lines(&["G12", "Me"]), (0.0, 0.0), (w, h), &sizes);
        let large = fitted(40.0, 40.0).unwrap();
        assert_eq!(
            (large.size, large.turned, large.lines.len()),
            (11.0, false, 2)
        );
        let turned = fitted(21.0, 40.0).unwrap();
        assert!(turned.size < 11.0 || turned.turned, "{turned:?}");
        assert_eq!(fitted(60.0, 14.0).unwrap().lines, ["G12"]);
        assert_eq!(fitted(4.0, 4.0), None);
    }

    #[test]
    fn texts_beside_each_other_never_meet() {
        let sheet = Area {
            left: 0.0,
            top: 0.0,
            right: 200.0,
            bottom: 100.0,
        };
        let mut taken = Taken {
            sheet,
            areas: vec![],
        };
        let spot = Area {
            left: 95.0,
            top: 45.0,
            right: 105.0,
            bottom: 55.0,
        };
        let labels: Vec<Label> = (0..12)
            .filter_map(|_| taken.beside("main stairs", spot, &[9.0, 7.0]))
            .collect();
        assert!(labels.len() > 3);
        for (i, a) in labels.iter().enumerate() {
            assert!(labels[..i].iter().all(|b| !a.area().meets(&b.area())));
        }
    }
}
