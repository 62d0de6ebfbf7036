//! Imported rooms put into a site that is there: its table of rooms is merged, and rooms on no hall get a guessed one. Everything else in
//! its files stays as it was written.

use super::floors::tidy;
use super::merge::{Changes, Present, merge};
use super::place::{Spot, halls, spot};
use super::rows::{Found, Rooms};
use crate::input::at::At;
use crate::input::draft::{Hall, hall_line, scalar};
use crate::input::files::{Instead, Text, read_sibling, read_text};
use crate::input::gather::gather;
use crate::input::import::insert::insert_items;
use crate::input::limits;
use crate::input::log::Log;
use crate::input::raw::RawSite;
use crate::input::tree::{Node, Shape, read_yaml};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// The table that rooms are moved to if the site's own file has them.
const BESIDE: &str = "rooms.csv";
/// Metres from an old hall to a guessed one (assumption).
const BETWEEN_HALLS: f64 = 6.0;

/// What becomes of the site's files.
#[derive(Debug, Default)]
pub(crate) struct Merged {
    pub(crate) changes: Changes,
    pub(crate) files: Vec<(PathBuf, String)>,
    /// Halls that were guessed for rooms on none.
    pub(crate) halls: Vec<String>,
    /// What is left to do by hand.
    pub(crate) advice: Vec<String>,
}

/// Merges; `None` if the log says why not.
pub(crate) fn into_site(main: &Path, text: &Text, rooms: &Rooms, log: &Log) -> Option<Merged> {
    let folder = main.parent().unwrap_or(Path::new(""));
    let node = read_yaml(text.file, &text.text, log)?;
    let listed = match &node.shape {
        Shape::Map(entries) => entries
            .iter()
            .find(|(k, _)| k.name == "rooms")
            .map(|(_, n)| n),
        _ => None,
    };
    let mut merged = Merged::default();
    match listed.map(|n| (&n.shape, n.pos)) {
        Some((Shape::Text(name), pos)) if ends_with_csv(name) => {
            let given = At {
                value: name.clone(),
                pos,
                sound: true,
            };
            let table = read_sibling(folder, &given, &Instead::new(), log)?;
            let mut present = read_csv(&table, log)?;
            merged.changes = merge(&mut present, &rooms.found);
            let path = folder.join(name);
            merged
                .files
                .push((path.clone(), present.csv(table.text.contains("\r\n"))));
            place(main, text, &path, rooms, &mut merged);
        }
        Some((Shape::List(items), _)) => beside(folder, items, rooms, &mut merged, log)?,
        // None are named yet.
        Some((Shape::Null, _)) | None => beside(folder, &[], rooms, &mut merged, log)?,
        Some((_, pos)) => {
            let hint = "name a CSV file, such as `rooms: rooms.csv`";
            log.error(
                "I308",
                pos,
                "rooms are imported into a CSV file only".to_string(),
                hint,
            );
            return None;
        }
    }
    closets(main, rooms, &mut merged);
    Some(merged)
}

/// The table of rooms of a site, its path, and whether its lines end as on Windows; `None` if the log says that it has none.
pub(crate) fn present_rooms(main: &Path, log: &Log) -> Option<(PathBuf, Present, bool)> {
    let text = read_text(main, limits::SITE_BYTES, log)?;
    let node = read_yaml(text.file, &text.text, log)?;
    let entries: &[_] = if let Shape::Map(entries) = &node.shape {
        entries
    } else {
        &[]
    };
    let rooms = entries
        .iter()
        .find(|(k, _)| k.name == "rooms")
        .map(|(_, n)| n);
    let Some((Shape::Text(name), pos)) = rooms
        .map(|n| (&n.shape, n.pos))
        .filter(|(s, _)| matches!(s, Shape::Text(n) if ends_with_csv(n)))
    else {
        let hint = "put the rooms into a CSV file first: `rooms: rooms.csv`";
        let message =
            "rooms stand in the site's own file, which imports leave as it is".to_string();
        log.error("I308", rooms.map_or(node.pos, |n| n.pos), message, hint);
        return None;
    };
    let folder = main.parent().unwrap_or(Path::new(""));
    let given = At {
        value: name.clone(),
        pos,
        sound: true,
    };
    let table = read_sibling(folder, &given, &Instead::new(), log)?;
    let crlf = table.text.contains("\r\n");
    Some((folder.join(name), read_csv(&table, log)?, crlf))
}

fn ends_with_csv(name: &str) -> bool {
    Path::new(name)
        .extension()
        .is_some_and(|e| e.eq_ignore_ascii_case("csv"))
}

fn read_csv(table: &Text, log: &Log) -> Option<Present> {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .from_reader(table.text.as_bytes());
    let mut rows = reader
        .records()
        .filter_map(Result::ok)
        .map(|r| r.iter().map(str::to_string).collect::<Vec<_>>());
    let Some(columns) = rows
        .next()
        .map(|c| c.iter().map(|n| n.trim().to_string()).collect::<Vec<_>>())
    else {
        return Some(Present::empty());
    };
    if !columns.iter().any(|c| c == "id") {
        let pos = crate::input::log::Pos {
            file: table.file,
            line: 1,
            column: 1,
        };
        log.error(
            "I308",
            pos,
            "the site's table of rooms has no column `id`".to_string(),
            "run `evenrun check` first",
        );
        return None;
    }
    Some(Present {
        columns,
        rows: rows.collect(),
    })
}

/// Rooms stand in the site's own file: they and the new ones go into a table beside it, and a person makes the change.
fn beside(
    folder: &Path,
    items: &[std::rc::Rc<Node>],
    rooms: &Rooms,
    merged: &mut Merged,
    log: &Log,
) -> Option<()> {
    let path = folder.join(BESIDE);
    if path.exists() {
        let pos = items.first().map(|n| n.pos).unwrap_or_default();
        let message = format!(
            "rooms stand in this file, and `{}` is there too",
            path.display()
        );
        log.error(
            "I308",
            pos,
            message,
            format!("write `rooms: {BESIDE}` in place of the list, or move that file away"),
        );
        return None;
    }
    let mut present = Present::empty();
    for item in items {
        let Shape::Map(entries) = &item.shape else {
            continue;
        };
        let mut row = Vec::new();
        for (key, value) in entries {
            let at = present
                .columns
                .iter()
                .position(|c| *c == key.name)
                .unwrap_or_else(|| {
                    present.columns.push(key.name.clone());
                    present.columns.len() - 1
                });
            if row.len() <= at {
                row.resize(at + 1, String::new());
            }
            row[at] = cell_of(value);
        }
        present.rows.push(row);
    }
    merged.changes = merge(&mut present, &rooms.found);
    merged.files.push((path, present.csv(false)));
    let (why, place) = if items.is_empty() {
        ("the site's own file names no rooms", "into it")
    } else {
        (
            "rooms stand in the site's own file",
            "in place of that list",
        )
    };
    merged.advice.push(format!(
        "{why}, and is left as it is: write `rooms: {BESIDE}` {place}, then import once more to put new rooms on halls"
    ));
    Some(())
}

fn cell_of(node: &Node) -> String {
    match &node.shape {
        Shape::Text(text) => text.clone(),
        Shape::List(items) => items
            .iter()
            .map(|i| cell_of(i))
            .collect::<Vec<_>>()
            .join("; "),
        Shape::Null | Shape::Map(_) => String::new(),
    }
}

/// Rooms on no hall are put on a guessed one for each floor, linked to a hall that is there.
fn place(main: &Path, text: &Text, table: &Path, rooms: &Rooms, merged: &mut Merged) {
    let instead: Instead = merged
        .files
        .iter()
        .filter(|(p, _)| p == table)
        .cloned()
        .collect();
    // Its problems are told by those who check the site.
    let Some(written) = gather(main, &instead, &Log::default()) else {
        return;
    };
    let site = &written.site;
    let placed = placed(site);
    let mut spots: BTreeMap<Spot, Vec<&Found>> = BTreeMap::new();
    let mut lost: Vec<String> = Vec::new();
    for room in rooms
        .found
        .iter()
        .filter(|r| !placed.contains(r.id.as_str()))
    {
        let floor =
            spot(room).and_then(|s| floor_of(site, &s.floor).map(|floor| Spot { floor, ..s }));
        match floor {
            Some(spot) => spots.entry(spot).or_default().push(room),
            None => lost.push(format!("`{}`", room.id)),
        }
    }
    if !lost.is_empty() {
        let named = lost.join(", ");
        merged.advice.push(format!(
            "nothing tells the floor of {named}: put them on a hall"
        ));
    }
    if spots.is_empty() {
        return;
    }
    let mut guessed = halls(&spots);
    for hall in &mut guessed {
        hall.id = free_name(&hall.id, site);
    }
    let lines: Vec<String> = guessed.iter().map(|hall| hall_line(hall, false)).collect();
    let joins: Vec<String> = guessed.iter().filter_map(|hall| link(hall, site)).collect();
    let changed =
        insert_items(&text.text, "halls", &lines).and_then(|t| insert_items(&t, "links", &joins));
    match changed {
        Some(changed) => {
            merged.halls = guessed.iter().map(|h| h.id.clone()).collect();
            merged.files.push((main.to_path_buf(), changed));
        }
        None => merged.advice.push(format!(
            "these halls are to be put into the site's own file by hand:\nhalls:\n{}links:\n{}",
            lines.concat(),
            joins.concat()
        )),
    }
}

fn placed(site: &RawSite) -> BTreeSet<&str> {
    let listed = site
        .halls
        .iter()
        .flat_map(|h| &h.places)
        .map(|p| p.value.trim());
    let at = site
        .halls
        .iter()
        .flat_map(|h| &h.places_at)
        .map(|p| p.place.value.trim());
    listed.chain(at).collect()
}

fn floor_of(site: &RawSite, floor: &str) -> Option<String> {
    let ids = || site.floors.iter().map(|f| f.id.value.trim());
    let same = ids()
        .find(|id| *id == floor)
        .or_else(|| ids().find(|id| tidy(id) == tidy(floor)));
    same.map(str::to_string)
}

fn free_name(id: &str, site: &RawSite) -> String {
    let taken = |name: &str| site.halls.iter().any(|h| h.id.value.trim() == name);
    let numbered = (2..).map(|n| format!("{id} ({n})"));
    std::iter::once(id.to_string())
        .chain(numbered)
        .find(|name| !taken(name))
        .unwrap_or_default()
}

fn link(hall: &Hall, site: &RawSite) -> Option<String> {
    let near = site
        .halls
        .iter()
        .find(|h| h.floor.value.trim() == hall.floor)?;
    Some(format!(
        "  - {{id: {}, landings: [{}, {}], length_m: {BETWEEN_HALLS}}} # guessed\n",
        scalar(&format!("to {}", hall.id)),
        scalar(&format!("{}@end", near.id.value.trim())),
        scalar(&format!("{}@start", hall.id))
    ))
}

fn closets(main: &Path, rooms: &Rooms, merged: &mut Merged) {
    let site = gather(main, &Instead::new(), &Log::default());
    let there = |id: &str| {
        site.as_ref()
            .is_some_and(|w| w.site.closets.iter().any(|c| c.id.value.trim() == id))
    };
    let missing: Vec<String> = rooms
        .closets
        .iter()
        .filter(|c| !there(&c.id))
        .map(|c| format!("`{}`", c.id))
        .collect();
    if !missing.is_empty() {
        merged.advice.push(format!(
            "left out, as they are custodial closets: {}; write them under `closets` and on a hall",
            missing.join(", ")
        ));
    }
}
