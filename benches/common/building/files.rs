//! The files of a building, and the text of those that are neither rooms nor crew.

use super::Figures;
use super::layout::Layout;
use super::rooms::{MEN, Room, WOMEN};
use std::fmt::Write;
use std::path::Path;
use std::{fs, io};

/// A site's folder before it is written.
#[derive(Clone, Debug)]
pub(crate) struct Folder {
    pub(crate) site: String,
    pub(crate) rooms: String,
    pub(crate) standard: String,
    pub(crate) crew: String,
}

impl Folder {
    /// Writes the files into a folder, which is made if need be.
    pub(crate) fn write(&self, folder: &Path) -> io::Result<()> {
        fs::create_dir_all(folder)?;
        let files = [
            ("site.yaml", &self.site),
            ("rooms.csv", &self.rooms),
            ("standard.yaml", &self.standard),
            ("crew.yaml", &self.crew),
        ];
        files
            .into_iter()
            .try_for_each(|(name, text)| fs::write(folder.join(name), text))
    }
}

/// The site's own file.
pub(super) fn site(figures: Figures, layout: &Layout, rooms: &[Room]) -> String {
    let Figures {
        rooms: count,
        workers,
        floors,
        seed,
        plain,
    } = figures;
    let mut text = format!(
        "# Made up by a bench: {count} rooms, {workers} people, {floors} floors, seed {seed}. No real place.\n\
         site: Building {count}-{workers}-{floors}-{seed}\ndate: 2026-03-10 # a Tuesday\nbuiltin_standard: false\n\
         rooms: rooms.csv\nstandard: standard.yaml\ncrew: crew.yaml\n"
    );
    text += &layout.write(rooms);
    if plain {
        text +=
            "carts:\n  - {id: cart, width_m: 0.75}\npolicy: {set_up_min: 5, tear_down_min: 5}\n";
        return text;
    }
    let units = workers.div_ceil(8);
    let _ = write!(
        text,
        "access: [lab clearance]\nskills: [floor machine, alarm]\n\
         machines:\n  - {{id: scrubber, units: {units}, closet: closet 0}}\n\
         carts:\n  - {{id: cart, waste_l: 180, bucket_m2: 150, bucket_rooms: 3, width_m: 0.75}}\n\
         duties:\n  - {{name: take in the delivery, place: loading bay, min: 15, window: \"daily 17:00-18:30\"}}\n  \
         - {{name: lock up and set the alarm, place: crew base, min: 10, window: \"daily 23:30-24:30\", skills: [alarm], last: true}}\n\
         policy:\n  set_up_min: 5\n  tear_down_min: 5\n  fill_min: 2\n  dump_min: 2\n  fetch_min: 2\n  groups:\n"
    );
    for sex in [WOMEN, MEN] {
        write_groups(sex, rooms, &mut text);
    }
    text.push_str("  exit_pairs:\n");
    for floor in 0..floors.saturating_sub(1) {
        let corridor = layout.id(floor * layout.halls);
        let _ = writeln!(
            text,
            "    - [first stairs {floor}, last stairs {floor}]\n    - [corridor {corridor}, first stairs {floor}]"
        );
    }
    if floors < 2 {
        text = text.replace("  exit_pairs:\n", "");
    }
    text
}

/// Groups of two that lie near each other, the last one of three if need be.
fn write_groups(sex: &str, rooms: &[Room], text: &mut String) {
    let all: Vec<&Room> = rooms.iter().filter(|r| r.id.starts_with(sex)).collect();
    let groups = all.len() / 2;
    for group in 0..groups {
        let until = if group + 1 == groups {
            all.len()
        } else {
            2 * group + 2
        };
        let ids: Vec<String> = all[2 * group..until]
            .iter()
            .map(|r| format!("\"{}\"", r.id))
            .collect();
        let _ = writeln!(
            text,
            "    - {{name: \"{sex} {}\", rooms: [{}], keep_open: 1}}",
            group + 1,
            ids.join(", ")
        );
    }
}

/// The standard, with every `min` and `wipe_min` multiplied.
pub(super) fn standard(figures: Figures, scale: f64) -> String {
    let text = if figures.plain {
        include_str!("plain.yaml")
    } else {
        include_str!("standard.yaml")
    };
    let mut scaled = String::new();
    let mut rest = text;
    while let Some(at) = rest.find("min: ") {
        let (before, after) = rest.split_at(at + "min: ".len());
        scaled.push_str(before);
        let end = after.find([',', '}']).unwrap_or(after.len());
        let (figure, more) = after.split_at(end);
        rest = more;
        let fixed = before.ends_with("dwell_min: ")
            || before.ends_with("drying_min: ")
            || before.ends_with("reopen_min: ");
        match figure.parse::<f64>() {
            Ok(minutes) if !fixed => {
                let _ = write!(scaled, "{:.4}", minutes * scale);
            }
            _ => scaled.push_str(figure),
        }
    }
    scaled + rest
}
