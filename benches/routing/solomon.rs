//! Solomon's text format: a name, the number and capacity of vehicles, and one line of seven numbers for the depot and each
//! customer.

use std::path::Path;

/// One line: the depot's or a customer's.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Point {
    pub(crate) x: f64,
    pub(crate) y: f64,
    pub(crate) demand: i32,
    /// Service may begin from then,
    pub(crate) ready: f64,
    /// to then.
    pub(crate) due: f64,
    pub(crate) service: f64,
}

/// An instance as it stands in its file.
#[derive(Clone, Debug)]
pub(crate) struct Routing {
    pub(crate) name: String,
    pub(crate) vehicles: usize,
    pub(crate) capacity: i32,
    /// The depot first.
    pub(crate) points: Vec<Point>,
}

impl Routing {
    /// Distance in tenths, truncated: the convention of the best-known values.
    pub(crate) fn distance(&self, from: usize, to: usize) -> i32 {
        let (a, b) = (self.points[from], self.points[to]);
        (10.0 * (a.x - b.x).hypot(a.y - b.y)).floor() as i32
    }
}

/// A time in tenths.
pub(crate) fn tenths(time: f64) -> i32 {
    (10.0 * time).round() as i32
}

pub(crate) fn read(file: &Path) -> Result<Routing, String> {
    let text = std::fs::read_to_string(file).map_err(|e| format!("{}: {e}", file.display()))?;
    parse(&text).ok_or_else(|| format!("{}: not in Solomon's format", file.display()))
}

fn parse(text: &str) -> Option<Routing> {
    let mut lines = text.lines().map(str::trim).filter(|l| !l.is_empty());
    let name = lines.next()?.to_owned();
    let numbers = |line: &str| -> Option<Vec<f64>> {
        let words = line.split_whitespace();
        words.map(|word| word.parse().ok()).collect()
    };
    let mut rows = lines.filter_map(numbers);
    let fleet = rows.next().filter(|row| row.len() == 2)?;
    let points: Vec<Point> = rows
        .map(|row| match row[..] {
            [_, x, y, demand, ready, due, service] => Some(Point {
                x,
                y,
                demand: demand as i32,
                ready,
                due,
                service,
            }),
            _ => None,
        })
        .collect::<Option<_>>()?;
    (points.len() > 1).then_some(Routing {
        name,
        vehicles: fleet[0] as usize,
        capacity: fleet[1] as i32,
        points,
    })
}
