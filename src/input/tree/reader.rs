//! A serde reader of trees that never gives up: what is wrong is told to the log, and a blank is handed on in its place.
//!
//! A key that is missing becomes a blank too; an `Option` or a list may be missing. A list of texts may be one text with `;` between.

use super::{Node, Shape};
use crate::input::at::AT;
use crate::input::log::{Log, Pos};
use serde::de::value::Error;
use serde::de::{
    Deserialize, DeserializeSeed, Deserializer, Error as _, IntoDeserializer, MapAccess, SeqAccess,
    Visitor,
};
use serde::forward_to_deserialize_any;
use std::rc::Rc;
use std::str::FromStr;

/// Reads a tree as a raw type. `None` only if the type asks for something no file can hold.
pub(crate) fn read_as<T: for<'de> Deserialize<'de>>(node: &Node, log: &Log) -> Option<T> {
    T::deserialize(Reader {
        node: Some(node),
        pos: node.pos,
        name: "the file",
        log,
        quiet: false,
    })
    .ok()
}

/// The keys a raw type has.
pub(crate) fn fields_of<T: for<'de> Deserialize<'de>>() -> &'static [&'static str] {
    let mut fields: &'static [&'static str] = &[];
    // The error is the way out once the keys are known.
    let _ = T::deserialize(FieldsOnly(&mut fields));
    fields
}

/// One value to be read.
#[derive(Clone, Copy)]
struct Reader<'a> {
    /// The value; `None` if its key is missing.
    node: Option<&'a Node>,
    /// Where it is, or should be.
    pos: Pos,
    /// The key it is under, for messages.
    name: &'a str,
    log: &'a Log,
    /// Whether a problem was told already that explains this one.
    quiet: bool,
}

impl<'a> Reader<'a> {
    fn shape(&self) -> Option<&'a Shape> {
        self.node
            .map(|n| &n.shape)
            .filter(|s| !matches!(s, Shape::Null))
    }

    fn wrong(&self, expected: &str) {
        if self.quiet {
            return;
        }
        let name = self.name;
        match self.shape() {
            None if self.node.is_some() => {
                self.log.error(
                    "E202",
                    self.pos,
                    format!("`{name}` has no value"),
                    format!("give {expected}"),
                );
            }
            None => self.log.error(
                "E202",
                self.pos,
                format!("`{name}` is missing here"),
                format!("add `{name}`: {expected}"),
            ),
            Some(shape) => {
                let found = match shape {
                    Shape::Text(text) => format!("`{text}`"),
                    Shape::List(_) => "a list".to_string(),
                    Shape::Map(_) => "keys and values".to_string(),
                    Shape::Null => "nothing".to_string(),
                };
                self.log.error(
                    "E203",
                    self.pos,
                    format!("`{name}` should be {expected}, not {found}"),
                    "",
                );
            }
        }
    }

    /// The text read as `T`, or a blank.
    fn parsed<T: FromStr + Default>(&self, expected: &str, fits: impl Fn(&T) -> bool) -> T {
        let text = if let Some(Shape::Text(text)) = self.shape() {
            text.trim()
        } else {
            ""
        };
        text.parse().ok().filter(|v| fits(v)).unwrap_or_else(|| {
            self.wrong(expected);
            T::default()
        })
    }

    fn child(&self, node: &'a Node) -> Reader<'a> {
        Reader {
            node: Some(node),
            pos: node.pos,
            ..*self
        }
    }
}

macro_rules! numbers {
    ($($method:ident $visit:ident $type:ty, $expected:literal;)+) => {$(
        fn $method<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
            visitor.$visit(self.parsed::<$type>($expected, |_| true))
        }
    )+};
}

impl<'de> Deserializer<'de> for Reader<'_> {
    type Error = Error;

    numbers! {
        deserialize_u32 visit_u32 u32, "a whole number";
        deserialize_u64 visit_u64 u64, "a whole number";
        deserialize_i64 visit_i64 i64, "a whole number";
    }

    fn deserialize_f64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        visitor.visit_f64(self.parsed("a number", |v: &f64| v.is_finite()))
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        let text = if let Some(Shape::Text(text)) = self.shape() {
            text.to_lowercase()
        } else {
            String::new()
        };
        visitor.visit_bool(match text.trim() {
            "true" | "yes" => true,
            "false" | "no" => false,
            _ => {
                self.wrong("true or false");
                false
            }
        })
    }

    fn deserialize_str<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        if let Some(Shape::Text(text)) = self.shape() {
            return visitor.visit_str(text);
        }
        self.wrong("a text");
        visitor.visit_str("")
    }

    fn deserialize_string<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        self.deserialize_str(visitor)
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        if self.shape().is_some() {
            visitor.visit_some(self)
        } else {
            visitor.visit_none()
        }
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        match self.shape() {
            Some(Shape::List(items)) => visitor.visit_seq(Items {
                items: items.iter(),
                of: self,
            }),
            Some(Shape::Text(text)) => {
                let parts = split(text, self.pos);
                visitor.visit_seq(Parts {
                    parts: parts.into_iter(),
                    of: self,
                })
            }
            shape => {
                if shape.is_some() {
                    self.wrong("a list");
                }
                visitor.visit_seq(Items {
                    items: [].iter(),
                    of: self,
                })
            }
        }
    }

    fn deserialize_tuple<V: Visitor<'de>>(
        self,
        length: usize,
        visitor: V,
    ) -> Result<V::Value, Error> {
        let items: &[Rc<Node>] = if let Some(Shape::List(items)) = self.shape() {
            items
        } else {
            &[]
        };
        let quiet = items.len() != length;
        if quiet {
            self.wrong(&format!("a list of {length}"));
        }
        visitor.visit_seq(Padded {
            items: items.iter(),
            left: length,
            of: Reader {
                quiet: self.quiet || quiet,
                ..self
            },
        })
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _name: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Error> {
        let quiet = !matches!(self.shape(), Some(Shape::Map(_)));
        if quiet {
            self.wrong("keys and values");
        } else if let Some(Shape::Map(entries)) = self.shape() {
            for (key, _) in entries
                .iter()
                .filter(|(k, _)| !fields.contains(&k.name.as_str()))
            {
                let message = format!("`{}` is not a key that is known here", key.name);
                self.log
                    .error("E201", key.pos, message, self.log.near(&key.name, fields));
            }
        }
        let of = Reader {
            quiet: self.quiet || quiet,
            ..self
        };
        visitor.visit_map(Fields {
            names: fields.iter(),
            value: None,
            of,
        })
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _name: &'static str,
        variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Error> {
        let mut found = None;
        if let Some(Shape::Text(text)) = self.shape() {
            found = variants
                .iter()
                .find(|v| v.eq_ignore_ascii_case(text.trim()));
            if found.is_none() && !self.quiet {
                let message = format!("`{text}` is not a word for `{}`", self.name);
                self.log
                    .error("E214", self.pos, message, self.log.near(text, variants));
            }
        } else {
            self.wrong("one word");
        }
        let word = found.or(variants.first()).copied().unwrap_or_default();
        visitor.visit_enum(word.into_deserializer())
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        name: &'static str,
        visitor: V,
    ) -> Result<V::Value, Error> {
        if name == AT {
            return visitor.visit_seq(AtParts {
                of: self,
                next: 0,
                errors: self.log.errors(),
            });
        }
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        match self.shape() {
            None => {
                if self.node.is_none() {
                    self.wrong("a list, or the name of a file");
                }
                visitor.visit_unit()
            }
            Some(Shape::Text(text)) => visitor.visit_str(text),
            Some(Shape::List(items)) => visitor.visit_seq(Items {
                items: items.iter(),
                of: self,
            }),
            Some(_) => {
                self.wrong("a list, or the name of a file");
                visitor.visit_unit()
            }
        }
    }

    forward_to_deserialize_any! {
        i8 i16 i32 i128 u8 u16 u128 f32 char bytes byte_buf unit unit_struct tuple_struct map identifier ignored_any
    }
}

/// The texts of `a; b; c`, each where it starts.
fn split(text: &str, pos: Pos) -> Vec<Node> {
    let mut parts = Vec::new();
    let mut column = pos.column;
    for part in text.split(';') {
        let indent = part.chars().take_while(|c| c.is_whitespace()).count() as u32;
        if !part.trim().is_empty() {
            let pos = Pos {
                column: column + indent,
                ..pos
            };
            parts.push(Node::leaf(pos, Shape::Text(part.trim().to_string())));
        }
        column += part.chars().count() as u32 + 1;
    }
    parts
}

/// The items of a list.
struct Items<'a> {
    items: std::slice::Iter<'a, Rc<Node>>,
    of: Reader<'a>,
}

impl<'de> SeqAccess<'de> for Items<'_> {
    type Error = Error;

    fn next_element_seed<S: DeserializeSeed<'de>>(
        &mut self,
        seed: S,
    ) -> Result<Option<S::Value>, Error> {
        self.items
            .next()
            .map(|node| seed.deserialize(self.of.child(node)))
            .transpose()
    }
}

/// The items of a list that must have a certain number: blanks at the end if there are too few.
struct Padded<'a> {
    items: std::slice::Iter<'a, Rc<Node>>,
    left: usize,
    of: Reader<'a>,
}

impl<'de> SeqAccess<'de> for Padded<'_> {
    type Error = Error;

    fn next_element_seed<S: DeserializeSeed<'de>>(
        &mut self,
        seed: S,
    ) -> Result<Option<S::Value>, Error> {
        if self.left == 0 {
            return Ok(None);
        }
        self.left -= 1;
        let blank = Reader {
            node: None,
            ..self.of
        };
        let reader = self.items.next().map_or(blank, |node| self.of.child(node));
        seed.deserialize(reader).map(Some)
    }
}

/// The texts of a list written as one text.
struct Parts<'a> {
    parts: std::vec::IntoIter<Node>,
    of: Reader<'a>,
}

impl<'de> SeqAccess<'de> for Parts<'_> {
    type Error = Error;

    fn next_element_seed<S: DeserializeSeed<'de>>(
        &mut self,
        seed: S,
    ) -> Result<Option<S::Value>, Error> {
        let Some(node) = self.parts.next() else {
            return Ok(None);
        };
        seed.deserialize(Reader {
            node: Some(&node),
            pos: node.pos,
            ..self.of
        })
        .map(Some)
    }
}

/// All the keys a type has, with a blank for those that are not there.
struct Fields<'a> {
    names: std::slice::Iter<'static, &'static str>,
    value: Option<Reader<'a>>,
    of: Reader<'a>,
}

impl<'de> MapAccess<'de> for Fields<'_> {
    type Error = Error;

    fn next_key_seed<S: DeserializeSeed<'de>>(
        &mut self,
        seed: S,
    ) -> Result<Option<S::Value>, Error> {
        let Some(name) = self.names.next() else {
            return Ok(None);
        };
        let entries: &[_] = if let Some(Shape::Map(entries)) = self.of.shape() {
            entries
        } else {
            &[]
        };
        let node = entries
            .iter()
            .find(|(key, _)| key.name == *name)
            .map(|(_, node)| &**node);
        let pos = node.map_or(self.of.pos, |n| n.pos);
        self.value = Some(Reader {
            node,
            pos,
            name,
            ..self.of
        });
        let name: serde::de::value::StrDeserializer<'_, Error> = (*name).into_deserializer();
        seed.deserialize(name).map(Some)
    }

    fn next_value_seed<S: DeserializeSeed<'de>>(&mut self, seed: S) -> Result<S::Value, Error> {
        let value = self
            .value
            .take()
            .ok_or_else(|| Error::custom("a value without a key"))?;
        seed.deserialize(value)
    }
}

/// The parts of an [`crate::input::at::At`], in the order that it asks for them.
struct AtParts<'a> {
    of: Reader<'a>,
    next: u8,
    errors: usize,
}

impl<'de> SeqAccess<'de> for AtParts<'_> {
    type Error = Error;

    fn next_element_seed<S: DeserializeSeed<'de>>(
        &mut self,
        seed: S,
    ) -> Result<Option<S::Value>, Error> {
        self.next += 1;
        let Pos { file, line, column } = self.of.pos;
        let number = |n: u32| -> serde::de::value::U32Deserializer<Error> { n.into_deserializer() };
        match self.next {
            1 => seed.deserialize(number(file)),
            2 => seed.deserialize(number(line)),
            3 => seed.deserialize(number(column)),
            4 => seed.deserialize(self.of),
            _ => {
                let sound = self.of.node.is_some() && self.errors == self.of.log.errors();
                let sound: serde::de::value::BoolDeserializer<Error> = sound.into_deserializer();
                seed.deserialize(sound)
            }
        }
        .map(Some)
    }
}

/// Finds out the keys of a type by asking it to read itself.
struct FieldsOnly<'a>(&'a mut &'static [&'static str]);

impl<'de> Deserializer<'de> for FieldsOnly<'_> {
    type Error = Error;

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _name: &'static str,
        fields: &'static [&'static str],
        _visitor: V,
    ) -> Result<V::Value, Error> {
        *self.0 = fields;
        Err(Error::custom("only the keys were wanted"))
    }

    fn deserialize_any<V: Visitor<'de>>(self, _visitor: V) -> Result<V::Value, Error> {
        Err(Error::custom("not a type with keys"))
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf option unit unit_struct
        newtype_struct seq tuple tuple_struct map enum identifier ignored_any
    }
}
