//! The frame of every page: self-contained, no network, and readable and printable without its one small script, which only shows on
//! tap what a mouse shows on hovering.
//!
//! `maud` escapes every text by type; what is put in unescaped is the pages' own style and script, constants.

use crate::report::map;
use crate::report::words::Words;
use maud::{DOCTYPE, Markup, PreEscaped, html};

/// The style of all pages.
const STYLE: &str = include_str!("page.css");
/// The comfort.
const SCRIPT: &str = include_str!("tip.js");

/// A whole page. `definitions` are drawings that others refer to.
pub(in crate::report) fn page(
    words: &Words,
    title: &str,
    class: &str,
    style: &str,
    definitions: &Markup,
    body: &Markup,
) -> String {
    let page = html! {
        (DOCTYPE)
        html lang=(words.language().code()) class=(class) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (title) }
                style { (PreEscaped(STYLE)) (PreEscaped(map::STYLE)) (PreEscaped(style)) }
            }
            body {
                svg.defs width="0" height="0" aria-hidden="true" focusable="false" { defs { (definitions) } }
                (body)
                script { (PreEscaped(SCRIPT)) }
            }
        }
    };
    page.into_string()
}
