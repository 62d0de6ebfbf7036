//! The exchange structure of STEP (ISO 10303-21): numbered entities with their parameters. A reader of the whole schema would be a hundred
//! times as large; what is wanted of a building are a dozen of its thousand entities.

use crate::input::limits::{ELEMENTS, ENTITY_DEPTH};
use crate::input::log::{Log, Pos};
use std::collections::BTreeMap;

/// A parameter.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Value {
    /// `$` or `*`.
    None,
    /// `#12`
    Ref(u32),
    Number(f64),
    Text(String),
    /// `.METRE.`
    Word(String),
    List(Vec<Value>),
    /// `IFCLABEL('x')`
    Typed(Vec<Value>),
}

/// An entity.
#[derive(Clone, Debug)]
pub(super) struct Entity {
    /// In capitals.
    pub(super) kind: String,
    pub(super) values: Vec<Value>,
    pub(super) pos: Pos,
}

impl Entity {
    /// A reference.
    pub(super) fn reference(&self, index: usize) -> Option<u32> {
        match self.values.get(index) {
            Some(Value::Ref(id)) => Some(*id),
            _ => None,
        }
    }

    /// References, of a list or a single one.
    pub(super) fn references(&self, index: usize) -> Vec<u32> {
        match self.values.get(index) {
            Some(Value::Ref(id)) => vec![*id],
            Some(Value::List(list)) => {
                let ids = list.iter().map(|v| {
                    if let Value::Ref(id) = v {
                        Some(*id)
                    } else {
                        None
                    }
                });
                ids.flatten().collect()
            }
            _ => Vec::new(),
        }
    }

    /// A text, empty if there is none.
    pub(super) fn text(&self, index: usize) -> String {
        match self.values.get(index) {
            Some(Value::Text(text)) => text.trim().to_string(),
            Some(Value::Typed(inner)) => match inner.first() {
                Some(Value::Text(text)) => text.trim().to_string(),
                _ => String::new(),
            },
            _ => String::new(),
        }
    }

    /// A number.
    pub(super) fn number(&self, index: usize) -> Option<f64> {
        match self.values.get(index) {
            Some(Value::Number(number)) => Some(*number),
            Some(Value::Typed(inner)) => match inner.first() {
                Some(Value::Number(number)) => Some(*number),
                _ => None,
            },
            _ => None,
        }
    }

    /// A fixed word.
    pub(super) fn word(&self, index: usize) -> &str {
        match self.values.get(index) {
            Some(Value::Word(word)) => word,
            _ => "",
        }
    }
}

/// The entities of a file whose names are wanted, by their numbers; `None` if the log says what is wrong.
pub(super) fn entities(
    file: u32,
    text: &str,
    wanted: &[&str],
    log: &Log,
) -> Option<BTreeMap<u32, Entity>> {
    let mut reader = Reader {
        text,
        at: 0,
        file,
        line: 1,
        line_start: 0,
    };
    reader.pass_header(log)?;
    let again = "export it again";
    let mut found = BTreeMap::new();
    for count in 0.. {
        reader.blank();
        if text[reader.at..].starts_with("ENDSEC") {
            break;
        }
        let pos = reader.pos();
        if count >= ELEMENTS {
            let message = format!("the file has more than {ELEMENTS} entities");
            log.error("I502", pos, message, "export fewer storeys at a time");
            return None;
        }
        let Some((id, entity)) = reader.entity(wanted) else {
            let (pos, message) = if reader.at >= text.len() {
                (pos, "the file ends in the middle: it is cut off")
            } else {
                (reader.pos(), "this is no entity of a STEP file")
            };
            log.error("I503", pos, message.to_string(), again);
            return None;
        };
        if let Some(entity) = entity
            && found.insert(id, entity).is_some()
        {
            log.error(
                "I503",
                pos,
                format!("the number #{id} is given twice"),
                again,
            );
            return None;
        }
    }
    Some(found)
}

struct Reader<'a> {
    text: &'a str,
    at: usize,
    file: u32,
    line: u32,
    line_start: usize,
}

impl Reader<'_> {
    fn pos(&self) -> Pos {
        let column = self
            .text
            .get(self.line_start..self.at)
            .map_or(0, |t| t.chars().count());
        Pos {
            file: self.file,
            line: self.line,
            column: column as u32 + 1,
        }
    }

    /// Passes the header.
    fn pass_header(&mut self, log: &Log) -> Option<()> {
        self.blank();
        if !self.text[self.at..].starts_with("ISO-10303-21") {
            let hint = "export the building as IFC (.ifc, a STEP file), not as ifcXML or ifcZIP";
            log.error("I501", self.pos(), "this is no STEP file".to_string(), hint);
            return None;
        }
        let Some(data) = self.text.find("DATA;") else {
            let message = "the file has no DATA section: it is cut off".to_string();
            log.error("I503", self.pos(), message, "export it again");
            return None;
        };
        self.skip_to(data + "DATA;".len());
        Some(())
    }

    fn peek(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    fn next(&mut self) -> Option<u8> {
        let byte = self.peek()?;
        self.at += 1;
        if byte == b'\n' {
            self.line += 1;
            self.line_start = self.at;
        }
        Some(byte)
    }

    fn skip_to(&mut self, at: usize) {
        while self.at < at && self.next().is_some() {}
    }

    /// Passes blanks and comments.
    fn blank(&mut self) {
        while let Some(byte) = self.peek() {
            if byte.is_ascii_whitespace() {
                self.next();
            } else if self.text[self.at..].starts_with("/*") {
                let end = self.text[self.at..]
                    .find("*/")
                    .map_or(self.text.len(), |e| self.at + e + 2);
                self.skip_to(end);
            } else {
                return;
            }
        }
    }

    fn take(&mut self, wanted: u8) -> Option<()> {
        self.blank();
        (self.next()? == wanted).then_some(())
    }

    fn digits(&mut self) -> Option<u32> {
        let start = self.at;
        while self.peek().is_some_and(|b| b.is_ascii_digit()) {
            self.next();
        }
        self.text[start..self.at].parse().ok()
    }

    fn name(&mut self) -> String {
        let start = self.at;
        while self
            .peek()
            .is_some_and(|b| b.is_ascii_alphanumeric() || b == b'_')
        {
            self.next();
        }
        self.text[start..self.at].to_uppercase()
    }

    /// `#12 = IFCDOOR(...);` An entity that is not wanted is passed over.
    fn entity(&mut self, wanted: &[&str]) -> Option<(u32, Option<Entity>)> {
        let pos = self.pos();
        self.take(b'#')?;
        let id = self.digits()?;
        self.take(b'=')?;
        self.blank();
        let kind = self.name();
        if !wanted.contains(&kind.as_str()) {
            self.pass()?;
            return Some((id, None));
        }
        self.take(b'(')?;
        let values = self.values(0)?;
        self.take(b';')?;
        Some((id, Some(Entity { kind, values, pos })))
    }

    /// Up to the semicolon that ends the entity, texts passed over.
    fn pass(&mut self) -> Option<()> {
        loop {
            match self.next()? {
                b'\'' => while self.next()? != b'\'' {},
                b';' => return Some(()),
                _ => {}
            }
        }
    }

    /// Values up to the bracket that ends them.
    fn values(&mut self, depth: usize) -> Option<Vec<Value>> {
        let mut values = Vec::new();
        if depth > ENTITY_DEPTH {
            return None;
        }
        self.blank();
        if self.peek()? == b')' {
            self.next();
            return Some(values);
        }
        loop {
            values.push(self.value(depth)?);
            self.blank();
            match self.next()? {
                b',' => {}
                b')' => return Some(values),
                _ => return None,
            }
        }
    }

    fn value(&mut self, depth: usize) -> Option<Value> {
        self.blank();
        match self.peek()? {
            b'$' | b'*' => {
                self.next();
                Some(Value::None)
            }
            b'#' => {
                self.next();
                self.digits().map(Value::Ref)
            }
            b'\'' => self.quoted().map(Value::Text),
            b'.' => {
                self.next();
                let word = self.name();
                self.take(b'.')?;
                Some(Value::Word(word))
            }
            b'(' => {
                self.next();
                self.values(depth + 1).map(Value::List)
            }
            b'"' => {
                self.next();
                while self.next()? != b'"' {}
                Some(Value::None)
            }
            b if b.is_ascii_alphabetic() => {
                self.name();
                self.take(b'(')?;
                self.values(depth + 1).map(Value::Typed)
            }
            _ => self.figure().map(Value::Number),
        }
    }

    fn figure(&mut self) -> Option<f64> {
        let start = self.at;
        while self
            .peek()
            .is_some_and(|b| b.is_ascii_digit() || matches!(b, b'+' | b'-' | b'.' | b'E' | b'e'))
        {
            self.next();
        }
        let number: f64 = self.text[start..self.at].parse().ok()?;
        number.is_finite().then_some(number)
    }

    /// A text with its escapes undone: `''`, `\X2\00FC\X0\`, `\X4\0001F9F9\X0\`, `\X\FC`, `\S\|`.
    fn quoted(&mut self) -> Option<String> {
        self.next();
        let start = self.at;
        let mut raw = String::new();
        loop {
            match self.next()? {
                b'\'' if self.peek() == Some(b'\'') => {
                    self.next();
                }
                b'\'' => break,
                _ => {}
            }
        }
        raw.push_str(&self.text[start..self.at - 1]);
        Some(unescaped(&raw.replace("''", "'")))
    }
}

fn unescaped(raw: &str) -> String {
    let mut text = String::new();
    let mut rest = raw;
    while let Some(at) = rest.find('\\') {
        text.push_str(&rest[..at]);
        rest = &rest[at..];
        if let Some((hex, after)) = rest
            .strip_prefix("\\X2\\")
            .and_then(|r| r.split_once("\\X0\\"))
        {
            let units: Vec<u16> = hex
                .as_bytes()
                .chunks(4)
                .filter_map(|c| u16::from_str_radix(std::str::from_utf8(c).ok()?, 16).ok())
                .collect();
            text.push_str(&String::from_utf16_lossy(&units));
            rest = after;
        } else if let Some((hex, after)) = rest
            .strip_prefix("\\X4\\")
            .and_then(|r| r.split_once("\\X0\\"))
        {
            let codes = hex.as_bytes().chunks(8);
            text.extend(codes.filter_map(|c| {
                char::from_u32(u32::from_str_radix(std::str::from_utf8(c).ok()?, 16).ok()?)
            }));
            rest = after;
        } else if let Some(code) = rest
            .strip_prefix("\\X\\")
            .and_then(|r| r.get(..2))
            .and_then(|h| u8::from_str_radix(h, 16).ok())
        {
            text.push(char::from(code));
            rest = &rest[5..];
        } else if let Some(c) = rest.strip_prefix("\\S\\").and_then(|r| r.chars().next()) {
            text.push(char::from_u32(u32::from(c) + 128).unwrap_or(c));
            rest = &rest[3 + c.len_utf8()..];
        } else {
            text.push('\\');
            rest = rest.strip_prefix("\\\\").unwrap_or(&rest[1..]);
        }
    }
    text.push_str(rest);
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn entities_are_read_with_their_values_and_escapes() {
        let text = "ISO-10303-21;\nHEADER;ENDSEC;\nDATA;\n#1=IFCWALL('it''s; (a) wall');/* not this */\n\
                    #2= IFCSPACE('x',#3,'K\\X2\\00FC\\X0\\che',$,(1.5,.A.,-2.E3),IFCLABEL('l'),*);\nENDSEC;\n";
        let log = Log::default();
        let found = entities(0, text, &["IFCSPACE"], &log).unwrap();
        assert_eq!(found.len(), 1);
        let space = &found[&2];
        assert_eq!(
            (space.pos.line, space.reference(1), space.text(2)),
            (5, Some(3), "Küche".to_string())
        );
        let list = vec![
            Value::Number(1.5),
            Value::Word("A".into()),
            Value::Number(-2000.0),
        ];
        assert_eq!(space.values[4], Value::List(list));
        assert_eq!((space.text(5), space.values.len()), ("l".to_string(), 7));
    }

    /// The parameters of the only entity of a file.
    fn values_of(parameters: &str) -> Entity {
        let text = format!("ISO-10303-21;\nDATA;\n#7 = IFCSPACE({parameters});\nENDSEC;\n");
        let log = Log::default();
        let mut found = entities(0, &text, &["IFCSPACE"], &log).unwrap_or_default();
        assert_eq!(log.into_problems(), [], "{parameters}");
        found.remove(&7).unwrap()
    }

    /// Control directives of strings as in ISO 10303-21, section 6.4.3 (the section is from memory).
    #[test]
    fn every_escape_of_a_text_is_undone() {
        for (written, meant) in [
            (r"Caf\S\i", "Caf\u{e9}"),
            (r"Caf\X\E9", "Caf\u{e9}"),
            (r"\X2\00C400D6\X0\ x", "\u{c4}\u{d6} x"),
            (r"\X4\0001F9F90000004B\X0\-1", "\u{1f9f9}K-1"),
            (r"a\\b", r"a\b"),
            (r"\X\zz", r"\X\zz"),
            ("Women''s", "Women's"),
            // What is cut off or no character is left as it is, or left out.
            (r"\X4\00D80000\X0\!", "!"),
            (r"\S\", r"\S\"),
        ] {
            assert_eq!(values_of(&format!("'{written}'")).text(0), meant);
        }
    }

    /// Forms of values as in ISO 10303-21: a typed one, a binary one, an empty list.
    #[test]
    fn values_of_every_form_are_read() {
        let entity = values_of(
            "IFCAREAMEASURE(0.5),IFCLABEL(' a '),IFCLABEL(2),IFCLABEL('b'),\"0A3F\",(),#12,(#3,$,#4),.T.",
        );
        assert_eq!(
            (entity.number(0), entity.text(1)),
            (Some(0.5), "a".to_string())
        );
        assert_eq!((entity.text(2), entity.number(3)), (String::new(), None));
        assert_eq!(
            (&entity.values[4], entity.text(4)),
            (&Value::None, String::new())
        );
        assert_eq!(entity.values[5], Value::List(Vec::new()));
        assert_eq!(
            (entity.references(6), entity.references(7)),
            (vec![12], vec![3, 4])
        );
        assert_eq!((entity.references(8), entity.word(8)), (Vec::new(), "T"));
        assert_eq!(
            (entity.reference(8), entity.number(8), entity.word(99)),
            (None, None, "")
        );
    }
}
