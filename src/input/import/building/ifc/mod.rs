//! A building from an IFC file (ISO 16739-1; versions 2x3 and 4 alike): storeys, spaces with their areas, doors between them, stairs and lifts.

mod step;

use super::plan::{Building, Riser, Space, Storey};
use crate::input::import::table::whole;
use crate::input::limits::SPACES;
use crate::input::log::Log;
use crate::units::METRES_PER_FOOT;
use std::collections::{BTreeMap, BTreeSet};
use step::{Entity, entities};

/// The entities that say something of rooms.
const WANTED: [&str; 21] = [
    "IFCBUILDING",
    "IFCBUILDINGSTOREY",
    "IFCSPACE",
    "IFCDOOR",
    "IFCDOORSTANDARDCASE",
    "IFCSTAIR",
    "IFCSTAIRFLIGHT",
    "IFCRAMP",
    "IFCTRANSPORTELEMENT",
    "IFCRELAGGREGATES",
    "IFCRELSPACEBOUNDARY",
    "IFCRELSPACEBOUNDARY1STLEVEL",
    "IFCRELSPACEBOUNDARY2NDLEVEL",
    "IFCRELCONTAINEDINSPATIALSTRUCTURE",
    "IFCRELDEFINESBYPROPERTIES",
    "IFCELEMENTQUANTITY",
    "IFCQUANTITYAREA",
    "IFCSIUNIT",
    "IFCCONVERSIONBASEDUNIT",
    "IFCMEASUREWITHUNIT",
    "IFCUNITASSIGNMENT",
];

type Entities = BTreeMap<u32, Entity>;

/// The building of a file; `None` if the log says what is wrong.
pub(super) fn read(file: u32, text: &str, log: &Log) -> Option<Building> {
    let all = entities(file, text, &WANTED, log)?;
    let metre = length_unit(&all);
    let storeys = storeys(&all, metre);
    let parents = parents(&all);
    let storey_of = |id: u32| {
        let home = above(id, &parents).find_map(|up| storeys.iter().position(|(s, _)| *s == up));
        home.or((storeys.len() == 1).then_some(0))
    };
    let (spaces, index) = spaces(&all, &storey_of, log);
    if spaces.is_empty() || spaces.len() > SPACES {
        let found = spaces.len();
        let message =
            format!("the file has {found} spaces on storeys; from 1 to {SPACES} can be read");
        log.error(
            "I504",
            whole(file),
            message,
            "export the building with its spaces (rooms)",
        );
        return None;
    }
    let named = all
        .values()
        .filter(|e| e.kind == "IFCBUILDING")
        .map(|e| e.text(2));
    let mut building = Building {
        name: named.into_iter().find(|n| !n.is_empty()),
        spaces,
        ..Building::default()
    };
    joins(&all, &index, metre, &mut building);
    let risers = all
        .iter()
        .filter(|(_, e)| matches!(e.kind.as_str(), "IFCSTAIR" | "IFCTRANSPORTELEMENT"));
    building.risers = risers
        .filter_map(|(id, e)| riser(*id, e, &storeys, storey_of(*id), &parents, &index))
        .collect();
    building.storeys = storeys.into_iter().map(|(_, s)| s).collect();
    Some(building)
}

/// Storeys by their numbers, lowest first.
fn storeys(all: &Entities, metre: f64) -> Vec<(u32, Storey)> {
    let found = all.iter().filter(|(_, e)| e.kind == "IFCBUILDINGSTOREY");
    let storey = |e: &Entity| Storey {
        name: e.text(2),
        elevation: e.number(9).unwrap_or(0.0) * metre,
    };
    let mut storeys: Vec<(u32, Storey)> = found.map(|(id, e)| (*id, storey(e))).collect();
    storeys.sort_by(|a, b| a.1.elevation.total_cmp(&b.1.elevation));
    storeys
}

/// Spaces, and where each is among them by its number.
fn spaces(
    all: &Entities,
    storey_of: &dyn Fn(u32) -> Option<usize>,
    log: &Log,
) -> (Vec<Space>, BTreeMap<u32, usize>) {
    let square = area_unit(all);
    let areas = areas(all);
    let mut spaces = Vec::new();
    let mut index = BTreeMap::new();
    for (id, e) in all.iter().filter(|(_, e)| e.kind == "IFCSPACE") {
        let Some(storey) = storey_of(*id) else {
            let message = format!("space `{}` is on no storey: left out", e.text(2));
            log.warning(
                "I911",
                e.pos,
                message,
                "put it on a storey in the building model",
            );
            continue;
        };
        index.insert(*id, spaces.len());
        let told = Some(e.text(7)).filter(|name| !name.is_empty());
        spaces.push(Space {
            id: e.text(2),
            name: told.unwrap_or_else(|| e.text(3)),
            storey,
            area: areas.get(id).map(|a| a * square),
            usage: e.text(4),
            pos: e.pos,
            ..Space::default()
        });
    }
    (spaces, index)
}

/// Metres in one unit of length.
fn length_unit(all: &Entities) -> f64 {
    unit(all, "LENGTHUNIT").map_or(1.0, |unit| in_si(all, unit, 1))
}

/// Square metres in one unit of area.
fn area_unit(all: &Entities) -> f64 {
    unit(all, "AREAUNIT").map_or(1.0, |unit| in_si(all, unit, 2))
}

/// The unit of a kind that the project uses.
fn unit<'a>(all: &'a Entities, kind: &str) -> Option<&'a Entity> {
    let assigned = all
        .values()
        .filter(|e| e.kind == "IFCUNITASSIGNMENT")
        .flat_map(|e| e.references(0));
    assigned
        .filter_map(|id| all.get(&id))
        .find(|e| e.word(1) == kind)
}

/// Metres in a unit, or square metres if it has two dimensions.
fn in_si(all: &Entities, unit: &Entity, dimensions: i32) -> f64 {
    /// Factors beyond these are no unit of a building.
    const FACTORS: std::ops::RangeInclusive<f64> = 1e-9..=1e9;
    let prefixed = |e: &Entity| {
        let metres: f64 = match e.word(2) {
            "MILLI" => 0.001,
            "CENTI" => 0.01,
            "DECI" => 0.1,
            _ => 1.0,
        };
        metres.powi(dimensions)
    };
    if unit.kind == "IFCSIUNIT" {
        return prefixed(unit);
    }
    let told = || {
        let measure = all.get(&unit.reference(3)?)?;
        let base = all.get(&measure.reference(1)?)?;
        Some(measure.number(0)? * prefixed(base))
    };
    let name = unit.text(2).to_lowercase();
    let named: f64 = if name.contains("foot") || name.contains("feet") {
        METRES_PER_FOOT
    } else if name.contains("inch") {
        METRES_PER_FOOT / 12.0
    } else {
        1.0
    };
    told()
        .filter(|factor| FACTORS.contains(factor))
        .unwrap_or(named.powi(dimensions))
}

/// What each thing is part of, or contained in.
fn parents(all: &Entities) -> BTreeMap<u32, u32> {
    let mut parents = BTreeMap::new();
    for e in all.values() {
        let (whole, parts) = match e.kind.as_str() {
            "IFCRELAGGREGATES" => (e.reference(4), e.references(5)),
            "IFCRELCONTAINEDINSPATIALSTRUCTURE" => (e.reference(5), e.references(4)),
            _ => continue,
        };
        // A relation to nothing tells nothing.
        if let Some(whole) = whole {
            parents.extend(parts.into_iter().map(|part| (part, whole)));
        }
    }
    parents
}

/// Everything above a thing; a circle ends where it closes.
fn above(id: u32, parents: &BTreeMap<u32, u32>) -> impl Iterator<Item = u32> + '_ {
    let mut seen = BTreeSet::new();
    let up = move |id: &u32| parents.get(id).copied().filter(|up| seen.insert(*up));
    std::iter::successors(Some(id), up).skip(1)
}

/// Floor areas in square metres: the net one if there are several.
fn areas(all: &Entities) -> BTreeMap<u32, f64> {
    let mut areas: BTreeMap<u32, (u8, f64)> = BTreeMap::new();
    for e in all
        .values()
        .filter(|e| e.kind == "IFCRELDEFINESBYPROPERTIES")
    {
        let Some(set) = e
            .reference(5)
            .and_then(|id| all.get(&id))
            .filter(|s| s.kind == "IFCELEMENTQUANTITY")
        else {
            continue;
        };
        let quantities = set
            .references(5)
            .into_iter()
            .filter_map(|id| all.get(&id))
            .filter(|q| q.kind == "IFCQUANTITYAREA");
        let floor = quantities.filter_map(|q| {
            let rank = match q.text(0).as_str() {
                "NetFloorArea" => 0,
                "GrossFloorArea" => 1,
                name if name.to_lowercase().contains("floorarea") => 2,
                _ => return None,
            };
            q.number(3).filter(|a| *a > 0.0).map(|a| (rank, a))
        });
        let Some(best) = floor.min_by_key(|(rank, _)| *rank) else {
            continue;
        };
        for space in e.references(4) {
            let known = areas.entry(space).or_insert(best);
            if best.0 < known.0 {
                *known = best;
            }
        }
    }
    areas
        .into_iter()
        .map(|(id, (_, area))| (id, area))
        .collect()
}

/// Spaces that share a door or an open boundary are joined; one that has a door to itself leads out.
fn joins(all: &Entities, index: &BTreeMap<u32, usize>, metre: f64, building: &mut Building) {
    let mut sides: BTreeMap<u32, BTreeSet<usize>> = BTreeMap::new();
    for e in all
        .values()
        .filter(|e| e.kind.starts_with("IFCRELSPACEBOUNDARY"))
    {
        let (Some(space), Some(element)) =
            (e.reference(4).and_then(|s| index.get(&s)), e.reference(5))
        else {
            continue;
        };
        let is_door = all
            .get(&element)
            .is_some_and(|d| d.kind.starts_with("IFCDOOR"));
        if is_door || e.word(7) == "VIRTUAL" {
            sides.entry(element).or_default().insert(*space);
        }
    }
    for (element, spaces) in sides {
        let door = all.get(&element).filter(|d| d.kind.starts_with("IFCDOOR"));
        // Clear width is what the frame leaves: it is not told, so the whole width is taken.
        let width = door
            .and_then(|d| d.number(9))
            .map(|w| w * metre)
            .filter(|w| *w > 0.3);
        let spaces: Vec<usize> = spaces.into_iter().collect();
        match spaces.as_slice() {
            [one] if door.is_some() => building.spaces[*one].leads_out = true,
            several => {
                let pairs = several
                    .windows(2)
                    .filter(|p| building.spaces[p[0]].storey == building.spaces[p[1]].storey);
                let pairs: Vec<_> = pairs.map(|p| (p[0], p[1], width)).collect();
                building.joins.extend(pairs);
            }
        }
    }
}

/// Stairs lead from the storey they stand on to the next one; a lift stops everywhere from there up.
fn riser(
    id: u32,
    e: &Entity,
    storeys: &[(u32, Storey)],
    storey: Option<usize>,
    parents: &BTreeMap<u32, u32>,
    index: &BTreeMap<u32, usize>,
) -> Option<Riser> {
    let first = storey?;
    // Escalators and moving walkways are no lifts.
    let is_lift =
        e.kind == "IFCTRANSPORTELEMENT" && !matches!(e.word(8), "ESCALATOR" | "MOVINGWALKWAY");
    let last = if is_lift {
        storeys.len() - 1
    } else {
        (first + 1).min(storeys.len() - 1)
    };
    if first == last {
        return None;
    }
    Some(Riser {
        name: e.text(2),
        is_lift,
        spaces: above(id, parents)
            .filter_map(|up| index.get(&up).copied())
            .collect(),
        storeys: (first..=last).collect(),
    })
}
