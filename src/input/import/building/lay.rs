//! Halls for a building of which it is known where spaces lie and which are joined: lines through the spaces that one walks through, with
//! the others along them.
//!
//! ```text
//!    101   103                      101  103
//!      \   /                         |    |
//!   c1--c2--c3--stairs   becomes   --o----o----o   one hall through c1, c2, c3, the others at their distances
//! ```

use super::plan::Building;
use crate::input::draft::{Hall, HallForm, Way};
use std::collections::{BTreeMap, BTreeSet, VecDeque};

/// Shortest hall, in metres: two points in one place are no line.
const SHORTEST: f64 = 0.1;

/// Halls, and where each space is.
#[derive(Clone, Debug, Default)]
pub(super) struct Laid {
    pub(super) halls: Vec<Hall>,
    pub(super) links: Vec<Way>,
    /// The spot of each space that has one: hall by index, and metres along it.
    pub(super) spots: BTreeMap<usize, (usize, f64)>,
}

/// Lays halls on one storey. `through` are spaces that one may walk through, `others` the rest; spaces that are joined to nothing get no spot.
pub(super) fn lay(building: &Building, storey: usize, through: &BTreeSet<usize>) -> Laid {
    let near = neighbours(building, storey);
    let mut spine: BTreeSet<usize> = through
        .iter()
        .copied()
        .filter(|s| near.contains_key(s))
        .collect();
    while let Some(more) = missing(&near, &spine) {
        spine.extend(more);
    }
    let mut laid = Laid::default();
    let trails = trails(building, &near, &spine);
    for trail in trails {
        add_hall(building, storey, &trail, &mut laid);
    }
    for (space, joined) in near.iter().filter(|(s, _)| !spine.contains(s)) {
        let spots = joined.iter().filter(|n| spine.contains(n));
        let nearest = spots.min_by(|a, b| {
            distance(building, *space, **a).total_cmp(&distance(building, *space, **b))
        });
        if let Some(spot) = nearest.and_then(|n| laid.spots.get(n).copied()) {
            laid.spots.insert(*space, spot);
        }
    }
    laid
}

fn neighbours(building: &Building, storey: usize) -> BTreeMap<usize, BTreeSet<usize>> {
    let mut near: BTreeMap<usize, BTreeSet<usize>> = BTreeMap::new();
    for (a, b, _) in &building.joins {
        if building.spaces[*a].storey == storey && a != b {
            near.entry(*a).or_default().insert(*b);
            near.entry(*b).or_default().insert(*a);
        }
    }
    near
}

/// Spaces that one has to walk through as well: the way from a space without a neighbour to walk through, or between two parts.
fn missing(near: &BTreeMap<usize, BTreeSet<usize>>, spine: &BTreeSet<usize>) -> Option<Vec<usize>> {
    let lonely = near
        .iter()
        .find(|(s, joined)| !spine.contains(s) && !joined.iter().any(|n| spine.contains(n)));
    if let Some((_, joined)) = lonely {
        let busiest = joined
            .iter()
            .max_by_key(|n| (near[n].len(), std::cmp::Reverse(**n)));
        return busiest.map(|n| vec![*n]);
    }
    for start in spine {
        // From the part that holds `start`, by any way, to another part.
        let part = reached(near, *start, &|s| spine.contains(&s));
        let mut before: BTreeMap<usize, usize> = BTreeMap::new();
        let mut waiting: VecDeque<usize> = part.iter().copied().collect();
        while let Some(here) = waiting.pop_front() {
            for next in &near[&here] {
                if part.contains(next) || before.contains_key(next) {
                    continue;
                }
                before.insert(*next, here);
                if spine.contains(next) {
                    let way = std::iter::successors(Some(*next), |s| before.get(s).copied());
                    return Some(way.filter(|s| !spine.contains(s)).collect());
                }
                waiting.push_back(*next);
            }
        }
    }
    None
}

fn reached(
    near: &BTreeMap<usize, BTreeSet<usize>>,
    start: usize,
    may: &dyn Fn(usize) -> bool,
) -> BTreeSet<usize> {
    let mut seen = BTreeSet::from([start]);
    let mut waiting = vec![start];
    while let Some(here) = waiting.pop() {
        for next in near[&here].iter().filter(|n| may(**n)) {
            if seen.insert(*next) {
                waiting.push(*next);
            }
        }
    }
    seen
}

fn distance(building: &Building, a: usize, b: usize) -> f64 {
    match (building.spaces[a].at, building.spaces[b].at) {
        (Some(a), Some(b)) => (a.0 - b.0).hypot(a.1 - b.1),
        _ => 0.0,
    }
}

/// Every join of two spaces that one walks through, each once, in as long trails as they come: from ends first, and straight on where there
/// is a choice.
fn trails(
    building: &Building,
    near: &BTreeMap<usize, BTreeSet<usize>>,
    spine: &BTreeSet<usize>,
) -> Vec<Vec<usize>> {
    let mut left: BTreeSet<(usize, usize)> = BTreeSet::new();
    for (a, joined) in near.iter().filter(|(a, _)| spine.contains(a)) {
        left.extend(
            joined
                .iter()
                .filter(|b| spine.contains(b))
                .map(|b| (*a.min(b), *a.max(b))),
        );
    }
    let mut trails: Vec<Vec<usize>> = Vec::new();
    let degree = |left: &BTreeSet<(usize, usize)>, s: usize| {
        left.iter().filter(|(a, b)| *a == s || *b == s).count()
    };
    while !left.is_empty() {
        let ends = spine.iter().copied().filter(|s| degree(&left, *s) > 0);
        // An odd number of joins is where a trail has to begin or end; one is an end.
        let Some(start) =
            ends.min_by_key(|s| (degree(&left, *s) != 1, degree(&left, *s) % 2 == 0, *s))
        else {
            break;
        };
        let mut trail = vec![start];
        while let Some(next) = straight_on(building, &trail, &left) {
            let here = trail[trail.len() - 1];
            left.remove(&(here.min(next), here.max(next)));
            trail.push(next);
        }
        trails.push(trail);
    }
    let joined: BTreeSet<usize> = trails.iter().flatten().copied().collect();
    trails.extend(
        spine
            .iter()
            .filter(|s| !joined.contains(s))
            .map(|s| vec![*s]),
    );
    trails
}

fn straight_on(
    building: &Building,
    trail: &[usize],
    left: &BTreeSet<(usize, usize)>,
) -> Option<usize> {
    let here = trail[trail.len() - 1];
    let next = left.iter().filter_map(|(a, b)| {
        if *a == here {
            Some(*b)
        } else if *b == here {
            Some(*a)
        } else {
            None
        }
    });
    // A hall that came back to itself would have two spots for one space: another hall closes the ring.
    let next = next.filter(|n| !trail.contains(n));
    let direction =
        |from: usize, to: usize| match (building.spaces[from].at, building.spaces[to].at) {
            (Some(a), Some(b)) => (b.1 - a.1).atan2(b.0 - a.0),
            _ => 0.0,
        };
    let before = trail
        .len()
        .checked_sub(2)
        .map(|i| direction(trail[i], here));
    let turn = |to: usize| {
        before.map_or(0.0, |b| {
            let turn = (direction(here, to) - b).abs() % std::f64::consts::TAU;
            turn.min(std::f64::consts::TAU - turn)
        })
    };
    next.min_by(|a, b| turn(*a).total_cmp(&turn(*b)).then(a.cmp(b)))
}

/// A hall along a trail. Where it meets a hall that is there, a link of no length joins them.
fn add_hall(building: &Building, storey: usize, trail: &[usize], laid: &mut Laid) {
    let at = |space: usize| building.spaces[space].at.unwrap_or_default();
    let mut line: Vec<(f64, f64)> = Vec::new();
    let mut along = 0.0;
    let index = laid.halls.len();
    let floor = &building.storeys[storey].name;
    let id = format!("Hall {floor}-{}", index + 1);
    for space in trail {
        let here = at(*space);
        if let Some(last) = line.last() {
            along += (here.0 - last.0).hypot(here.1 - last.1);
        }
        line.push(here);
        if let Some((other, metres)) = laid.spots.get(space).copied() {
            laid.links.push(Way {
                id: format!("{id} at {along:.1} m"),
                landings: vec![spot(&laid.halls, other, metres), format!("{id}@{along:.2}")],
                length_m: Some(0.0),
                guessed: false,
            });
        } else {
            laid.spots.insert(*space, (index, along));
        }
    }
    if along < SHORTEST {
        // One space alone, or several in one place.
        let (x, y) = line.first().copied().unwrap_or_default();
        line = vec![(x, y), (x + 1.0, y)];
    }
    laid.halls.push(Hall {
        id,
        floor: floor.clone(),
        form: HallForm::Drawn {
            line,
            places: Vec::new(),
        },
        guessed: false,
    });
}

/// A spot as sites write it.
pub(super) fn spot(halls: &[Hall], hall: usize, metres: f64) -> String {
    let id = halls.get(hall).map_or("", |h| h.id.as_str());
    format!("{id}@{metres:.2}")
}
