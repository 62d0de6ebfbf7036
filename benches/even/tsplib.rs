//! Points in the format of TSPLIB: `NAME: ...`, `EDGE_WEIGHT_TYPE: EUC_2D`, and after `NODE_COORD_SECTION` a line of number, x and y
//! for each city.

use std::path::Path;

/// Cities of the plane; tours start at the first.
#[derive(Clone, Debug)]
pub(crate) struct Cities {
    pub(crate) name: String,
    pub(crate) points: Vec<(f64, f64)>,
}

impl Cities {
    pub(crate) fn distance(&self, from: usize, to: usize) -> f64 {
        let (a, b) = (self.points[from], self.points[to]);
        (a.0 - b.0).hypot(a.1 - b.1)
    }
}

pub(crate) fn read(file: &Path) -> Result<Cities, String> {
    let text = std::fs::read_to_string(file).map_err(|e| format!("{}: {e}", file.display()))?;
    parse(&text).map_err(|e| format!("{}: {e}", file.display()))
}

fn parse(text: &str) -> Result<Cities, String> {
    let mut lines = text.lines().map(str::trim);
    let mut name = String::from("unnamed");
    for line in lines.by_ref() {
        let (key, value) = line.split_once(':').unwrap_or((line, ""));
        match (key.trim(), value.trim()) {
            ("NODE_COORD_SECTION", _) => break,
            ("NAME", value) => value.clone_into(&mut name),
            ("EDGE_WEIGHT_TYPE", kind) if kind != "EUC_2D" => {
                return Err(format!("distances are {kind}; only EUC_2D is read"));
            }
            _ => {}
        }
    }
    let points: Vec<(f64, f64)> = lines
        .map_while(|line| {
            let mut words = line.split_whitespace().skip(1).map(str::parse);
            Some((words.next()?.ok()?, words.next()?.ok()?))
        })
        .collect();
    if points.len() < 2 {
        return Err("no points after NODE_COORD_SECTION".to_owned());
    }
    Ok(Cities { name, points })
}
