//! The language, the clock and the measures that a reader has.
//!
//! Every sentence stands in a catalogue of messages (Fluent, one file per language, built in), never in the code. To add a
//! language: a catalogue with the same messages, a vocabulary of the built-in standard, and a variant of [`Language`].

mod dates;
mod figures;
mod vocabulary;
mod walks;

pub(super) use dates::day_of;
pub(super) use figures::short;

use crate::site::Site;
use fluent_bundle::{FluentArgs, FluentBundle, FluentResource, FluentValue};
use std::fmt;
use unic_langid::LanguageIdentifier;

/// A language that reports and cards can be printed in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Language {
    /// English, as the site files and the terminal.
    #[default]
    English,
    /// Spanish.
    Spanish,
}

impl Language {
    /// All of them.
    pub const ALL: [Language; 2] = [Language::English, Language::Spanish];

    /// Its code in BCP 47, such as `en`.
    pub fn code(self) -> &'static str {
        match self {
            Language::English => "en",
            Language::Spanish => "es",
        }
    }

    /// The language of a code.
    pub fn of_code(code: &str) -> Option<Language> {
        Language::ALL.into_iter().find(|l| l.code() == code)
    }

    /// Its catalogue of messages.
    pub fn catalogue(self) -> &'static str {
        match self {
            Language::English => include_str!("en.ftl"),
            Language::Spanish => include_str!("es.ftl"),
        }
    }
}

/// What everything is said with: a language, and whether figures are metric or US.
pub struct Words {
    language: Language,
    us_units: bool,
    messages: FluentBundle<FluentResource>,
}

impl fmt::Debug for Words {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Words({:?}, us: {})", self.language, self.us_units)
    }
}

impl Words {
    /// A language, with the measures and the clock of the site.
    pub fn new(language: Language, site: &Site) -> Words {
        Words::with_units(language, site.us_units)
    }

    /// For the terminal: English, metric, a clock of 24 hours.
    pub(super) fn terminal() -> Words {
        Words::with_units(Language::English, false)
    }

    fn with_units(language: Language, us_units: bool) -> Words {
        let id: LanguageIdentifier = language.code().parse().unwrap_or_default();
        let mut messages = FluentBundle::new(vec![id]);
        // Names are isolated where they are put in, by `bdi`; marks in plain text would end up in tables and calendars.
        messages.set_use_isolating(false);
        // A broken entry of a catalogue is left out, and the tests miss it.
        let resource = FluentResource::try_new(language.catalogue().to_string())
            .unwrap_or_else(|(partly, _)| partly);
        let _ = messages.add_resource(resource);
        Words {
            language,
            us_units,
            messages,
        }
    }

    /// The language.
    pub(super) fn language(&self) -> Language {
        self.language
    }

    /// A message without anything to fill in.
    pub(super) fn say(&self, id: &str) -> String {
        self.tell(id, &[])
    }

    /// A message with what it is about. A missing one shows its name, which the tests would see.
    pub(super) fn tell(&self, id: &str, about: &[(&str, FluentValue<'_>)]) -> String {
        let args: FluentArgs = about.iter().map(|(k, v)| (*k, v.clone())).collect();
        let pattern = self.messages.get_message(id).and_then(|m| m.value());
        pattern.map_or_else(
            || id.to_string(),
            |pattern| {
                self.messages
                    .format_pattern(pattern, Some(&args), &mut Vec::new())
                    .into_owned()
            },
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_catalogue_is_read_without_a_mistake() {
        for language in Language::ALL {
            let read = FluentResource::try_new(language.catalogue().to_string());
            assert!(read.is_ok(), "{language:?}: {:?}", read.err().map(|e| e.1));
            let words = Words::with_units(language, false);
            assert_eq!(words.say("no-such-message"), "no-such-message");
            assert_eq!(Language::of_code(language.code()), Some(language));
        }
    }
}
