//! Raw values that know where they were written.

use super::log::Pos;
use schemars::{JsonSchema, Schema, SchemaGenerator};
use serde::de::{Deserialize, Deserializer, Error, SeqAccess, Visitor};
use std::borrow::Cow;
use std::fmt;
use std::marker::PhantomData;

/// The name by which [`At`] asks the reader in [`super::tree`] for a position. No type of a file can have it.
pub(crate) const AT: &str = "\0at";

/// A value and where it was written.
#[derive(Clone, Debug, Default)]
pub(crate) struct At<T> {
    /// The value.
    pub(crate) value: T,
    /// Where.
    pub(crate) pos: Pos,
    /// Whether it was written and well formed. If not, a problem was reported, and nothing more need be said about it.
    pub(crate) sound: bool,
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for At<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<At<T>, D::Error> {
        deserializer.deserialize_newtype_struct(AT, AtVisitor(PhantomData))
    }
}

struct AtVisitor<T>(PhantomData<T>);

impl<'de, T: Deserialize<'de>> Visitor<'de> for AtVisitor<T> {
    type Value = At<T>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a value")
    }

    /// The reader hands over file, line, column, the value itself, and whether it was sound.
    fn visit_seq<A: SeqAccess<'de>>(self, mut parts: A) -> Result<At<T>, A::Error> {
        fn next<'de, T: Deserialize<'de>, A: SeqAccess<'de>>(parts: &mut A) -> Result<T, A::Error> {
            parts
                .next_element()?
                .ok_or_else(|| A::Error::custom("no position"))
        }
        let (file, line, column) = (next(&mut parts)?, next(&mut parts)?, next(&mut parts)?);
        let (value, sound) = (next(&mut parts)?, next(&mut parts)?);
        Ok(At {
            value,
            pos: Pos { file, line, column },
            sound,
        })
    }
}

impl<T: JsonSchema> JsonSchema for At<T> {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        T::schema_name()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        T::json_schema(generator)
    }
}

/// A list given in place, or the name of the file it is in.
#[derive(Clone, Debug)]
pub(crate) enum FileOr<T> {
    /// The name of a file in the site's folder.
    File(String),
    /// The list itself.
    List(Vec<T>),
}

impl<T> Default for FileOr<T> {
    fn default() -> FileOr<T> {
        FileOr::List(Vec::new())
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for FileOr<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<FileOr<T>, D::Error> {
        deserializer.deserialize_any(FileOrVisitor(PhantomData))
    }
}

struct FileOrVisitor<T>(PhantomData<T>);

impl<'de, T: Deserialize<'de>> Visitor<'de> for FileOrVisitor<T> {
    type Value = FileOr<T>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a list, or the name of a file")
    }

    fn visit_str<E: Error>(self, name: &str) -> Result<FileOr<T>, E> {
        Ok(FileOr::File(name.to_string()))
    }

    fn visit_unit<E: Error>(self) -> Result<FileOr<T>, E> {
        Ok(FileOr::List(Vec::new()))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<FileOr<T>, A::Error> {
        let mut list = Vec::new();
        while let Some(item) = items.next_element()? {
            list.push(item);
        }
        Ok(FileOr::List(list))
    }
}

impl<T: JsonSchema> JsonSchema for FileOr<T> {
    fn schema_name() -> Cow<'static, str> {
        format!("FileOr{}", T::schema_name()).into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let items = generator.subschema_for::<T>();
        schemars::json_schema!({
            "anyOf": [
                { "type": "string", "description": "the name of a file in the site's folder" },
                { "type": "array", "items": items }
            ]
        })
    }
}
