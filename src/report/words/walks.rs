//! A walk in words, for people who know the building: "left along 2-East 18 m, lift to G, along G-East 6 m to G12".

use super::Words;
use crate::site::{Side, Site, Spot};
use crate::walk::{Path, Step, Turn, is_across, steps};

impl Words {
    /// The whole walk. Lengths are rounded to whole ones; what rounds to none is left out. Staying is "stay".
    ///
    /// Left and right are said where the site gives the side of the hall that the door or landing is on.
    pub fn walk(&self, site: &Site, path: &Path) -> String {
        if path.from == path.to {
            return self.say("walk-stay");
        }
        let end = site.places[path.to.index()].name.as_str();
        let legs: Vec<String> = steps(site, path)
            .iter()
            .filter_map(|step| self.step(site, step))
            .collect();
        match legs.is_empty() {
            true if is_across(site, path) => self.tell("walk-across", &[("end", end.into())]),
            true => self.tell("walk-near", &[("end", end.into())]),
            false => self.tell(
                "walk-legs",
                &[("legs", legs.join(", ").into()), ("end", end.into())],
            ),
        }
    }

    fn step(&self, site: &Site, step: &Step) -> Option<String> {
        let hall_name = |hall: crate::site::HallId| site.halls[hall.index()].id.as_str();
        match step {
            Step::Along { hall, length, turn } => {
                let id = match turn {
                    Turn::Left => "walk-left",
                    Turn::Right => "walk-right",
                    Turn::None => "walk-along",
                };
                let length = self.length(*length)?;
                let about = [("hall", hall_name(*hall).into()), ("length", length.into())];
                Some(self.tell(id, &about))
            }
            Step::Way {
                way,
                to_hall,
                to_floor,
                length,
            } => {
                let end = match to_floor {
                    Some(floor) => site.floors[floor.index()].id.as_str(),
                    None => hall_name(*to_hall),
                };
                let named = ("way", site.ways[*way].id.as_str().into());
                match length {
                    None => Some(self.tell("walk-way", &[named, ("end", end.into())])),
                    Some(length) => {
                        let length = self.length(*length)?;
                        let about = [named, ("length", length.into()), ("end", end.into())];
                        Some(self.tell("walk-level", &about))
                    }
                }
            }
        }
    }

    /// Where a door is: "2-East, left, 18 m from its start".
    pub(in crate::report) fn spot(&self, site: &Site, spot: Spot) -> String {
        let hall = &site.halls[spot.hall.index()];
        let id = match spot.side {
            Side::Left => "spot-left",
            Side::Right => "spot-right",
            Side::Ahead if spot.along.0 <= 0.0 => {
                return self.tell("spot-start", &[("hall", hall.id.as_str().into())]);
            }
            Side::Ahead if spot.along >= hall.length => {
                return self.tell("spot-end", &[("hall", hall.id.as_str().into())]);
            }
            Side::Ahead => return hall.id.clone(),
        };
        let length = self.length(spot.along).unwrap_or_else(|| "0".into());
        self.tell(
            id,
            &[("hall", hall.id.as_str().into()), ("length", length.into())],
        )
    }
}
