//! YAML events to a tree. Anchors and aliases work; merge keys (`<<`) are keys like any other, and so unknown.

use super::{Key, Node, Shape};
use crate::input::limits::{
    LIST_ITEMS, VALUE_CHARACTERS, VALUES_OF_A_MAP, YAML_DEPTH, YAML_VALUES,
};
use crate::input::log::{Log, Pos};
use serde_yaml::granit_parser::{Event, Marker, Parser, ScalarStyle};
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// The tree of a YAML text; `None` if there was a problem that hides the rest of the file.
pub(crate) fn read_yaml(file: u32, text: &str, log: &Log) -> Option<Rc<Node>> {
    let mut builder = Builder {
        file,
        log,
        open: Vec::new(),
        anchors: BTreeMap::new(),
        done: None,
        nodes: 0,
    };
    let mut parser = Parser::new_from_str(text);
    while let Some(event) = parser.next_event() {
        match event {
            Ok((event, span)) => builder.take(event, span.start)?,
            Err(error) => {
                let pos = builder.pos(*error.marker());
                let hint = "check indentation, colons and quotes on this line and the one above";
                log.error(
                    "E105",
                    pos,
                    format!("this is not YAML: {}", error.info()),
                    hint,
                );
                return None;
            }
        }
    }
    let nothing = || {
        Rc::new(Node::leaf(
            Pos {
                file,
                line: 1,
                column: 1,
            },
            Shape::Null,
        ))
    };
    Some(builder.done.unwrap_or_else(nothing))
}

struct Builder<'a> {
    file: u32,
    log: &'a Log,
    open: Vec<Open>,
    anchors: BTreeMap<usize, Rc<Node>>,
    done: Option<Rc<Node>>,
    nodes: usize,
}

/// A list or map whose end was not seen yet.
struct Open {
    pos: Pos,
    anchor: usize,
    kind: OpenKind,
}

enum OpenKind {
    List(Vec<Rc<Node>>),
    Map(OpenMap),
}

/// What there is of a map so far.
#[derive(Default)]
struct OpenMap {
    entries: Vec<(Key, Rc<Node>)>,
    names: BTreeSet<String>,
    /// The key whose value comes next.
    waiting: Option<Key>,
}

impl Builder<'_> {
    fn pos(&self, mark: Marker) -> Pos {
        Pos {
            file: self.file,
            line: mark.line().max(1) as u32,
            column: mark.col() as u32 + 1,
        }
    }

    /// Takes one event; `None` stops the reading, with the reason in the log.
    fn take(&mut self, event: Event<'_>, start: Marker) -> Option<()> {
        let pos = self.pos(start);
        match event {
            Event::Scalar(text, style, anchor, _) => {
                if text.len() > VALUE_CHARACTERS && text.chars().nth(VALUE_CHARACTERS).is_some() {
                    let message = format!("a text of more than {VALUE_CHARACTERS} characters");
                    return self.stop("E110", pos, &message);
                }
                let plain = style == ScalarStyle::Plain;
                let null = plain && matches!(&*text, "" | "~" | "null" | "Null" | "NULL");
                let shape = if null {
                    Shape::Null
                } else {
                    Shape::Text(text.into_owned())
                };
                self.put(Rc::new(Node::leaf(pos, shape)), anchor)
            }
            Event::SequenceStart(_, anchor, _) => {
                self.begin(pos, anchor, OpenKind::List(Vec::new()))
            }
            Event::MappingStart(_, anchor, _) => {
                self.begin(pos, anchor, OpenKind::Map(OpenMap::default()))
            }
            Event::SequenceEnd | Event::MappingEnd => self.end(),
            Event::Alias(anchor) => {
                let Some(node) = self.anchors.get(&anchor).cloned() else {
                    return self.stop("E105", pos, "an alias inside of what it stands for");
                };
                self.put(node, 0)
            }
            Event::DocumentStart(..) if self.done.is_some() => self.stop(
                "E105",
                pos,
                "a second YAML document in the file; one is read",
            ),
            _ => Some(()),
        }
    }

    fn begin(&mut self, pos: Pos, anchor: usize, kind: OpenKind) -> Option<()> {
        if self.open.len() >= YAML_DEPTH {
            return self.stop("E107", pos, "lists and maps are nested too deeply");
        }
        self.open.push(Open { pos, anchor, kind });
        Some(())
    }

    fn end(&mut self) -> Option<()> {
        let Some(open) = self.open.pop() else {
            return Some(());
        };
        let node = match open.kind {
            OpenKind::List(items) => Node::list(open.pos, items),
            OpenKind::Map(map) => Node::map(open.pos, map.entries),
        };
        // Its parts were counted when they were put.
        self.nodes = self.nodes.saturating_sub(node.size - VALUES_OF_A_MAP);
        self.put(Rc::new(node), open.anchor)
    }

    fn put(&mut self, node: Rc<Node>, anchor: usize) -> Option<()> {
        self.nodes = self.nodes.saturating_add(node.size);
        if self.nodes > YAML_VALUES {
            return self.stop("E107", node.pos, "aliases repeat too much");
        }
        if anchor != 0 {
            self.anchors.insert(anchor, Rc::clone(&node));
        }
        match self.open.last_mut().map(|open| &mut open.kind) {
            None => self.done = Some(node),
            Some(OpenKind::List(items)) if items.len() >= LIST_ITEMS => {
                let message = format!("a list of more than {LIST_ITEMS} items");
                return self.stop("E110", node.pos, &message);
            }
            Some(OpenKind::List(items)) => items.push(node),
            Some(OpenKind::Map(map)) => map.put(node, self.log),
        }
        Some(())
    }

    fn stop(&self, code: &'static str, pos: Pos, message: &str) -> Option<()> {
        self.log.error(code, pos, message.to_string(), "");
        None
    }
}

impl OpenMap {
    /// A key, or the value of the one before it.
    fn put(&mut self, node: Rc<Node>, log: &Log) {
        let Some(key) = self.waiting.take() else {
            self.waiting = Some(self_key(&node, log));
            return;
        };
        if self.names.insert(key.name.clone()) {
            self.entries.push((key, node));
        } else {
            let message = format!("`{}` is given twice", key.name);
            log.error("E204", key.pos, message, "keep one of them");
        }
    }
}

fn self_key(node: &Node, log: &Log) -> Key {
    let name = match &node.shape {
        Shape::Text(text) => text.clone(),
        Shape::Null => "null".to_string(),
        Shape::List(_) | Shape::Map(_) => {
            log.error(
                "E203",
                node.pos,
                "a list or map cannot be a key".to_string(),
                "",
            );
            String::new()
        }
    };
    Key {
        name,
        pos: node.pos,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn codes(text: &str) -> Vec<&'static str> {
        let log = Log::default();
        let file = log.add_source("a.yaml".into(), text);
        read_yaml(file, text, &log);
        log.into_problems().iter().map(|p| p.code).collect()
    }

    #[test]
    fn aliases_are_followed_and_bombs_are_not() {
        assert!(codes("a: &x [1, 2]\nb: *x\n").is_empty());
        let level = |i: usize| {
            format!(
                "a{i}: &a{i} [{}]",
                vec![format!("*a{}", i - 1); 10].join(", ")
            )
        };
        let levels: Vec<String> = (1..12).map(level).collect();
        let bomb = format!(
            "a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n{}\n",
            levels.join("\n")
        );
        assert_eq!(codes(&bomb), ["E107"]);
        assert_eq!(
            codes(&format!("{}{}", "[".repeat(40), "]".repeat(40))),
            ["E107"]
        );
        // The parser has a limit of its own, which is met first.
        assert_eq!(codes(&"[".repeat(5000)), ["E105"]);
        assert_eq!(codes("a: &x [*x]\n"), ["E105"]);
    }

    #[test]
    fn positions_are_lines_and_columns_from_one() {
        let log = Log::default();
        let node = read_yaml(0, "\u{e9}: x\r\nlist:\r\n  - {k: \"v\"}\r\n", &log).unwrap();
        let Shape::Map(entries) = &node.shape else {
            panic!("a map")
        };
        assert_eq!((entries[0].1.pos.line, entries[0].1.pos.column), (1, 4));
        let Shape::List(items) = &entries[1].1.shape else {
            panic!("a list")
        };
        let Shape::Map(inner) = &items[0].shape else {
            panic!("a map")
        };
        assert_eq!((inner[0].1.pos.line, inner[0].1.pos.column), (3, 9));
    }
}
