//! Small buildings in a few lines of code: storeys with a hall each, one above the other.

use evenrun::site::{
    Closet, Door, Floor, FloorId, Hall, HallId, KindId, Method, Moves, Place, Rate, Room, RoomKind,
    Side, Site, Spot, Task, Way, WayKind, Weekdays, Worker,
};
use evenrun::units::{Clock, Metres, Seconds, Span, SquareMetres};

/// A building under construction. Rooms, closets and places may be added in any order.
pub(crate) struct Sketch {
    site: Site,
    closets: Vec<Place>,
    places: Vec<Place>,
}

impl Sketch {
    /// Storeys with a hall of `length` metres each, stairs at the halls' starts, and an entrance there on the lowest.
    pub(crate) fn of_storeys(storeys: usize, length: f64) -> Sketch {
        let mut site = Site {
            name: "Sketch".to_string(),
            ..Site::default()
        };
        for storey in 0..storeys {
            site.floors.push(Floor {
                id: storey.to_string(),
                elevation: Metres(storey as f64 * 3.5),
            });
            site.halls.push(Hall {
                id: format!("hall {storey}"),
                floor: FloorId::from(storey),
                length: Metres(length),
                line: None,
                doors: Vec::new(),
            });
        }
        let mut sketch = Sketch {
            site,
            closets: Vec::new(),
            places: Vec::new(),
        };
        if storeys > 1 {
            let steps = WayKind::Stairs {
                steps: vec![20; storeys - 1],
                rise: Metres(0.175),
                tread: Metres(0.28),
            };
            sketch.way("stairs", steps, 0.0, None);
        }
        sketch.place("entrance", 0, 0.0);
        sketch
    }

    /// A way that meets every hall at the same distance.
    pub(crate) fn way(&mut self, id: &str, kind: WayKind, along: f64, door: Option<Door>) {
        let landings = (0..self.site.halls.len()).map(|hall| spot(hall, along));
        let landings = landings.collect();
        self.site.ways.push(Way {
            id: id.to_string(),
            kind,
            landings,
            door,
        });
    }

    /// A lift at the far ends of the halls.
    pub(crate) fn lift(&mut self) {
        let lift = WayKind::Lift {
            wait: Seconds(20),
            per_floor: Seconds(5),
            boarding: Seconds(8),
        };
        let end = self.site.halls[0].length.0;
        self.way("lift", lift, end, None);
    }

    /// A room, by id.
    pub(crate) fn room(&mut self, storey: usize, along: f64, room: Room) {
        self.site.places.push(place(&room.id, storey, along));
        self.site.rooms.push(room);
    }

    /// A closet with water and a waste point.
    pub(crate) fn closet(&mut self, id: &str, storey: usize, along: f64) {
        self.closets.push(place(id, storey, along));
        self.site.closets.push(Closet {
            fill_point: true,
            waste_point: true,
            supplies: Vec::new(),
        });
    }

    /// Another place.
    pub(crate) fn place(&mut self, id: &str, storey: usize, along: f64) {
        self.places.push(place(id, storey, along));
    }

    /// A kind of room.
    pub(crate) fn kind(&mut self, id: &str, tasks: Vec<Task>) -> KindId {
        self.site.kinds.push(RoomKind {
            id: id.to_string(),
            tasks,
            ..RoomKind::default()
        });
        KindId::from(self.site.kinds.len() - 1)
    }

    /// A kind of room as it is.
    pub(crate) fn kind_of(&mut self, kind: RoomKind) {
        self.site.kinds.push(kind);
    }

    /// The building, still without a crew.
    pub(crate) fn built(mut self) -> Site {
        self.site.places.extend(self.closets);
        self.site.places.extend(self.places);
        self.site
    }
}

fn spot(hall: usize, along: f64) -> Spot {
    Spot {
        hall: HallId::from(hall),
        along: Metres(along),
        side: Side::Left,
    }
}

fn place(id: &str, storey: usize, along: f64) -> Place {
    Place {
        id: id.to_string(),
        name: id.to_string(),
        spot: spot(storey, along),
        door: None,
        break_place: false,
    }
}

/// A room of a kind and area.
pub(crate) fn room(id: &str, kind: KindId, area: f64) -> Room {
    Room {
        id: id.to_string(),
        name: id.to_string(),
        kind,
        area: SquareMetres(area),
        ..Room::default()
    }
}

/// A daily task of so many minutes a square metre.
pub(crate) fn task(name: &str, method: Method, minutes: f64) -> Task {
    Task {
        name: name.to_string(),
        minutes,
        rate: Rate::SquareMetre,
        method,
        ..Task::default()
    }
}

/// Somebody on foot who starts at the entrance, every day from one minute since midnight to another.
pub(crate) fn worker(site: &Site, name: &str, from: i64, to: i64) -> Worker {
    Worker {
        name: name.to_string(),
        shift: Span::new(Clock(from * 60), Clock(to * 60)),
        days: Weekdays::ALL,
        pace: 1.0,
        start: site.place_named("entrance").expect("every sketch has one"),
        skills: Vec::new(),
        access: Vec::new(),
        moves: Moves::Foot,
        stairs: true,
        heavy: true,
        breaks: Vec::new(),
    }
}
