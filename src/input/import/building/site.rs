//! A site of a building: rooms, halls, ways up, closets and people, each guess marked and told.

use super::lay::{Laid, lay, spot};
use super::plan::{Building, Space};
use crate::input::draft::{
    Closet, Draft, Floor, Hall, HallForm, Hand, Place, Way, crew_for, hands,
};
use crate::input::import::rooms::{CLOSET, Found, Meaning, meaning, natural, plain, short};
use crate::input::import::table::whole;
use crate::input::log::Log;
use crate::site::Site;
use std::collections::{BTreeMap, BTreeSet};

/// Area of a room of which nothing is known, in square metres (assumption).
const USUAL_AREA: f64 = 15.0;
/// Area of a piece of corridor of which nothing is known, in square metres (assumption).
const PASSAGE_AREA: f64 = 10.0;
/// Metres between parts of a storey that nothing joins (assumption).
const BETWEEN_PARTS: f64 = 5.0;
/// Names in one message.
const NAMED: usize = 8;
/// Where runs begin.
const ENTRANCE: &str = "entrance";
/// The kind of rooms that nothing tells anything of.
const USUAL_KIND: &str = "office";

/// What was made of a building.
#[derive(Debug, Default)]
pub(super) struct Made {
    pub(super) draft: Draft,
    /// Rooms for the table.
    pub(super) rooms: Vec<Found>,
    /// Closet of each floor that people begin at, where there is no lift.
    pub(super) starts: Vec<(String, String)>,
    /// How many spaces are joined to nothing and were left out.
    pub(super) isolated: usize,
}

/// What a space becomes.
#[derive(Clone, Debug, PartialEq)]
enum Role {
    Room(String),
    Closet,
    /// A landing of stairs or a lift that is no room of its own.
    Riser,
}

/// The site of a building, but for its crew.
pub(super) fn made(
    building: &Building,
    name: &str,
    source: &str,
    kinds: &[String],
    file: u32,
    log: &Log,
) -> Made {
    let maker = Maker {
        building,
        roles: roles(building, kinds, log),
        ids: ids(building),
        file,
        log,
    };
    maker.made(name, source)
}

/// An id for each space, no two alike.
fn ids(building: &Building) -> Vec<String> {
    let mut used: BTreeSet<String> = [ENTRANCE.to_string()].into();
    let mut ids = Vec::new();
    for (index, space) in building.spaces.iter().enumerate() {
        let own = if space.id.is_empty() {
            format!("space {}", index + 1)
        } else {
            space.id.clone()
        };
        let numbered = (2..).map(|n| format!("{own}-{n}"));
        let id = std::iter::once(own.clone())
            .chain(numbered)
            .find(|id| !used.contains(id))
            .unwrap_or(own);
        used.insert(id.clone());
        ids.push(id);
    }
    ids
}

fn roles(building: &Building, kinds: &[String], log: &Log) -> Vec<Role> {
    let mut degree = vec![0usize; building.spaces.len()];
    for (a, b, _) in &building.joins {
        degree[*a] += 1;
        degree[*b] += 1;
    }
    let landings: BTreeSet<usize> = building
        .risers
        .iter()
        .flat_map(|r| r.spaces.clone())
        .collect();
    let located = building.spaces.iter().all(|s| s.at.is_some());
    let mut guessed: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let role = |(index, space): (usize, &Space)| {
        let words = [&space.name, &space.usage, &space.id];
        let told = words
            .iter()
            .map(|w| meaning(w, kinds))
            .find(|m| *m != Meaning::Unknown);
        let kind = match told {
            Some(Meaning::Is(kind) | Meaning::Guessed(kind)) => kind,
            _ if landings.contains(&index) => return Role::Riser,
            // What one walks through, as far as a network without names can tell.
            _ if located && degree[index] >= 2 => {
                guessed
                    .entry("corridor".to_string())
                    .or_default()
                    .push(label(space));
                "corridor".to_string()
            }
            _ => {
                guessed
                    .entry(USUAL_KIND.to_string())
                    .or_default()
                    .push(label(space));
                USUAL_KIND.to_string()
            }
        };
        let is_lift = landings.contains(&index)
            && ["lift", "elevator"]
                .iter()
                .any(|w| plain(&space.name).contains(w));
        match kind.as_str() {
            _ if is_lift => Role::Riser,
            CLOSET => Role::Closet,
            _ => Role::Room(kind),
        }
    };
    let roles = building.spaces.iter().enumerate().map(role).collect();
    for (kind, spaces) in guessed {
        let message = format!(
            "nothing tells what kind of room these are; `{kind}` is taken: {}",
            named(&spaces)
        );
        log.warning(
            "I912",
            whole(building.spaces[0].pos.file),
            message,
            "put the kinds right in rooms.csv",
        );
    }
    roles
}

fn label(space: &Space) -> String {
    if space.name.is_empty() {
        space.id.clone()
    } else {
        format!("{} {}", space.id, space.name)
    }
}

fn named(all: &[String]) -> String {
    let some: Vec<String> = all
        .iter()
        .take(NAMED)
        .map(|n| format!("`{}`", n.trim()))
        .collect();
    let more = all.len().saturating_sub(NAMED);
    if more > 0 {
        format!("{} and {more} more", some.join(", "))
    } else {
        some.join(", ")
    }
}

struct Maker<'a> {
    building: &'a Building,
    roles: Vec<Role>,
    ids: Vec<String>,
    file: u32,
    log: &'a Log,
}

impl Maker<'_> {
    fn made(&self, name: &str, source: &str) -> Made {
        let draft = Draft {
            name: name.to_string(),
            notes: vec![
                format!(
                    "Made from {source}. What is marked `guessed` is not known: look at it, put it right, and take the mark away."
                ),
                "Run `evenrun check` after each change: it lists every mistake at once."
                    .to_string(),
            ],
            floors: self.floors(),
            ..Draft::default()
        };
        let mut made = Made {
            draft,
            ..Made::default()
        };
        let (first_spot, spot_of, isolated) = self.halls(&mut made.draft);
        made.isolated = isolated.len();
        if let Some(first) = isolated.first() {
            let names: Vec<String> = isolated
                .iter()
                .map(|s| label(&self.building.spaces[*s]))
                .collect();
            let message = format!("joined to nothing, and left out: {}", named(&names));
            let hint = "add them to rooms.csv and to a hall by hand";
            self.log
                .warning("I913", self.building.spaces[*first].pos, message, hint);
        }
        self.risers(&first_spot, &spot_of, &mut made.draft);
        self.rooms(&isolated, &mut made);
        self.places(&first_spot, &mut made);
        self.join_parts(&mut made.draft);
        made
    }

    /// Halls on every storey: the first spot of each storey, the spot of each space, and the spaces that are joined to nothing.
    fn halls(
        &self,
        draft: &mut Draft,
    ) -> (Vec<Option<String>>, BTreeMap<usize, String>, Vec<usize>) {
        let located = self.building.spaces.iter().all(|s| s.at.is_some());
        let mut first_spot = Vec::new();
        let mut spot_of = BTreeMap::new();
        let mut isolated = Vec::new();
        for storey in 0..self.building.storeys.len() {
            let laid = if located {
                self.drawn(storey, &mut isolated)
            } else {
                self.listed(storey)
            };
            first_spot.push(laid.halls.first().map(|h| format!("{}@start", h.id)));
            let spots = laid
                .spots
                .iter()
                .map(|(s, (hall, m))| (*s, spot(&laid.halls, *hall, *m)));
            spot_of.extend(spots);
            draft.links.extend(laid.links);
            draft.halls.extend(laid.halls);
        }
        (first_spot, spot_of, isolated)
    }

    fn floors(&self) -> Vec<Floor> {
        let storeys = &self.building.storeys;
        let floor = |(index, storey): (usize, &super::plan::Storey)| Floor {
            id: storey.name.clone(),
            height_m: storeys
                .get(index + 1)
                .map(|up| up.elevation - storey.elevation)
                .filter(|h| *h > 0.5),
            guessed: false,
        };
        storeys.iter().enumerate().map(floor).collect()
    }

    fn passes(&self, space: usize) -> bool {
        matches!(&self.roles[space], Role::Room(kind) if matches!(kind.as_str(), "corridor" | "lobby" | "stairs"))
            || self.roles[space] == Role::Riser
    }

    /// Halls by where spaces are.
    fn drawn(&self, storey: usize, isolated: &mut Vec<usize>) -> Laid {
        let through = (0..self.building.spaces.len())
            .filter(|s| self.building.spaces[*s].storey == storey && self.passes(*s));
        let mut laid = lay(self.building, storey, &through.collect());
        let landings: BTreeSet<usize> = self
            .building
            .risers
            .iter()
            .flat_map(|r| r.spaces.clone())
            .collect();
        for space in
            (0..self.building.spaces.len()).filter(|s| self.building.spaces[*s].storey == storey)
        {
            let Some((hall, metres)) = laid.spots.get(&space).copied() else {
                // A landing that nothing else of its storey is joined to still joins storeys: a hall of its own.
                if landings.contains(&space) {
                    let (x, y) = self.building.spaces[space].at.unwrap_or_default();
                    let id = format!(
                        "Hall {}-{}",
                        self.building.storeys[storey].name,
                        laid.halls.len() + 1
                    );
                    let form = HallForm::Drawn {
                        line: vec![(x, y), (x + 1.0, y)],
                        places: Vec::new(),
                    };
                    let floor = self.building.storeys[storey].name.clone();
                    laid.spots.insert(space, (laid.halls.len(), 0.0));
                    laid.halls.push(Hall {
                        id,
                        floor,
                        form,
                        guessed: true,
                    });
                    self.put(space, laid.halls.len() - 1, 0.0, &mut laid.halls);
                } else {
                    isolated.push(space);
                }
                continue;
            };
            self.put(space, hall, metres, &mut laid.halls);
        }
        laid
    }

    fn put(&self, space: usize, hall: usize, metres: f64, halls: &mut [Hall]) {
        if self.roles[space] == Role::Riser {
            return;
        }
        if let HallForm::Drawn { places, .. } = &mut halls[hall].form {
            places.push((self.ids[space].clone(), metres));
        }
    }

    /// One hall for a storey, where it is not known where spaces lie: those next to each other by doors side by side.
    fn listed(&self, storey: usize) -> Laid {
        let here: Vec<usize> = (0..self.building.spaces.len())
            .filter(|s| self.building.spaces[*s].storey == storey)
            .collect();
        let mut order: Vec<usize> = here.clone();
        order.sort_by(|a, b| natural(&self.ids[*a], &self.ids[*b]));
        let in_order: Vec<usize> = order
            .into_iter()
            .filter(|s| self.roles[*s] != Role::Riser)
            .collect();
        let mut areas: Vec<f64> = in_order
            .iter()
            .filter_map(|s| self.building.spaces[*s].area)
            .collect();
        areas.sort_by(f64::total_cmp);
        let side = areas
            .get(areas.len() / 2)
            .copied()
            .unwrap_or(USUAL_AREA)
            .sqrt();
        let spacing = (side.round() / 2.0).clamp(1.5, 8.0);
        let floor = self.building.storeys[storey].name.clone();
        let mut laid = Laid::default();
        if in_order.is_empty() {
            return laid;
        }
        for (index, space) in in_order.iter().enumerate() {
            laid.spots
                .insert(*space, (0, (index as f64 + 0.5) * spacing));
        }
        let places = in_order.iter().map(|s| self.ids[*s].clone()).collect();
        let form = HallForm::Listed {
            spacing_m: spacing,
            places,
        };
        laid.halls.push(Hall {
            id: format!("Hall {floor}"),
            floor,
            form,
            guessed: true,
        });
        laid
    }

    fn risers(
        &self,
        first_spot: &[Option<String>],
        spot_of: &BTreeMap<usize, String>,
        draft: &mut Draft,
    ) {
        for (number, riser) in self.building.risers.iter().enumerate() {
            let mut guessed = false;
            let mut landing = |storey: &usize| {
                let own = riser
                    .spaces
                    .iter()
                    .find(|s| self.building.spaces[**s].storey == *storey);
                own.and_then(|s| spot_of.get(s)).cloned().or_else(|| {
                    guessed = true;
                    first_spot[*storey].clone()
                })
            };
            let landings: Vec<String> = riser.storeys.iter().filter_map(&mut landing).collect();
            if landings.len() < 2 {
                continue;
            }
            let own = Some(riser.name.clone()).filter(|name| !name.is_empty());
            let id = own.unwrap_or_else(|| format!("way up {}", number + 1));
            if guessed {
                let message =
                    format!("where `{id}` is entered is not told: the start of the hall is taken");
                self.log
                    .warning("I916", whole(self.file), message, "put its landings right");
            }
            let ways = if riser.is_lift {
                &mut draft.lifts
            } else {
                &mut draft.stairs
            };
            ways.push(Way {
                id,
                landings,
                length_m: None,
                guessed,
            });
        }
        let landings: Vec<String> = first_spot.iter().flatten().cloned().collect();
        if landings.len() > 1 && draft.lifts.is_empty() && draft.stairs.is_empty() {
            draft.stairs.push(Way {
                id: "Stairs".to_string(),
                landings,
                length_m: None,
                guessed: true,
            });
            let message =
                "no stairs and no lift are told: stairs at the start of each hall are taken"
                    .to_string();
            self.log
                .warning("I916", whole(self.file), message, "put them right");
        }
    }

    fn rooms(&self, isolated: &[usize], made: &mut Made) {
        let mut lacking = Vec::new();
        let joined = self
            .building
            .spaces
            .iter()
            .enumerate()
            .filter(|(i, _)| !isolated.contains(i));
        for (index, space) in joined {
            match &self.roles[index] {
                Role::Room(kind) => {
                    let room = self.room(index, kind, &mut lacking);
                    if kind == "restroom" {
                        made.draft.group.push(room.id.clone());
                    }
                    made.rooms.push(room);
                }
                Role::Closet => {
                    let id = self.ids[index].clone();
                    let own = Some(space.name.clone()).filter(|name| !name.is_empty());
                    let name = own.unwrap_or_else(|| id.clone());
                    made.draft.closets.push(Closet {
                        id,
                        name,
                        guessed: true,
                    });
                }
                Role::Riser => {}
            }
        }
        if !lacking.is_empty() {
            let (count, names) = (lacking.len(), named(&lacking));
            let message = format!(
                "{count} spaces have no area: {USUAL_AREA} m2 is taken for rooms, {PASSAGE_AREA} m2 for pieces of corridor: {names}"
            );
            self.log
                .warning("I904", whole(self.file), message, "measure them");
        }
    }

    fn room(&self, index: usize, kind: &str, lacking: &mut Vec<String>) -> Found {
        let space = &self.building.spaces[index];
        let area = space.area.unwrap_or_else(|| {
            lacking.push(label(space));
            if matches!(kind, "corridor" | "stairs") {
                PASSAGE_AREA
            } else {
                USUAL_AREA
            }
        });
        let mut found = Found {
            id: self.ids[index].clone(),
            pos: space.pos,
            ..Found::default()
        };
        if !space.name.is_empty() {
            found.cells.insert("name", space.name.clone());
        }
        found.cells.insert("kind", kind.to_string());
        found.cells.insert("area_m2", short(area));
        let own = self
            .building
            .joins
            .iter()
            .filter(|(a, b, _)| *a == index || *b == index);
        if let Some(width) = own
            .filter_map(|(_, _, width)| *width)
            .max_by(f64::total_cmp)
        {
            found.cells.insert("door_width_m", short(width));
        }
        if kind == "restroom" {
            let message = format!("restroom `{}` has no fixtures in the file", found.id);
            self.log.warning(
                "I917",
                space.pos,
                message,
                "count bowls, basins and dispensers in rooms.csv",
            );
        }
        found
    }

    /// The entrance, and closets: one for the building if a lift takes carts everywhere, one for each storey if not.
    fn places(&self, first_spot: &[Option<String>], made: &mut Made) {
        let storeys = &self.building.storeys;
        let has_hall = |s: &usize| first_spot[*s].is_some();
        let lowest = |a: &usize, b: &usize| {
            storeys[*a]
                .elevation
                .abs()
                .total_cmp(&storeys[*b].elevation.abs())
        };
        let leads_out = self
            .building
            .spaces
            .iter()
            .find(|s| s.leads_out)
            .map(|s| s.storey);
        let ground = leads_out
            .filter(has_hall)
            .or_else(|| (0..storeys.len()).filter(has_hall).min_by(lowest))
            .unwrap_or(0);
        made.draft.places.push(Place {
            id: ENTRANCE.to_string(),
            name: "Main entrance".to_string(),
            guessed: true,
        });
        put_first(&mut made.draft.halls, &storeys[ground].name, ENTRANCE);
        let carts_stay = made.draft.lifts.is_empty() && storeys.len() > 1;
        for storey in (0..storeys.len()).filter(has_hall) {
            let own = self.closet_on(storey);
            let needed = if carts_stay {
                own.is_none()
            } else {
                storey == ground && made.draft.closets.is_empty()
            };
            let floor = &storeys[storey].name;
            let id = own.unwrap_or_else(|| format!("closet {floor}"));
            if needed {
                let name = format!("Closet, floor {floor}");
                made.draft.closets.push(Closet {
                    id: id.clone(),
                    name,
                    guessed: true,
                });
                put_first(&mut made.draft.halls, floor, &id);
            }
            if carts_stay {
                made.starts.push((floor.clone(), id));
            }
        }
        if carts_stay {
            let note = "No lift is told, and carts never take stairs: each floor has a closet, a cart and people of its own.";
            made.draft.notes.push(note.to_string());
            let message = "no lift is told: each floor gets a closet, a cart and people of its own"
                .to_string();
            self.log.warning(
                "I918",
                whole(self.file),
                message,
                "if there is a lift, add it under `lifts`",
            );
        }
    }

    fn closet_on(&self, storey: usize) -> Option<String> {
        let mut spaces = self.building.spaces.iter().enumerate();
        let found = spaces.find(|(i, s)| s.storey == storey && self.roles[*i] == Role::Closet);
        found.map(|(index, _)| self.ids[index].clone())
    }

    /// Parts of the building that no hall, link or way joins get a link, so that everything can be reached.
    fn join_parts(&self, draft: &mut Draft) {
        let hall_of = |landing: &str| {
            landing
                .rsplit_once('@')
                .map(|(hall, _)| hall.to_string())
                .unwrap_or_default()
        };
        let mut part: BTreeMap<String, usize> = draft
            .halls
            .iter()
            .enumerate()
            .map(|(i, h)| (h.id.clone(), i))
            .collect();
        let ways = draft.links.iter().chain(&draft.stairs).chain(&draft.lifts);
        for way in ways {
            let parts: Vec<usize> = way
                .landings
                .iter()
                .filter_map(|l| part.get(&hall_of(l)).copied())
                .collect();
            if let Some(least) = parts.iter().min().copied() {
                part.values_mut()
                    .filter(|p| parts.contains(p))
                    .for_each(|p| *p = least);
            }
        }
        let home = draft
            .halls
            .iter()
            .find(|h| places_of(h).contains(&ENTRANCE.to_string()))
            .map(|h| h.id.clone())
            .unwrap_or_default();
        let mut joined = BTreeSet::from([part.get(&home).copied().unwrap_or(0)]);
        for hall in draft.halls.clone() {
            if !joined.insert(part[&hall.id]) {
                continue;
            }
            let near = draft.halls.iter().find(|h| {
                h.floor == hall.floor
                    && h.id != hall.id
                    && joined.contains(&part[&h.id])
                    && part[&h.id] != part[&hall.id]
            });
            let from = near.map_or(home.clone(), |h| h.id.clone());
            let message = format!(
                "nothing joins `{}` to the rest: a link of {BETWEEN_PARTS} m from `{from}` is taken",
                hall.id
            );
            self.log.warning(
                "I919",
                whole(self.file),
                message,
                "put it right, or take these rooms out",
            );
            draft.links.push(Way {
                id: format!("to {}", hall.id),
                landings: vec![format!("{from}@start"), format!("{}@start", hall.id)],
                length_m: Some(BETWEEN_PARTS),
                guessed: true,
            });
        }
    }
}

fn places_of(hall: &Hall) -> Vec<String> {
    match &hall.form {
        HallForm::Listed { places, .. } => places.clone(),
        HallForm::Drawn { places, .. } => places.iter().map(|(id, _)| id.clone()).collect(),
    }
}

/// Puts a place at the start of the first hall of a floor.
fn put_first(halls: &mut [Hall], floor: &str, id: &str) {
    match halls
        .iter_mut()
        .find(|h| h.floor == floor)
        .map(|h| &mut h.form)
    {
        Some(HallForm::Listed { places, .. }) => places.insert(0, id.to_string()),
        Some(HallForm::Drawn { places, .. }) => places.insert(0, (id.to_string(), 0.0)),
        None => {}
    }
}

/// The people: as many as the work asks for, at the entrance, or on each floor where carts cannot leave it.
pub(super) fn crew(starts: &[(String, String)], site: &Site) -> Vec<Hand> {
    if starts.is_empty() {
        return crew_for(hands(site, &|_| true), ENTRANCE);
    }
    let mut crew = Vec::new();
    for (floor, start) in starts {
        let on_floor = |room: usize| {
            let hall = site.places[room].spot.hall;
            site.floors[site.halls[hall.index()].floor.index()].id == *floor
        };
        crew.extend(crew_for(hands(site, &on_floor), start));
    }
    numbered(crew)
}

fn numbered(mut crew: Vec<Hand>) -> Vec<Hand> {
    for (index, hand) in crew.iter_mut().enumerate() {
        hand.name = format!("Person {}", index + 1);
    }
    crew
}

/// People to read the site with before it is known how many there are.
pub(super) fn first_crew(made: &mut Made) {
    let starts = made.starts.iter().map(|(_, start)| start.as_str());
    let starts: Vec<&str> = if made.starts.is_empty() {
        vec![ENTRANCE]
    } else {
        starts.collect()
    };
    made.draft.crew = numbered(starts.iter().flat_map(|start| crew_for(1, start)).collect());
}
