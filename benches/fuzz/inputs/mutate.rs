//! Odd inputs out of sound ones: bits and bytes, pieces that mean something, and words of the format, a few changes at once.

use super::cuts::Cut;
use super::odd::ODD;
use rand::{Rng, RngExt};
use std::ops::Range;

/// Longest odd input: what is bigger is for the tests of limits, and would only be slow here.
const LONGEST: usize = 48 << 10;
/// Most changes of one input. Half of the inputs have one, a quarter two, and so on: what has many is refused for the first.
const MOST_CHANGES: usize = 6;
/// Most times that a piece is written one after the other.
const MOST_REPEATS: usize = 200;

/// What odd inputs are made of.
#[derive(Debug, Default)]
pub(crate) struct Stock {
    /// Sound inputs, or nearly.
    pub(crate) seeds: Vec<Vec<u8>>,
    /// Words of the format.
    pub(crate) words: Vec<String>,
}

impl Stock {
    /// Of seeds; their own words are among the words.
    pub(crate) fn new(seeds: Vec<Vec<u8>>, words: &[&str]) -> Stock {
        let own = seeds.iter().flat_map(|seed| {
            let pieces = Cut::Words.pieces(seed).into_iter();
            pieces.map(|piece| String::from_utf8_lossy(&seed[piece]).into_owned())
        });
        let mut words: Vec<String> = own.chain(words.iter().map(|w| (*w).to_string())).collect();
        words.sort_unstable();
        words.dedup();
        Stock { seeds, words }
    }

    /// A seed with some changes.
    pub(crate) fn odd(&self, chance: &mut impl Rng) -> Vec<u8> {
        let mut text = some(&self.seeds, chance).cloned().unwrap_or_default();
        self.change(&mut text, chance);
        text
    }

    /// Changes a text, here and there.
    pub(crate) fn change(&self, text: &mut Vec<u8>, chance: &mut impl Rng) {
        for change in 0..MOST_CHANGES {
            if change > 0 && chance.random_range(0..2) == 0 {
                return;
            }
            match chance.random_range(0..24) {
                0 => flip(text, chance),
                1 => byte(text, chance),
                2 => text.truncate(chance.random_range(0..=text.len())),
                3 => self.splice(text, chance),
                4 => repeat(text, chance),
                5 => insert(text, self.word(chance).as_bytes(), chance),
                _ => self.piece(text, chance),
            }
            text.truncate(LONGEST);
        }
    }

    /// A change of a piece that means something.
    fn piece(&self, text: &mut Vec<u8>, chance: &mut impl Rng) {
        let cut = Cut::ALL[chance.random_range(0..Cut::ALL.len())];
        let pieces = cut.pieces(text);
        let Some(piece) = some(&pieces, chance).cloned() else {
            return;
        };
        match chance.random_range(0..8) {
            0 => put(text, piece, b""),
            1 => {
                let twice = text[piece.clone()].to_vec();
                put(text, piece.start..piece.start, &twice);
            }
            2 | 3 => {
                if let Some(other) = some(&pieces, chance).cloned() {
                    swap(text, piece, other);
                }
            }
            4 => {
                let other = some(&pieces, chance).map(|other| text[other.clone()].to_vec());
                put(text, piece, &other.unwrap_or_default());
            }
            5 => {
                let other = some(&self.seeds, chance).map_or(&[][..], Vec::as_slice);
                let found = some(&cut.pieces(other), chance).map(|at| other[at.clone()].to_vec());
                put(text, piece, &found.unwrap_or_default());
            }
            _ => put(text, piece, self.word(chance).as_bytes()),
        }
    }

    /// A word: an odd one, or one of the format.
    fn word(&self, chance: &mut impl Rng) -> &str {
        let own = some(&self.words, chance).filter(|_| chance.random_range(0..2) == 0);
        own.map_or_else(|| ODD[chance.random_range(0..ODD.len())], String::as_str)
    }

    /// The text up to somewhere, and another seed from somewhere on.
    fn splice(&self, text: &mut Vec<u8>, chance: &mut impl Rng) {
        let Some(other) = some(&self.seeds, chance) else {
            return;
        };
        text.truncate(chance.random_range(0..=text.len()));
        text.extend_from_slice(&other[chance.random_range(0..=other.len())..]);
    }
}

fn some<'a, T>(list: &'a [T], chance: &mut impl Rng) -> Option<&'a T> {
    (!list.is_empty()).then(|| &list[chance.random_range(0..list.len())])
}

fn put(text: &mut Vec<u8>, place: Range<usize>, bytes: &[u8]) {
    text.splice(place, bytes.iter().copied());
}

fn insert(text: &mut Vec<u8>, bytes: &[u8], chance: &mut impl Rng) {
    let at = chance.random_range(0..=text.len());
    put(text, at..at, bytes);
}

fn swap(text: &mut Vec<u8>, one: Range<usize>, other: Range<usize>) {
    let (first, second) = if one.start < other.start {
        (one, other)
    } else {
        (other, one)
    };
    if first.end > second.start {
        return;
    }
    let (before, after) = (text[first.clone()].to_vec(), text[second.clone()].to_vec());
    // From the back, so that the first place stays where it is.
    put(text, second, &before);
    put(text, first, &after);
}

fn flip(text: &mut [u8], chance: &mut impl Rng) {
    if !text.is_empty() {
        let at = chance.random_range(0..text.len());
        text[at] ^= 1 << chance.random_range(0..8);
    }
}

fn byte(text: &mut Vec<u8>, chance: &mut impl Rng) {
    if text.is_empty() || chance.random_range(0..2) == 0 {
        insert(text, &[chance.random()], chance);
    } else {
        let at = chance.random_range(0..text.len());
        text[at] = chance.random();
    }
}

/// Writes a stretch many times.
fn repeat(text: &mut Vec<u8>, chance: &mut impl Rng) {
    let from = chance.random_range(0..=text.len());
    let length = chance.random_range(0..=(text.len() - from).min(120));
    let stretch = text[from..from + length].to_vec();
    let times = chance.random_range(1..=MOST_REPEATS);
    let most = LONGEST.saturating_sub(text.len()) / length.max(1);
    put(text, from..from, &stretch.repeat(times.min(most)));
}
