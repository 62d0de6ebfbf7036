//! Files as trees of texts with positions, before anybody knows what they mean. YAML and CSV become the same tree, so that
//! one reader ([`reader`]) turns both into the raw types, and tells of everything that is wrong instead of the first thing.

mod csv;
mod reader;
mod yaml;

pub(crate) use csv::{Cells, read_csv};
pub(crate) use reader::{fields_of, read_as};
pub(crate) use yaml::read_yaml;

use super::limits::{CHARACTERS_OF_A_VALUE, VALUES_OF_A_MAP};
use super::log::Pos;
use std::rc::Rc;

/// A value as it was written.
#[derive(Debug)]
pub(crate) struct Node {
    /// Where it starts.
    pub(crate) pos: Pos,
    /// What it is.
    pub(crate) shape: Shape,
    /// How many values it counts for in all, itself included; aliases count in full.
    size: usize,
}

/// The shapes a value can have.
#[derive(Debug)]
pub(crate) enum Shape {
    /// Nothing, `~` or `null`.
    Null,
    /// A text, a number, yes or no: as written.
    Text(String),
    /// A list.
    List(Vec<Rc<Node>>),
    /// Keys and values in the order written; no key twice.
    Map(Vec<(Key, Rc<Node>)>),
}

/// A key of a map.
#[derive(Clone, Debug)]
pub(crate) struct Key {
    /// What it says.
    pub(crate) name: String,
    /// Where it stands.
    pub(crate) pos: Pos,
}

impl Node {
    fn leaf(pos: Pos, shape: Shape) -> Node {
        let length = if let Shape::Text(text) = &shape {
            text.len()
        } else {
            0
        };
        Node {
            pos,
            shape,
            size: 1 + length / CHARACTERS_OF_A_VALUE,
        }
    }

    fn list(pos: Pos, items: Vec<Rc<Node>>) -> Node {
        let size = items
            .iter()
            .fold(VALUES_OF_A_MAP, |sum: usize, n| sum.saturating_add(n.size));
        Node {
            pos,
            shape: Shape::List(items),
            size,
        }
    }

    fn map(pos: Pos, entries: Vec<(Key, Rc<Node>)>) -> Node {
        let size = entries.iter().fold(VALUES_OF_A_MAP, |sum: usize, (_, n)| {
            sum.saturating_add(n.size)
        });
        Node {
            pos,
            shape: Shape::Map(entries),
            size,
        }
    }
}
