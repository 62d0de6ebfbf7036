//! The lines of a floor's halls: as the site draws them, or laid out here.

use super::lay;
use super::way::Line;
use crate::site::{FloorId, HallId, Point, Site, WayKind};

/// The width a hall is drawn with, metres; site files do not say it.
pub(super) const WIDTH: f64 = 2.4;

/// Two halls of a floor that a way joins.
#[derive(Clone, Copy, Debug)]
pub(super) struct Join {
    /// Each hall with the distance along it.
    pub(super) ends: [(HallId, f64); 2],
    /// How far it is between them, metres.
    pub(super) length: f64,
    /// Whether it leads through the open.
    pub(super) outdoor: bool,
    /// The way, as an index of the site's list.
    pub(super) way: usize,
}

/// The lines of a floor's halls, in the order of the site, and whether all were given.
pub(super) fn lines(site: &Site, floor: FloorId) -> (Vec<(HallId, Line)>, bool) {
    let here: Vec<HallId> = (0..site.halls.len())
        .map(HallId::from)
        .filter(|h| site.halls[h.index()].floor == floor)
        .collect();
    let given = |hall: &HallId| {
        let line = site.halls[hall.index()].line.clone();
        line.filter(|line| line.len() > 1).map(Line)
    };
    let drawn: Vec<(HallId, Line)> = here
        .iter()
        .filter_map(|hall| given(hall).map(|line| (*hall, line)))
        .collect();
    let all_drawn = drawn.len() == here.len();
    let mut lines = drawn;
    lay::lay_out(site, &here, &joins(site, floor), &mut lines);
    lines.sort_by_key(|(hall, _)| *hall);
    (lines, all_drawn)
}

/// The level ways of a floor between its halls.
pub(super) fn joins(site: &Site, floor: FloorId) -> Vec<Join> {
    let mut joins = Vec::new();
    for (index, way) in site.ways.iter().enumerate() {
        let (length, outdoor) = match way.kind {
            WayKind::Link { length } | WayKind::Ramp { length } => (length.0, false),
            WayKind::Outdoor { length } => (length.0, true),
            WayKind::Stairs { .. } | WayKind::Lift { .. } => continue,
        };
        for pair in way.landings.windows(2) {
            let on_floor = |hall: HallId| site.halls[hall.index()].floor == floor;
            if pair.iter().all(|spot| on_floor(spot.hall)) {
                joins.push(Join {
                    ends: [0, 1].map(|i| (pair[i].hall, pair[i].along.0)),
                    length,
                    outdoor,
                    way: index,
                });
            }
        }
    }
    joins
}

/// The line of one hall.
pub(super) fn line_of(lines: &[(HallId, Line)], hall: HallId) -> Option<&Line> {
    lines.iter().find(|(h, _)| *h == hall).map(|(_, line)| line)
}

/// The point of a spot, if its hall is among the lines.
pub(super) fn point_of(lines: &[(HallId, Line)], hall: HallId, along: f64) -> Option<Point> {
    line_of(lines, hall).map(|line| line.at(along))
}
