//! Sites of one hall in which a room takes as many minutes as it has desks and nothing else takes time: whatever is asked of them can be
//! worked out with pencil and paper.

use crate::common::read_text;
use evenrun::site::Site;
use std::fmt::Write;

/// Rooms `R1`, `R2`, ... with these minutes, and people `A`, `B`, ... from 17:00 to 22:00, so 300 minutes each.
pub(crate) fn desks(minutes: &[u32], people: usize, more: &str) -> Site {
    read_text(&desks_text(minutes, people, more))
}

/// The same as it is written; `more` are further lines of the site.
pub(crate) fn desks_text(minutes: &[u32], people: usize, more: &str) -> String {
    let names: Vec<String> = (1..=minutes.len()).map(|n| format!("R{n}")).collect();
    let mut text = format!(
        "site: Desks\ndate: 2026-03-10\nbuiltin_standard: false\nfloors: [{{id: G}}]\n\
         halls: [{{id: H, floor: G, spacing_m: 4, places: [door, {}]}}]\nplaces: [{{id: door}}]\n\
         standard:\n  - kind: office\n    tasks:\n      - {{task: wipe desks, how: wipe, min: 1, per: desks, when: daily}}\n",
        names.join(", ")
    );
    if !more.contains("policy:") {
        text += "policy: {speeds: {walking: false}, band_percent: 0.01}\n";
    }
    text += "crew:\n";
    for person in ('A'..='Z').take(people) {
        let _ = writeln!(
            text,
            "  - {{name: {person}, shift: \"17:00-22:00\", days: daily, start: door}}"
        );
    }
    text += "rooms:\n";
    for (name, desks) in names.iter().zip(minutes) {
        let _ = writeln!(
            text,
            "  - {{id: {name}, kind: office, area_m2: 10, desks: {desks}}}"
        );
    }
    text + more
}
