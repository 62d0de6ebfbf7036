//! Best-known costs, from a table with the columns `instance` and `cost`.

use std::collections::BTreeMap;
use std::path::Path;

/// By name in capital letters, in tenths.
#[derive(Default)]
pub(crate) struct Best(BTreeMap<String, i64>);

impl Best {
    /// How far above the best-known cost a distance in tenths is, as a fraction; `None` if none is known.
    pub(crate) fn gap(&self, name: &str, distance: i64) -> Option<f64> {
        let best = self.0.get(&name.to_uppercase())?;
        Some(distance as f64 / *best as f64 - 1.0)
    }
}

pub(crate) fn read(file: &Path) -> Result<Best, String> {
    let wrong = |problem: String| format!("{}: {problem}", file.display());
    let mut table = csv::Reader::from_path(file).map_err(|e| wrong(e.to_string()))?;
    let headers = table.headers().map_err(|e| wrong(e.to_string()))?.clone();
    let column = |name: &str| {
        let at = headers.iter().position(|h| h == name);
        at.ok_or_else(|| wrong(format!("no column `{name}`")))
    };
    let (instance, cost) = (column("instance")?, column("cost")?);
    let mut best = BTreeMap::new();
    for row in table.records() {
        let row = row.map_err(|e| wrong(e.to_string()))?;
        if let Some(value) = row.get(cost).and_then(|c| c.parse::<f64>().ok()) {
            let name = row.get(instance).unwrap_or_default();
            best.insert(name.to_uppercase(), (10.0 * value).round() as i64);
        }
    }
    Ok(Best(best))
}
