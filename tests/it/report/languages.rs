//! Every message in every language: the same names, all of them used, and none of them shown in place of its text.

use super::{Made, with_hostile_names};
use evenrun::report::{Language, Words, cards, csv, html, ics};
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

/// The names of a catalogue's messages, in its order.
fn names(language: Language) -> Vec<&'static str> {
    let lines = language.catalogue().lines();
    let message = |line: &'static str| {
        let (name, _) = line.split_once(" =")?;
        let is_name = |c: char| c.is_ascii_lowercase() || c == '-';
        name.chars().all(is_name).then_some(name)
    };
    lines.filter_map(message).collect()
}

#[test]
fn every_language_has_the_same_messages_in_the_same_order() {
    let english = names(Language::English);
    assert!(english.len() > 150, "{}", english.len());
    let distinct: BTreeSet<_> = english.iter().collect();
    assert_eq!(distinct.len(), english.len(), "a name is used twice");
    for language in Language::ALL {
        assert_eq!(names(language), english, "{language:?}");
    }
}

/// What a message has to be told, by name.
fn placeables(language: Language) -> Vec<BTreeSet<String>> {
    let mut all = Vec::new();
    for line in language.catalogue().lines() {
        if line.starts_with(|c: char| c.is_ascii_lowercase()) {
            all.push(BTreeSet::new());
        }
        let names = line.split('$').skip(1).map(|rest| {
            let end = rest.find(|c: char| !c.is_alphanumeric());
            rest[..end.unwrap_or(rest.len())].to_string()
        });
        if let Some(last) = all.last_mut() {
            last.extend(names);
        }
    }
    all
}

#[test]
fn every_language_fills_in_the_same_things() {
    let english = placeables(Language::English);
    let spanish = placeables(Language::Spanish);
    for ((name, a), b) in names(Language::English).iter().zip(&english).zip(&spanish) {
        assert_eq!(a, b, "{name}");
    }
}

fn source(folder: &Path, text: &mut String) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            source(&path, text);
        } else if path.extension().is_some_and(|e| e == "rs") {
            *text += &fs::read_to_string(path).unwrap();
        }
    }
}

#[test]
fn every_message_is_used_somewhere() {
    let mut text = String::new();
    source(
        &Path::new(env!("CARGO_MANIFEST_DIR")).join("src/report"),
        &mut text,
    );
    for name in names(Language::English) {
        let named = text.contains(&format!("\"{name}\""));
        // Links of the report's sections are put together.
        let of_section = name
            .strip_prefix("nav-")
            .is_some_and(|rest| text.contains(&format!("\"{rest}\"")));
        assert!(named || of_section, "{name} is used nowhere");
    }
}

/// The texts of a page, without its tags, style and script.
fn texts(page: &str) -> Vec<String> {
    let body = page.split_once("<body>").unwrap().1;
    let body = body.split("<script>").next().unwrap();
    let pieces = body.split('<').filter_map(|piece| piece.split_once('>'));
    let texts = pieces.map(|(_, text)| text.trim().to_string());
    texts.filter(|text| !text.is_empty()).collect()
}

#[test]
fn no_name_of_a_message_is_shown_and_no_english_is_left_in_spanish() {
    let names: BTreeSet<&str> = names(Language::English)
        .into_iter()
        .filter(|n| n.contains('-'))
        .collect();
    let mut broken = Made::new("Larkfield", 2, &["Ana", "Bilal"]);
    broken.violations.push(evenrun::plan::Violation {
        rule: evenrun::plan::Rule::Work,
        worker: None,
        place: None,
        at: None,
        message: "x".into(),
        exchange: None,
    });
    for made in [
        Made::new("Larkfield", 2, &["Ana", "Bilal"]),
        broken,
        with_hostile_names(),
    ] {
        for language in Language::ALL {
            let words = Words::new(language, &made.site);
            let answer = made.answer();
            let mut shown = texts(&html(&answer, &words));
            shown.extend(texts(&cards(&answer, &words, true)));
            let files = [csv(&answer, &words), ics(&answer, &words)].concat();
            shown.extend(files.iter().flat_map(|f| f.text.lines().map(String::from)));
            for text in &shown {
                let words = text.split(|c: char| !c.is_ascii_lowercase() && c != '-');
                for word in words {
                    assert!(!names.contains(word), "{language:?}: {text}");
                }
            }
            if language == Language::Spanish {
                for english in [
                    "Take along",
                    "Fresh water",
                    "Close and",
                    "floor G",
                    "Walk to",
                    " wait ",
                ] {
                    assert!(!shown.iter().any(|t| t.contains(english)), "{english}");
                }
                assert!(
                    shown
                        .iter()
                        .any(|t| t.contains("martes, 10 de marzo de 2026"))
                );
            }
        }
    }
}
